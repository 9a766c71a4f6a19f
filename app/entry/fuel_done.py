"""Fuel was seen to: what is in the tank now is asked, or its task would stay overdue.

The one place that asks, whichever way it was told: as work, on a sheet, in a run of putting away or
getting out, as a cure that a search for a fault named.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date

from app.entry.fuel_forms import FILL, LEVEL, REFILL
from app.entry.questions import Made, Questions, Wish
from app.hub import Hub
from app.pieces.asked import choice
from app.wording.languages import msg
from app.wording.wording import Wording
from models.acts.fault_sheets import EnterFaultSheet, printed_steps
from models.acts.fuel import Drain, LookAtFuel
from models.acts.run_sheets import EnterRunSheet
from models.acts.runs import FinishRun
from models.acts.searches import CloseSearch, TryCure
from models.acts.sheets import EnterSheet, read_lines, sheet_of
from models.acts.work import RecordWork
from models.changes import Area, Changes
from models.facts.runs import read_runs
from models.facts.searches import Search, read_searches
from models.words import LineOutcome, SearchDoing, SearchEnd, StepAnswer
from models.writer import Act
from schedules.facts import Band, Gone, Look, LotFacts, TaskCode, VesselSort, VesselVerdict
from schedules.fault_facts import CauseId, Cure, SymptomId
from schedules.plan import Judging

KEY = "fuel_done"
ELSE = "else"
_WELL = (SearchEnd.CURED, SearchEnd.WORKS)
_DONE = (LineOutcome.DONE, LineOutcome.REPLACED)
_FINE = (Band.GOOD, Band.USE_FIRST)

Tasks = dict[int, set[str]]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Told:
    """What was told of a machine: the tasks that are done, or that its tank holds other fuel."""

    day: date
    codes: frozenset[str] = frozenset()
    refuelled: bool = False


@dataclass(slots=True, kw_only=True)
class FuelDone:
    """What is still to be asked of fuel, machine by machine. `form`: the whole fuel form of a
    machine, begun with what most likely happened."""

    hub: Hub
    words: Wording
    judged: Callable[[int], Judging | None]
    form: Callable[[Judging, str, date], Made]
    _open: dict[int, _Told] = field(default_factory=dict[int, "_Told"])

    # -- what was done -------------------------------------------------------------------------

    def note(self, act: Act, changes: Changes) -> None:
        """An act was kept: whose work it says is done is asked about later."""
        match act:
            case RecordWork() | EnterSheet() | FinishRun() | EnterRunSheet():
                for number, codes in self._tasks(act, changes).items():
                    self._open[number] = _Told(day=act.day, codes=frozenset(codes))
            case TryCure() | CloseSearch() | EnterFaultSheet():
                found = self._refuelled(act, changes)
                if found is not None:
                    self._open[found[0]] = _Told(day=found[1], refuelled=True)
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

    def _refuelled(
        self, act: TryCure | CloseSearch | EnterFaultSheet, changes: Changes
    ) -> tuple[int, date] | None:
        """The machine whose tank holds other fuel after a cure that was done, and the day."""
        from resources.own_faults import faults_beside  # nothing else here needs the models

        models = faults_beside(self.hub.household.path).models.models
        if isinstance(act, EnterFaultSheet):
            with self.hub.read() as session:
                steps = printed_steps(sheet_of(session, act.number).lines)
            done = [steps[place] for place, _outcome in act.seen]
            cures = [
                models[SymptomId(one.symptom)].cause(CauseId(one.subject)).cures[one.place]
                for one in done
                if one.place is not None
            ]
            number = done[0].machine_id if done else 0
            return (number, act.day) if any(cure.new_fuel for cure in cures) else None
        number = next((no for area, no in changes.ids if area is Area.MACHINES), 0)
        with self.hub.read() as session:
            searches = read_searches(session, on=act.on, machine_id=number)
        search = next((one for one in searches if one.search_id == act.search_id), None)
        if search is None or act.cause is None or SymptomId(search.symptom) not in models:
            return None
        cures = models[SymptomId(search.symptom)].cause(CauseId(act.cause)).cures
        if isinstance(act, TryCure):
            done_with = cures[act.place].new_fuel
        else:
            done_with = act.ending in _WELL and _helped(search, act.cause, cures).new_fuel
        return (number, act.on) if done_with else None

    # -- asking --------------------------------------------------------------------------------

    def next(self) -> Wish | None:
        """The question about the next machine whose tank held old fuel by what was entered."""
        while self._open:
            number = next(iter(self._open))
            told = self._open.pop(number)
            judging = self.judged(number)
            tank = None if judging is None else _tank(judging)
            if judging is None or tank is None:
                continue
            if told.refuelled:
                if not _entered(judging, tank, told.day):
                    return self._new_fuel(judging, told.day)
                continue
            dated = {
                str(one.code)
                for one in judging.verdict.tasks
                if judging.task(one.code).rule.fuel_age
            }
            came = [lot.since for lot in _lots(judging, tank)]
            there = any(day is None or day <= told.day for day in came)
            if there and tank.band not in _FINE and told.codes & dated:
                return self._about(judging, tank, told.day)
        return None

    def _new_fuel(self, judging: Judging, day: date) -> Wish:
        """What a cure put into the tank."""
        words = self.words
        ways = (
            (REFILL, msg("Emptied, and fresh put in")),
            (FILL, msg("Fresh on top of what was in it")),
            (LEVEL, msg("Something else")),
        )
        page = Questions(words).ways(
            KEY,
            msg("What is in the tank now?"),
            tuple((key, words.text(text)) for key, text in ways),
            lead=words.text(
                msg("That changed what is in the tank of {machine}."), machine=judging.facts.name
            ),
        )
        return Wish(page, lambda answers: self.form(judging, choice(answers, "way"), day))

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


def _tank(judging: Judging) -> VesselVerdict | None:
    """The tank with the worst fuel in it; what is empty comes last."""
    tanks = [one for one in judging.verdict.fuel if one.sort is VesselSort.TANK]
    return min(tanks, key=lambda one: (not one.lots, one.band in _FINE), default=None)


def _entered(judging: Judging, tank: VesselVerdict, day: date) -> bool:
    """Whether it was told already what came into the tank on that day."""
    return any(lot.since == day and lot.bought_on is not None for lot in _lots(judging, tank))


def _lots(judging: Judging, tank: VesselVerdict) -> tuple[LotFacts, ...]:
    """What is in the tank, with the day each came into it."""
    facts = next(one for one in judging.facts.vessels if one.vessel_id == tank.vessel_id)
    return facts.lots


def _helped(search: Search, cause: str, cures: tuple[Cure, ...]) -> Cure:
    """The cure that put it right: the one that helped, else the first that is tried."""
    for step in search.standing:
        if step.doing is SearchDoing.CURED and step.subject == cause:
            return cures[step.place]
    return cures[0]
