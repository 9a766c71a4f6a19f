"""What the season room shows, put into words. No Qt, no file."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from app.fleet.names import plain_name
from app.season.figures import asked_figures
from app.season.laying import MANY_UNKNOWN, Row, Wanted
from app.season.started import complaints
from app.season.state import (
    LooseLine,
    MachineLine,
    Option,
    RailLine,
    RailMark,
    RunLine,
    SeasonCard,
    SeasonState,
)
from app.wording.languages import msg
from app.wording.sittings import GROUNDS, ROUTE_WHYS, SittingWords
from models.facts.runs import LeftOffFacts, RunFacts, RunStepFacts
from models.words import StepAnswer
from schedules.facts import MachineId
from schedules.sitting_facts import FuelRoute, Ground, LeftCode, RunSort

SLEEPS: Mapping[str, str] = {
    "14": msg("two weeks"),
    "30": msg("a month"),
    "91": msg("three months"),
    "182": msg("half a year"),
    "400": msg("over a year"),
}
EMPTY: Mapping[RunSort, str] = {
    RunSort.PUTTING_AWAY: msg("Every machine is put away."),
    RunSort.GETTING_OUT: msg("No machine is put away."),
    RunSort.GOING_OVER: msg("There is no machine to go over."),
}
PLACES: Mapping[str, frozenset[Ground]] = {
    "dry": frozenset(),
    "damp": frozenset({Ground.DAMP}),
    "frost": frozenset({Ground.FROST}),
    "frost damp": frozenset({Ground.FROST, Ground.DAMP}),
    "heated": frozenset({Ground.HEATED}),
}
# What is taken off and put somewhere; a valve that is shut hangs nowhere.
HANGS = frozenset(
    {"key-out", "pack-out", "blade-off", "plug-out", "cover-open", "hoses-off", "casing-open"}
)
_MARKS = {
    StepAnswer.DONE: RailMark.DONE,
    StepAnswer.NOT_APPLICABLE: RailMark.NOT_FOR_IT,
    StepAnswer.CANNOT: RailMark.CANNOT,
    StepAnswer.FAULT: RailMark.FAULT,
}


def decided(wanted: Wanted, name: str, value: str) -> Wanted:
    """What is wanted of a machine, with one of its options decided anew."""
    match name:
        case "sleep":
            return replace(wanted, sleep_days=int(value) if value else None)
        case "where":
            return replace(wanted, grounds=PLACES[value])
        case _:
            return replace(wanted, route=FuelRoute(value))


@dataclass(frozen=True, slots=True, kw_only=True)
class SeasonPicture:
    """Puts the machines of a day, or one run, into words."""

    said: SittingWords
    row: Row
    can_write: bool = True

    def _text(self, msgid: str, **values: object) -> str:
        return self.said.words.text(msgid, **values)

    def name(self, number: MachineId) -> str:
        """The machine's name; a number nobody knows any more has none."""
        judging = self.row.machines.get(number)
        return "" if judging is None else plain_name(judging.facts.name)

    def names(self, numbers: Sequence[MachineId]) -> str:
        """Several machines in one line."""
        return self.said.words.listed([self.name(number) for number in numbers])

    # -- choosing ------------------------------------------------------------------------------

    def choosing(
        self,
        sort: RunSort,
        wanted: Mapping[MachineId, Wanted],
        runs: Sequence[RunFacts],
        *,
        day_only: bool = False,
        notice: str = "",
    ) -> SeasonState:
        """The machines, those suggested first, and what was begun."""
        busy = {one.machine_id for run in runs for one in run.machines}
        free = [n for n in self.row.machines if n not in busy and self.row.can(sort, n)]
        lines = [self._machine(sort, number, wanted.get(number)) for number in free]
        lines.sort(key=lambda line: not line.why)
        return SeasonState(
            title=self._text(msg("Put away, get out, go over")),
            second=self._text(
                msg("One list, in the order that works. Each tick is kept the moment you make it.")
            ),
            sort=sort.value,
            can_write=self.can_write,
            notice=notice,
            machines=tuple(lines),
            runs=tuple(self._run(run) for run in runs),
            empty="" if lines else self._text(EMPTY[sort]),
            total=self._chosen(wanted),
            day_only=day_only if sort is RunSort.GETTING_OUT else None,
        )

    def _chosen(self, wanted: Mapping[MachineId, Wanted]) -> str:
        count = self.said.words.count
        if not wanted:
            return self._text(msg("Choose one machine, or the whole row."))
        return count(msg("{n} machine chosen"), msg("{n} machines chosen"), len(wanted))

    def _run(self, run: RunFacts) -> RunLine:
        step = len(run.steps) - len(run.remaining) + 1
        second = self._text(
            msg("begun on {day}, step {step} of {all}"),
            day=self.said.words.day(run.begun_on),
            step=min(step, len(run.steps)),
            all=len(run.steps),
        )
        if run.waits_for:
            waits = self._text(msg("on the bench, waiting for: {what}"), what=run.waits_for)
            second = f"{second} · {waits}"
        who = self.names([one.machine_id for one in run.machines])
        text = self._text(msg("{what}: {machines}"), what=self.said.sort(run.sort), machines=who)
        return RunLine(run_id=run.run_id, text=text, second=second)

    def _machine(self, sort: RunSort, number: MachineId, wanted: Wanted | None) -> MachineLine:
        facts = self.row.machines[number].facts
        words = self.said.words
        why, asks = self._why(sort, number)
        options: tuple[Option, ...] = ()
        if wanted is not None and sort is RunSort.PUTTING_AWAY:
            options = (self._sleep(wanted), self._where(wanted), *self._fuel(wanted))
        return MachineLine(
            machine_id=number,
            icon=facts.kind.icon,
            name=plain_name(facts.name),
            second=" · ".join(part for part in (words.kind(facts.kind.code), facts.place) if part),
            why=why,
            chosen=wanted is not None,
            asks=asks,
            options=options,
        )

    def _why(self, sort: RunSort, number: MachineId) -> tuple[str, bool]:
        """Why it is suggested ("" when it is not), and whether *not yet* answers it."""
        if sort is RunSort.PUTTING_AWAY:
            found = self.row.last_one(number)
            return ("", False) if found is None else (self.said.last_one(found), True)
        if sort is RunSort.GETTING_OUT:
            return self._season(number), False
        unknown = self.row.not_known(number)
        if unknown < MANY_UNKNOWN:
            return "", False
        count = self.said.words.count
        one, many = msg("Nobody knows about {n} job."), msg("Nobody knows about {n} of its jobs.")
        return count(one, many, unknown), False

    def _season(self, number: MachineId) -> str:
        """When the season begins of a machine that sleeps, when that is near or past."""
        until = self.row.until(Wanted(machine_id=number))
        near = self.row.policy.coming_days
        if until is None or (until - self.row.on).days > near:
            return ""
        return self._text(
            msg("Its season begins {when}."),
            when=self.said.words.distance(until + timedelta(days=1), on=self.row.on),
        )

    def _sleep(self, wanted: Wanted) -> Option:
        words = self.said.words
        eve = self.row.until(Wanted(machine_id=wanted.machine_id))
        first = self._text(msg("until further notice"))
        if eve is not None:
            first = self._text(msg("until its next season, {day}"), day=words.day(eve))
        until = self.row.until(wanted)
        why = "" if until is None else self._text(msg("until {day}"), day=words.day(until))
        value = "" if wanted.sleep_days is None else str(wanted.sleep_days)
        return Option(
            name="sleep",
            label=self._text(msg("How long it sleeps")),
            choices=(("", first), *((days, self._text(said)) for days, said in SLEEPS.items())),
            value=value,
            why=why if value else "",
        )

    def _where(self, wanted: Wanted) -> Option:
        grounds = self.row.grounds(wanted)
        value = next((name for name, found in PLACES.items() if found == grounds), "dry")
        place = self.row.machines[wanted.machine_id].facts.place
        return Option(
            name="where",
            label=self._text(msg("What it is like there")),
            choices=tuple((name, self._grounds(found)) for name, found in PLACES.items()),
            value=value,
            why=self._text(msg("It stands in: {place}"), place=place) if place else "",
        )

    def _grounds(self, grounds: frozenset[Ground]) -> str:
        said = [self._text(GROUNDS[ground]) for ground in Ground if ground in grounds]
        return self.said.words.listed(said) if said else self._text(msg("dry, never freezes"))

    def _fuel(self, wanted: Wanted) -> tuple[Option, ...]:
        advice = self.row.advice(wanted)
        if advice.route is FuelRoute.NONE and not advice.others:
            return ()
        chosen = self.row.route(wanted)
        why = self._text(ROUTE_WHYS[advice.why])
        if chosen is not advice.route:
            why = self._text(
                msg("Sound, too, if your manual says so. Suggested: {route}. {why}"),
                route=self.said.route(advice.route),
                why=why,
            )
        return (
            Option(
                name="fuel",
                label=self._text(msg("The fuel")),
                choices=tuple(
                    (route.value, self.said.route(route))
                    for route in (advice.route, *advice.others)
                ),
                value=chosen.value,
                why=why,
            ),
        )

    # -- a run ---------------------------------------------------------------------------------

    def running(
        self,
        run: RunFacts,
        loose: Sequence[LeftOffFacts],
        *,
        now: datetime,
        notice: str = "",
    ) -> SeasonState:
        """One run: the current step, or what it comes to when every step is answered."""
        numbers = [one.machine_id for one in run.machines]
        alone = len(numbers) == 1
        left = run.remaining
        current = left[0] if left and run.finished_on is None else None
        off = [one for one in loose if one.machine_id in numbers]
        shown = tuple(self._loose(one, alone=alone) for one in off)
        return SeasonState(
            title=self._text(
                msg("{what}: {machines}"),
                what=self.said.sort(run.sort),
                machines=self.names(numbers),
            ),
            second=self._progress(run),
            sort=run.sort.value,
            can_write=self.can_write,
            notice=notice,
            run_id=run.run_id,
            icon=self.row.machines[numbers[0]].facts.kind.icon if alone else "",
            rail=tuple(self._rail(step, current, alone=alone) for step in run.steps),
            card=None if current is None else self._card(run, current, alone=alone),
            clocks=self.clocks(run, now),
            loose=shown,
            strip=self._strip(off, alone=alone),
            waiting=self._waiting(run),
            summary=() if current else self._summary(run),
            finished=run.finished_on is not None,
            faults=any(step.answer is StepAnswer.FAULT for step in run.steps),
        )

    def _progress(self, run: RunFacts) -> str:
        words = self.said.words
        minutes = sum(step.minutes for step in run.remaining)
        begun = self._text(msg("begun on {day}"), day=words.day(run.begun_on))
        to_go = self._text(msg("about {time} to go"), time=words.minutes(minutes))
        return f"{begun} · {to_go}" if run.remaining else begun

    def _waiting(self, run: RunFacts) -> str:
        if run.left_on is None:
            return ""
        words = self.said.words
        day = words.day(run.left_on)
        if not run.waits_for:
            return self._text(msg("Stopped here on {day}."), day=day)
        said = msg("On the bench since {day}, waiting for: {what}")
        return self._text(said, day=day, what=run.waits_for)

    def _rail(self, step: RunStepFacts, current: RunStepFacts | None, *, alone: bool) -> RailLine:
        words = self.said.words
        found = self.said.step(step.code)
        name = str(step.code) if found is None else found.name
        parts = [] if alone else [self.names(step.machine_ids)]
        mark = RailMark.NOW if step is current else RailMark.AHEAD
        if step.answer is not None:
            mark = _MARKS[step.answer]
            if mark is not RailMark.DONE:
                parts.append(self.said.answer(step.answer))
            if step.answered_on is not None:
                parts.append(words.day_short(step.answered_on))
            if step.answered_by:
                parts.append(step.answered_by)
            if step.why:
                parts.append(step.why)
        else:
            # What only waits takes nobody's time: how long it waits says more than nought.
            parts.append(words.minutes(step.minutes or step.wait_minutes))
        return RailLine(place=step.place, name=name, second=" · ".join(parts), mark=mark)

    def _card(self, run: RunFacts, step: RunStepFacts, *, alone: bool) -> SeasonCard:
        words = self.said.words
        found = self.said.step(step.code)
        wait = clock = ""
        if step.wait_minutes and found is not None:
            time = words.minutes(step.wait_minutes)
            wait = self._text(msg("Then wait {time}: {what}."), time=time, what=found.waits_for)
            if not any(timer.place == step.place for timer in run.timers):
                clock = self._text(msg("Start the clock: {time}"), time=time)
        return SeasonCard(
            place=step.place,
            counter=self._text(
                msg("Step {step} of {all}"), step=step.place + 1, all=len(run.steps)
            ),
            whose="" if alone else self.names(step.machine_ids),
            cautions=() if found is None else found.cautions,
            name=str(step.code) if found is None else found.name,
            bring=() if found is None else (*found.tools, *found.parts),
            minutes=words.minutes(step.minutes) if step.minutes else "",
            how="" if found is None else found.how,
            done_when="" if found is None else found.done_when,
            stop=self._text(msg("Stop use if {condition}."), condition=found.stop)
            if found is not None and found.stop
            else "",
            wait=wait,
            clock=clock,
            figures=asked_figures(
                step.tasks, [self.row.machines[n] for n in step.machine_ids], words
            ),
            starts=complaints(step.code, self.row.machines[step.machine_ids[0]], words),
        )

    def clocks(self, run: RunFacts, now: datetime) -> tuple[str, ...]:
        """What runs by itself, and how long yet; what is over says so until the run ends."""
        words = self.said.words
        found: list[str] = []
        for timer in run.timers:
            step = next((one for one in run.steps if one.place == timer.place), None)
            says = None if step is None else self.said.step(step.code)
            what = "" if says is None else says.waits_for
            seconds = (timer.ends_at - now).total_seconds()
            if seconds > 0:
                left = words.minutes(-int(-seconds // 60))
                found.append(self._text(msg("{what}: {time} to go"), what=what, time=left))
            else:
                found.append(self._text(msg("{what}: the time is over"), what=what))
        return tuple(found)

    def _loose(self, one: LeftOffFacts, *, alone: bool) -> LooseLine:
        parts = [] if alone else [self.name(one.machine_id)]
        if one.kept:
            parts.append(one.kept)
        since = self.said.words.day_short(one.since_on)
        parts.append(self._text(msg("since {day}"), day=since))
        return LooseLine(text=self.said.left(one.code), second=" · ".join(parts))

    def hanging(
        self, loose: Sequence[LeftOffFacts], numbers: Sequence[MachineId]
    ) -> list[tuple[LeftOffFacts, str]]:
        """What was taken off these machines and put somewhere, in words."""
        return [
            (one, f"{self.name(one.machine_id)}: {self.said.left(one.code)}")
            for one in loose
            if one.machine_id in numbers and one.code in HANGS
        ]

    def _strip(self, off: Sequence[LeftOffFacts], *, alone: bool) -> str:
        """All that is off or open in one line, each thing once with its machines."""
        by_code: dict[LeftCode, list[MachineId]] = {}
        for one in off:
            by_code.setdefault(one.code, []).append(one.machine_id)
        said = [
            self.said.left(code)
            if alone
            else self._text(
                msg("{thing}: {where}"), thing=self.said.left(code), where=self.names(numbers)
            )
            for code, numbers in by_code.items()
        ]
        return " · ".join(said)

    def _summary(self, run: RunFacts) -> tuple[str, ...]:
        """What a run that is through comes to."""
        count = self.said.words.count
        found = dict.fromkeys(StepAnswer, 0)
        for step in run.steps:
            if step.answer is not None:
                found[step.answer] += 1
        lines = [count(msg("{n} step done"), msg("{n} steps done"), found[StepAnswer.DONE])]
        if found[StepAnswer.NOT_APPLICABLE]:
            number = found[StepAnswer.NOT_APPLICABLE]
            lines.append(count(msg("{n} does not apply"), msg("{n} do not apply"), number))
        if found[StepAnswer.CANNOT]:
            number = found[StepAnswer.CANNOT]
            one, many = msg("{n} put off, noted as a job"), msg("{n} put off, noted as jobs")
            lines.append(count(one, many, number))
        if found[StepAnswer.FAULT]:
            number = found[StepAnswer.FAULT]
            lines.append(count(msg("{n} fault found"), msg("{n} faults found"), number))
        return tuple(lines)
