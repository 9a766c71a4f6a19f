"""Ageing fuel was seen to: what was done with it is asked, or its task would stay overdue."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from datetime import date
from functools import partial

from app.entry.questions import Made, Questions, Wish
from app.pieces.asked import choice
from app.wording.languages import msg
from app.wording.wording import Wording
from models.acts.fuel import Drain, LookAtFuel
from models.acts.sheets import EnterSheet, SheetLine
from models.acts.work import RecordWork
from models.changes import Changes
from models.words import LineOutcome
from models.writer import Act
from schedules.facts import Band, Gone, Look, VesselSort, VesselVerdict
from schedules.plan import Judging

ELSE = "else"
_DONE = (LineOutcome.DONE, LineOutcome.REPLACED)
_FINE = (Band.GOOD, Band.USE_FIRST)


def tasks_done(
    act: Act, on_sheet: Callable[[int], tuple[SheetLine, ...]]
) -> Mapping[int, frozenset[str]]:
    """The tasks that an act says are done, by machine. `on_sheet`: what a sheet of that number
    had to tick."""
    match act:
        case RecordWork():
            codes = (line.task for line in act.lines if line.outcome in _DONE)
            return {act.machine_id: frozenset(code for code in codes if code)}
        case EnterSheet():
            left = {each.place for each in act.exceptions if each.outcome not in _DONE}
            found: dict[int, frozenset[str]] = {}
            for place, line in enumerate(on_sheet(act.number)):
                if place not in left and line.tasks:
                    before = found.get(line.machine_id, frozenset())
                    found[line.machine_id] = before.union(line.tasks)
            return found
        case _:
            return {}


def about_fuel_done(
    done: Mapping[int, frozenset[str]],
    judged: Callable[[int], Judging | None],
    words: Wording,
    *,
    day: date,
    form: Callable[[Judging], Made],
) -> Wish | None:
    """The question, where the work names the task of ageing fuel and old fuel was in the tank by
    what was entered; one machine after the other. `form`: the whole form, for whatever else was
    done."""
    left = dict(done)
    while left:
        number = next(iter(left))
        codes, judging = left.pop(number), judged(number)
        if judging is None:
            continue
        tank = _old_tank(judging)
        tasks = judging.verdict.tasks
        dated = {str(one.code) for one in tasks if judging.task(one.code).rule.fuel_age}
        if tank is not None and codes & dated:
            rest = partial(about_fuel_done, left, judged, words, day=day, form=form)
            return _about(judging, tank, words, day=day, form=form, then=partial(_asked, rest))
    return None


def _asked(rest: Callable[[], Wish | None], _changes: Changes) -> Wish | None:
    return rest()


def _about(
    judging: Judging,
    tank: VesselVerdict,
    words: Wording,
    *,
    day: date,
    form: Callable[[Judging], Made],
    then: Callable[[Changes], Wish | None],
) -> Wish:
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
    number = int(tank.vessel_id)

    def make(answers: Mapping[str, object]) -> Made:
        way = choice(answers, "way")
        if way == ELSE:
            made = form(judging)
            return replace(made, then=then) if isinstance(made, Wish) else made
        if way == Look.SHARP_CLEAR:
            return LookAtFuel(vessel_id=number, day=day, look=Look.SHARP_CLEAR)
        return Drain(vessel_id=number, day=day, gone=Gone(way))

    return Wish(page, make, then=then)


def _old_tank(judging: Judging) -> VesselVerdict | None:
    tanks = (one for one in judging.verdict.fuel if one.sort is VesselSort.TANK and one.lots)
    return next((one for one in tanks if one.band not in _FINE), None)
