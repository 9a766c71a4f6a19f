"""From what the engine says to what the fleet room shows: words only, nothing judged anew."""

from __future__ import annotations

from datetime import date
from functools import partial

from app.entry.short_way import things_left
from app.fleet.band import year_of
from app.fleet.headline import Summary
from app.fleet.names import plain_name
from app.fleet.ordering import searchable
from app.fleet.state import Chosen, MachineLine, RecordLine, TaskLine
from app.wording.benches import standing_said
from app.wording.languages import msg
from app.wording.wording import Wording
from models.changes import Area
from models.facts.begun import BegunSearch
from models.facts.benches import BenchFacts
from models.facts.records import RecordedEntry, RecordedLine
from models.words import FuelDoing, LineOutcome, RunOutcome
from resources.loader import Catalogue
from schedules.facts import (
    GovernedBy,
    JobVerdict,
    LimitCode,
    MachineState,
    Policy,
    PreSeason,
    TaskCode,
    TaskState,
    TaskVerdict,
)
from schedules.plan import Judging
from schedules.reasons import ReasonCode
from schedules.stores import purchases

_TASK_ORDER = {
    TaskState.OVERDUE: 0,
    TaskState.NOT_KNOWN: 1,
    TaskState.DUE: 1,
    TaskState.COMING: 2,
    TaskState.CLEAR: 3,
}
MOST_GROUNDS = 2
_WANTED = (TaskState.OVERDUE, TaskState.NOT_KNOWN, TaskState.DUE)
_RAN = {
    RunOutcome.RAN: msg("ran"),
    RunOutcome.BADLY: msg("ran badly"),
    RunOutcome.DID_NOT: msg("did not start"),
}
_HOW = {
    LineOutcome.DONE: msg("{what}: done"),
    LineOutcome.REPLACED: msg("{what}: renewed"),
    LineOutcome.ASSUMED: msg("{what}: passed over, taken as done"),
    LineOutcome.FAILED: msg("{what}: did not hold"),
    LineOutcome.NOT_DONE: msg("{what}: left"),
}
_FUEL = {
    FuelDoing.BOUGHT: msg("put in {volume}"),
    FuelDoing.FOUND: msg("found {volume} in it"),
    FuelDoing.POURED: msg("poured {volume} over"),
    FuelDoing.FILLED: msg("topped up {volume}"),
    FuelDoing.BURNT: msg("burnt {volume}"),
    FuelDoing.DRAINED: msg("took out {volume}"),
    FuelDoing.LEVEL: msg("{volume} in it, by eye"),
    FuelDoing.TREATED: msg("added stabiliser"),
    FuelDoing.LOOKED: msg("looked and smelled"),
    FuelDoing.SPILLED: msg("spilled {volume}"),
    FuelDoing.DISPOSED: msg("took {volume} to a collection point"),
    FuelDoing.OILED: msg("added {volume} of oil"),
}


