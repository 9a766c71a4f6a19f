"""Since you were last here: what fell due meanwhile, what turned, what was only reckoned."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from app.entry.catch_up import Ran
from app.fleet.names import plain_name
from app.fleet.state import Page, PageLine
from app.wording.languages import msg
from app.wording.wording import Wording
from schedules.facts import HoursBasis, TaskState
from schedules.plan import Judging

AWAY_DAYS = 30
"""Nobody needs to be told what happened within a month."""
MOST_NAMED = 3
LEAST_SECONDS = 360  # under a tenth of an hour nothing is shown


@dataclass(frozen=True, slots=True, kw_only=True)
class Meanwhile:
    """What happened to one machine while nobody looked, in words."""

    name: str
    fell_due: int
    lines: tuple[str, ...]
    ran: Ran | None = None


def meanwhile(judging: Judging, *, last: date, on: date, words: Wording) -> Meanwhile | None:
    """What happened to a machine after that day; None when nothing did."""
    fell = [
        task
        for task in judging.verdict.tasks
        if task.due is not None
        and last < task.due <= on
        and task.state in (TaskState.OVERDUE, TaskState.DUE)
    ]
    lines: list[str] = []
    if fell:
        fell.sort(key=lambda task: (task.due or date.max, task.code))
        named = [words.task(task.code) for task in fell[:MOST_NAMED]]
        if len(fell) > MOST_NAMED:
            named.append(words.count(msg("{n} more"), msg("{n} more"), len(fell) - MOST_NAMED))
        lines.append(words.text(msg("Fell due: {things}"), things=words.listed(named)))
    lines += _seasons(judging, last, on, words)
    for vessel in judging.verdict.fuel:
        if vessel.burn_on is not None and last < vessel.burn_on <= on and vessel.volume_ul:
            said = msg("The fuel in it is past keeping since {day}")
            lines.append(words.text(said, day=vessel.burn_on))
    ran = _ran(judging, last, on)
    if ran is not None:
        said = msg("Reckoned meanwhile: {hours}; one reading puts it right")
        lines.append(words.text(said, hours=words.run_time(ran.seconds, estimated=True)))
    if not lines:
        return None
    return Meanwhile(
        name=plain_name(judging.facts.name), fell_due=len(fell), lines=tuple(lines), ran=ran
    )


def _seasons(judging: Judging, last: date, on: date, words: Wording) -> list[str]:
    calendar = judging.almanac.calendar
    if not calendar.has_seasons:
        return []
    place = max(0, calendar.started(on.toordinal()))
    season = calendar.season(place)
    if last < season.last < on:
        return [words.text(msg("Its season ended on {day}"), day=season.last)]
    if last < season.first <= on:
        return [words.text(msg("Its season began on {day}"), day=season.first)]
    return []


def _ran(judging: Judging, last: date, on: date) -> Ran | None:
    """Hours nobody read: reckoned, and to be put right by one reading or one answer."""
    if judging.verdict.hours.basis is not HoursBasis.ESTIMATED:
        return None
    timeline = judging.items[0].timeline
    known = [day for day in timeline.days if day <= on.toordinal()]
    since = max(last.toordinal(), *known[-1:])  # what was read after that day is not asked again
    before, now = timeline.total(since), timeline.total(on.toordinal())
    if now - before < LEAST_SECONDS:
        return None
    return Ran(
        machine_id=int(judging.facts.machine_id),
        name=plain_name(judging.facts.name),
        before=before,
        seconds=now - before,
    )


def since_page(found: Sequence[Meanwhile], *, last: date, words: Wording) -> Page:
    """The page that opens after months away."""
    title = words.text(msg("Since you were last here, {day}"), day=words.day(last))
    if not found:
        return Page(title=title, lead=words.text(msg("Nothing happened that you must know.")))
    fell = sum(one.fell_due for one in found)
    lead = words.count(msg("{n} thing fell due."), msg("{n} things fell due."), fell)
    if not fell:
        lead = words.text(msg("Nothing fell due."))
    order = sorted(found, key=lambda one: (-one.fell_due, one.name))
    lines: list[PageLine] = []
    for one in order:
        lines.append(PageLine(text=one.name, head=True))
        lines += [PageLine(text=line) for line in one.lines]
    onward = words.text(msg("Say what ran…")) if any(one.ran for one in found) else ""
    return Page(title=title, lead=lead, lines=tuple(lines), onward=onward)
