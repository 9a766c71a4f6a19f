"""Ageing fuel was seen to: what was done with it is asked, or its task would stay overdue."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from app.entry.questions import Made, Questions, Wish
from app.pieces.asked import choice
from app.wording.languages import msg
from app.wording.wording import Wording
from models.acts.fuel import Drain, LookAtFuel
from models.acts.work import RecordWork
from models.words import LineOutcome
from models.writer import Act
from schedules.facts import Band, Gone, Look, VesselSort, VesselVerdict
from schedules.plan import Judging

ELSE = "else"
_DONE = (LineOutcome.DONE, LineOutcome.REPLACED)
_FINE = (Band.GOOD, Band.USE_FIRST)


def about_fuel_done(
    act: Act, judging: Judging | None, words: Wording, *, form: Callable[[Judging], Made]
) -> Wish | None:
    """The question, where the work names the task of ageing fuel and old fuel was in the tank by
    what was entered. `form`: the whole form, for whatever else was done."""
    if judging is None or not isinstance(act, RecordWork):
        return None
    tank = _old_tank(judging)
    codes = {line.task for line in act.lines if line.outcome in _DONE}
    dated = {str(one.code) for one in judging.verdict.tasks if judging.task(one.code).rule.fuel_age}
    if tank is None or not codes & dated:
        return None
    ways = (
        (str(Gone.BURNT), msg("It was run until nothing was left")),
        (str(Gone.DRAINED), msg("Taken out, and kept or used elsewhere")),
        (str(Gone.DISPOSED), msg("Taken out, and to a collection point")),
        (str(Look.SHARP_CLEAR), msg("Looked and smelled: sharp and clear, so it stayed")),
        (ELSE, msg("Something else, like fresh on top")),
    )
    page = Questions(words).ways(
        "fuel_done",
        msg("What was done with the fuel?"),
        tuple((key, words.text(text)) for key, text in ways),
        lead=words.text(
            msg("{volume} should be in the tank of {machine}, and it is old."),
            volume=words.litres(tank.volume_ul),
            machine=judging.facts.name,
        ),
    )
    number, day = int(tank.vessel_id), act.day

    def make(answers: Mapping[str, object]) -> Made:
        way = choice(answers, "way")
        if way == ELSE:
            return form(judging)
        if way == Look.SHARP_CLEAR:
            return LookAtFuel(vessel_id=number, day=day, look=Look.SHARP_CLEAR)
        return Drain(vessel_id=number, day=day, gone=Gone(way))

    return Wish(page, make)


def _old_tank(judging: Judging) -> VesselVerdict | None:
    tanks = (one for one in judging.verdict.fuel if one.sort is VesselSort.TANK and one.lots)
    return next((one for one in tanks if one.band not in _FINE), None)