class Pictures:
    """Makes the pictures of one household on one day."""

    def __init__(self, *, words: Wording, catalogue: Catalogue, policy: Policy, on: date) -> None:
        self.words = words
        self.catalogue = catalogue
        self.policy = policy
        self.on = on

    # -- the list ------------------------------------------------------------------------------

    def line(
        self, judging: Judging, season: PreSeason, *, hand: str = ""
    ) -> tuple[MachineLine, Summary]:
        """One machine of the list, and what the headline needs of it. `hand`: who last worked on
        it."""
        words, verdict, facts = self.words, judging.verdict, judging.facts
        wanted = [task for task in verdict.tasks if task.state in _WANTED and task.due is not None]
        wanted_jobs = [job for job in verdict.jobs if job.state in _WANTED]
        first, second = self._next(verdict.tasks, wanted, wanted_jobs)
        kind, place = words.kind(facts.kind.code), plain_name(facts.place)
        name, state_text = plain_name(facts.name), self._state_said(judging)
        line = MachineLine(
            machine_id=facts.machine_id,
            name=name,
            second=place,
            icon=facts.kind.icon,
            state=verdict.state,
            state_text=state_text,
            ground_text=plain_name(self._ground(judging)) or self._then(verdict.tasks),
            next_text=first,
            next_second=second,
            year=year_of(judging, season),
            place=place.split(", ")[0],
            kind=kind,
            hand=hand,
            found_by=searchable(name, kind, place, state_text, hand),
            put_away=judging.almanac.laid_up,
            broken=bool(facts.faults),
        )
        summary = Summary(
            name=facts.name,
            state=verdict.state,
            minutes=_minutes(season),
            season_first=None if season.season is None else season.season.first,
            start_by=season.start_by,
            buys=purchases([(judging, season)], policy=self.policy, on_shelf={}),
            wanted=len(wanted) + len(wanted_jobs),
            going_over=things_left(judging),
            shape=facts.kind.shape,
            put_away=judging.almanac.laid_up,
        )
        return line, summary

    def bench(self, bench: BenchFacts | None, begun: BegunSearch | None = None) -> str:
        """What was begun and is not over, what is off or open, in one line; "" for nothing."""
        return plain_name(" · ".join(standing_said(bench, begun, self.words)))

    def _state_said(self, judging: Judging) -> str:
        """The state; a machine nobody knows may be put away all the same."""
        words, state = self.words, judging.verdict.state
        said = words.state(state)
        if judging.almanac.laid_up and state is not MachineState.LAID_UP:
            away = words.state(MachineState.LAID_UP)
            return words.text(msg("{state}, {put_away}"), state=said, put_away=away)
        return said

    def _ground(self, judging: Judging) -> str:
        """The worst ground in a few words; the whole of it stands with the machine."""
        words, children = self.words, judging.verdict.reason.children
        if not children:
            return ""
        values = dict(children[0].values)
        match children[0].code:
            case ReasonCode.OPEN_FAULT | ReasonCode.FAULT_KNOWN | ReasonCode.REPAIR_PUT_OFF:
                return str(values["fault"])
            case ReasonCode.OVERDUE_SAFETY | ReasonCode.OVERDUE_TASK:
                late = words.text(
                    msg("overdue: {work}"), work=words.task(TaskCode(str(values["task"])))
                )
                return f"{late} +{len(children) - 1}" if len(children) > 1 else late
            case ReasonCode.FAILED_CHECK:
                work = words.task(TaskCode(str(values["task"])))
                return words.text(msg("did not hold: {work}"), work=work)
            case ReasonCode.PAST_UNKNOWN:
                said = msg("first going-over: {n} thing"), msg("first going-over: {n} things")
                return words.count(*said, things_left(judging))
            case ReasonCode.PUT_AWAY:
                return words.text(msg("since {day}"), day=self._short(values["day"]))
            case ReasonCode.STALE_FUEL:
                return words.text(msg("the fuel in it is past keeping"))
            case _:
                return words.reason(children[0])

    def _short(self, day: object) -> str:
        return self.words.day(day) if isinstance(day, date) else ""

    def _then(self, tasks: tuple[TaskVerdict, ...]) -> str:
        """What comes next, when nothing is wrong."""
        words = self.words
        dated = [task for task in tasks if task.due is not None]
        first = min(dated, key=lambda task: (task.due or date.max, task.code), default=None)
        if first is None or first.due is None:
            return ""
        when = words.distance(first.due, on=self.on)
        return words.text(msg("{when}: {work}"), when=when, work=words.task(first.code))

    def _next(
        self,
        tasks: tuple[TaskVerdict, ...],
        wanted: list[TaskVerdict],
        jobs: list[JobVerdict],
    ) -> tuple[str, str]:
        words = self.words
        count = len(wanted) + len(jobs)
        dated = [task for task in tasks if task.due is not None]
        nearest = min(dated, key=lambda task: (task.due or date.max, task.code), default=None)
        if nearest is None or nearest.due is None:
            return words.text(msg("nothing")), ""
        first = words.task(nearest.code)
        when = words.day_long(nearest.due, on=self.on)
        if count > 1:
            more = words.text(msg("and {n} more, now or within two weeks"), n=count - 1)
            return first, f"{when} · {more}"
        return first, when

    # -- the chosen machine --------------------------------------------------------------------

    def chosen(self, judging: Judging, records: tuple[RecordedEntry, ...]) -> Chosen:
        """The machine in full."""
        words, verdict, facts = self.words, judging.verdict, judging.facts
        tasks = [self._task(judging, task) for task in verdict.tasks if self._listed(task)]
        tasks += [self._job(judging, job) for job in verdict.jobs]
        return Chosen(
            machine_id=facts.machine_id,
            name=plain_name(facts.name),
            second=" · ".join((words.kind(facts.kind.code), plain_name(facts.place))),
            icon=facts.kind.icon,
            state=verdict.state,
            state_text=self._state_said(judging),
            hours_text=words.hours_now(verdict.hours),
            standing_text=self._standing(judging),
            tasks=tuple(sorted(tasks, key=lambda task: task.sort_key)),
            records=tuple(self._record(entry) for entry in records),
            each_use=tuple(words.task(code) for code in verdict.each_use),
            laid_up=judging.almanac.laid_up,
        )

    def _standing(self, judging: Judging) -> str:
        """The state and its first grounds; how many more there are."""
        words, ground = self.words, judging.verdict.reason
        said = [words.reason(ground)]
        said += [words.reason(child) for child in ground.children[:MOST_GROUNDS]]
        more = len(ground.children) - MOST_GROUNDS
        if more > 0:
            said.append(words.count(msg("and {n} more"), msg("and {n} more"), more))
        return plain_name("\n".join(said))

    @staticmethod
    def _listed(task: TaskVerdict) -> bool:
        """Looks before each use stand on the card; nobody is asked for them here."""
        return task.due is not None or task.state is not TaskState.CLEAR or task.anchor is not None

    def _task(self, judging: Judging, verdict: TaskVerdict) -> TaskLine:
        words = self.words
        task = judging.task(verdict.code)
        first, second = words.text(msg("no day")), ""
        if verdict.due is not None:
            first = words.day(verdict.due)
            second = words.distance(verdict.due, on=self.on)
        because = self._because(verdict)
        return TaskLine(
            key=verdict.code,
            name=words.task(verdict.code),
            because=because if verdict.due is not None else "",
            when_text=first,
            when_second=second,
            state=verdict.state,
            state_text=words.state(verdict.state),
            minutes_text=words.minutes(verdict.minutes),
            sort_key=_sort_key(verdict.state, verdict.due, verdict.code),
            why=partial(words.tree, verdict.reason),
            how=words.text(task.how),
            cautions=tuple(words.caution(code) for code in task.cautions),
        )

    def _because(self, verdict: TaskVerdict) -> str:
        words = self.words
        if verdict.reason.code is ReasonCode.DUE_FUEL:
            return words.text(msg("because of the age of the fuel"))
        if verdict.governed_by is GovernedBy.NOTHING_KNOWN:
            return words.text(msg("nobody knows when it was last done"))
        ground = words.governed_by(verdict.governed_by)
        return words.text(msg("because of {ground}"), ground=ground)

    def _job(self, judging: Judging, verdict: JobVerdict) -> TaskLine:
        words = self.words
        job = next(job for job in judging.facts.jobs if job.job_id == verdict.job_id)
        first, second = words.text(msg("no day")), ""
        if verdict.due is not None:
            first = words.day(verdict.due)
            second = words.distance(verdict.due, on=self.on)
        return TaskLine(
            key=f"job-{verdict.job_id}",
            name=plain_name(job.text),
            because=words.text(msg("noted on {day}"), day=job.noted_on),
            when_text=first,
            when_second=second,
            state=verdict.state,
            state_text=words.state(verdict.state),
            minutes_text=words.minutes(job.minutes),
            sort_key=_sort_key(verdict.state, verdict.due, f"job-{verdict.job_id:09}"),
            why=partial(words.tree, verdict.reason),
            how="",
        )

    # -- the record ----------------------------------------------------------------------------

    def _record(self, entry: RecordedEntry) -> RecordLine:
        words = self.words
        text, second = self._said(entry)
        if entry.superseded:
            second = words.text(msg("corrected since; kept as it was entered"))
        elif entry.corrects:
            second = " · ".join(part for part in (words.text(msg("a correction")), second) if part)
        return RecordLine(
            area=entry.area,
            area_text=words.area(entry.area),
            entry_id=entry.entry_id,
            day_text=words.day(entry.day),
            text=plain_name(text),
            second=plain_name(" · ".join(part for part in (second, entry.note) if part)),
            struck=entry.superseded,
        )

    def _said(self, entry: RecordedEntry) -> tuple[str, str]:
        words = self.words
        match entry.area:
            case Area.WORK:
                return "; ".join(self._line_said(line) for line in entry.lines), entry.entered_by
            case Area.HOURS if entry.shown is not None:
                shown = words.run_time(entry.shown.amount)
                return words.text(msg("The meter shows {hours}"), hours=shown), ""
            case Area.USES:
                run = words.text(msg("time not noted"))
                if entry.run is not None:
                    run = words.run_time(entry.run.amount)
                ran = words.text(_RAN[entry.outcome or RunOutcome.RAN])
                said = msg("Used {uses}, {hours}, {ran}")
                return words.text(said, uses=words.uses(entry.count), hours=run, ran=ran), ""
            case Area.READINGS:
                return self._measured(entry)
            case Area.FUEL if entry.fuel_doing is not None:
                if entry.fuel_doing is FuelDoing.FOUND and entry.volume_ul is None:
                    return words.text(msg("nobody knows whether fuel is in it")), entry.vessel
                volume = words.text(msg("all of it"))
                if entry.volume_ul is not None:
                    volume = words.litres(entry.volume_ul)
                return words.text(_FUEL[entry.fuel_doing], volume=volume), entry.vessel
            case _:
                until = "" if entry.until is None else words.day(entry.until)
                said = words.text(msg("Put away"))
                if until:
                    said = words.text(msg("Put away, got out again on {day}"), day=until)
                return said, ""

    def _line_said(self, line: RecordedLine) -> str:
        what = self.words.task(TaskCode(line.task_code)) if line.task_code else line.job_text
        return self.words.text(_HOW[line.outcome], what=what)

    def _measured(self, entry: RecordedEntry) -> tuple[str, str]:
        words = self.words
        limit = self.catalogue.limits.get(LimitCode(entry.limit_code))
        name = words.limit(LimitCode(entry.limit_code))
        if limit is not None and entry.amount is not None:
            found = words.amount(limit, entry.amount)
        else:
            found = words.text(msg("seen")) if entry.seen else words.text(msg("not seen"))
        said = words.text(msg("{limit}: {found}"), limit=name, found=found)
        return said, words.task(TaskCode(entry.task_code))


def _minutes(season: PreSeason) -> int:
    return season.look_minutes + season.do_minutes


def _sort_key(state: TaskState, due: date | None, code: str) -> tuple[int, int, str]:
    return (_TASK_ORDER[state], (due or date.max).toordinal(), code)
