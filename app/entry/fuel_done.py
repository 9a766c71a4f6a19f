"""Ageing fuel was seen to: what was done with it is asked, or its task would stay overdue.

The one place that asks, whichever way the work was ticked: by itself, on a sheet, in a run of
putting away or getting out.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date

from app.entry.fuel_forms import FILL, REFILL
from app.entry.questions import Made, Questions, Wish
from app.hub import Hub
from app.pieces.asked import choice
from app.wording.languages import msg
from app.wording.wording import Wording
from models.acts.fuel import Drain, LookAtFuel
from models.acts.run_sheets import EnterRunSheet
from models.acts.runs import FinishRun
from models.acts.sheets import EnterSheet, read_lines, sheet_of
from models.acts.work import RecordWork
from models.changes import Area, Changes
from models.facts.runs import read_runs
from models.words import LineOutcome, StepAnswer
from models.writer import Act
from schedules.facts import Band, Gone, Look, TaskCode, VesselSort, VesselVerdict
from schedules.plan import Judging

KEY = "fuel_done"
ELSE = "else"
_DONE = (LineOutcome.DONE, LineOutcome.REPLACED)
_FINE = (Band.GOOD, Band.USE_FIRST)

Tasks = dict[int, set[str]]


@dataclass(slots=True, kw_only=True)
class FuelDone:
    """What is still to be asked of fuel, machine by machine. `form`: the whole fuel form of a
    machine, begun with what most likely happened."""

    hub: Hub
    words: Wording
    judged: Callable[[int], Judging | None]
    form: Callable[[Judging, str, date], Made]
    _open: dict[int, tuple[date, frozenset[str]]] = field(
        default_factory=dict[int, tuple[date, frozenset[str]]]
    )

    # -- what was done -------------------------------------------------------------------------

    def note(self, act: Act, changes: Changes) -> None:
        """An act was kept: whose work it says is done is asked about later."""
        match act:
            case RecordWork() | EnterSheet() | FinishRun() | EnterRunSheet():
                for number, codes in self._tasks(act, changes).items():
                    self._open[number] = (act.day, frozenset(codes))
            case _:
                pass

    def _tasks(
        self, act: RecordWork | EnterSheet | FinishRun | EnterRunSheet, changes: Changes
    ) -> Tasks:
        """The tasks that an act says are done, by machine."""
        done: Tasks = {}
        match act:
            case RecordWork():
                _add(done, act.machine_id, _ticked(act))
            case EnterSheet():
                left = {each.place for each in act.exceptions if each.outcome not in _DONE}
                with self.hub.read() as session:
                    lines = read_lines(sheet_of(session, act.number).lines)
                for place, line in enumerate(lines):
                    if place not in left:
                        _add(done, line.machine_id, line.tasks)
            case FinishRun():
                self._add_runs(done, {act.run_id})
            case EnterRunSheet():
                for work in act.work:
                    _add(done, work.machine_id, _ticked(work))
                if act.finish is not None:
                    self._add_runs(done, {no for area, no in changes.ids if area is Area.RUNS})
        return done

    def _add_runs(self, done: Tasks, runs: set[int]) -> None:
        with self.hub.read() as session:
            found = read_runs(session, only=runs)
        for step in (step for run in found for step in run.steps):
            if step.answer is StepAnswer.DONE:
                for number in step.machine_ids:
                    _add(done, int(number), step.tasks)

    # -- asking --------------------------------------------------------------------------------

    def next(self) -> Wish | None:
        """The question about the next machine whose tank held old fuel by what was entered."""
        while self._open:
            number = next(iter(self._open))
            day, codes = self._open.pop(number)
            judging = self.judged(number)
            if judging is None:
                continue
            tank, tasks = _old_tank(judging), judging.verdict.tasks
            dated = {str(one.code) for one in tasks if judging.task(one.code).rule.fuel_age}
            if tank is not None and codes & dated:
                return self._about(judging, tank, day)
        return None

    def _about(self, judging: Judging, tank: VesselVerdict, day: date) -> Wish:
        words = self.words
        ways = (
            (str(Gone.BURNT), msg("It was run until nothing was left")),
            (str(Gone.DRAINED), msg("Taken out, and kept or used elsewhere")),
            (str(Gone.DISPOSED), msg("Taken out, and to a collection point")),
            (REFILL, msg("Taken out, and fresh put in")),
            (str(Look.SHARP_CLEAR), msg("Looked and smelled: sharp and clear, so it stayed")),
            (ELSE, msg("Something else, like fresh on top")),
        )
        page = Questions(words).ways(
            KEY,
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
            if way in (ELSE, REFILL):
                return self.form(judging, FILL if way == ELSE else way, day)
            if way == Look.SHARP_CLEAR:
                return LookAtFuel(vessel_id=number, day=day, look=Look.SHARP_CLEAR)
            return Drain(vessel_id=number, day=day, gone=Gone(way))

        return Wish(page, make)


def _add(done: Tasks, number: int, codes: Iterable[str | TaskCode]) -> None:
    done.setdefault(number, set()).update(str(code) for code in codes)


def _ticked(act: RecordWork) -> list[str]:
    return [line.task for line in act.lines if line.outcome in _DONE and line.task]


def _old_tank(judging: Judging) -> VesselVerdict | None:
    tanks = (one for one in judging.verdict.fuel if one.sort is VesselSort.TANK and one.lots)
    return next((one for one in tanks if one.band not in _FINE), None)
