"""What to do with the time there is, as a page to read: machine by machine, in working order."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import groupby

from app.fleet.names import plain_name
from app.fleet.state import Page, PageLine
from app.wording.languages import msg
from app.wording.lines import CautionText
from app.wording.wording import Wording
from schedules.choice import Job, ToDo, Visit
from schedules.facts import MachineId
from schedules.plan import Judging
from schedules.states import Severity


def sitting_page(
    minutes: int,
    visits: Sequence[Visit],
    judgings: Mapping[MachineId, Judging],
    missing: Sequence[Job],
    missing_count: int,
    *,
    set_up_minutes: int,
    words: Wording,
) -> Page:
    """The work that was chosen. `missing`: some jobs left out for want of parts, of
    `missing_count` in all."""
    used = sum(visit.minutes for visit in visits)
    title = words.text(msg("What to do in {minutes}"), minutes=words.minutes(minutes))
    if not visits:
        lead = words.text(msg("Nothing that is wanted now fits into that."))
        return Page(title=title, lead=lead, foot=_missing(missing, missing_count, judgings, words))
    lead = words.count(
        msg("{minutes} at {n} machine, getting at it included."),
        msg("{minutes} at {n} machines, getting at them included."),
        len(visits),
        minutes=words.minutes(used),
    )
    lines: list[PageLine] = []
    number = 0
    for visit in visits:
        judging = judgings[visit.machine_id]
        facts = judging.facts
        name = " · ".join(
            part for part in (plain_name(facts.name), plain_name(facts.place)) if part
        )
        lines.append(
            PageLine(
                text=name,
                right=words.minutes(visit.minutes),
                head=True,
                cautions=_cautions(visit, judging, words),
            )
        )
        for text, second, took in _steps(visit, judging, words):
            number += 1
            lines.append(
                PageLine(text=f"{number}  {text}", second=second, right=words.minutes(took))
            )
    if set_up_minutes:
        got = msg("{minutes} a machine go on getting at it.")
        lines.append(
            PageLine(text="", second=words.text(got, minutes=words.minutes(set_up_minutes)))
        )
    foot = "\n".join(
        part
        for part in (
            _bring(visits, judgings, words),
            _missing(missing, missing_count, judgings, words),
        )
        if part
    )
    return Page(title=title, lead=lead, lines=tuple(lines), foot=foot)


def _cautions(visit: Visit, judging: Judging, words: Wording) -> tuple[CautionText, ...]:
    """What has to be read before the work at this machine, each once, the gravest first."""
    codes = dict.fromkeys(
        code
        for line in visit.lines
        if line.code is not None
        for code in judging.task(line.code).cautions
    )
    order = list(Severity)
    said = [words.caution(code) for code in codes]
    return tuple(sorted(said, key=lambda one: order.index(one.severity)))


def _steps(visit: Visit, judging: Judging, words: Wording) -> Iterator[tuple[str, str, int]]:
    """Text, second line and minutes of each step; looks that follow one another are one."""
    for look, group in groupby(visit.lines, key=lambda line: line.look):
        found = list(group)
        if look:
            looks = [words.task(line.code) for line in found if line.code is not None]
            said = words.text(msg("Look round: {looks}"), looks=words.listed(looks))
            yield said, _with(found, judging, words), sum(line.minutes for line in found)
            continue
        for line in found:
            yield _named(line, judging, words), _with([line], judging, words), line.minutes


def _named(line: ToDo, judging: Judging, words: Wording) -> str:
    if line.code is not None:
        return words.task(line.code)
    for job in judging.facts.jobs:
        if job.job_id == line.job_id:
            return plain_name(job.text)
    for fault in judging.facts.faults:
        if fault.fault_id == line.fault_id:
            said = msg("Find out about: {fault}")
            return words.text(said, fault=plain_name(fault.text))
    return ""


def _with(lines: Sequence[ToDo], judging: Judging, words: Wording) -> str:
    """When the machine must not be used any more, and what the work is done with."""
    tasks = [judging.task(line.code) for line in lines if line.code is not None]
    said = [
        words.text(msg("Stop use if {condition}."), condition=words.text(task.stop_use_if))
        for task in tasks
        if task.stop_use_if
    ]
    tools = _tools(lines, judging, words)
    if tools:
        said.append(words.text(msg("With: {things}"), things=", ".join(tools)))
    return "\n".join(dict.fromkeys(said))


def _tools(lines: Sequence[ToDo], judging: Judging, words: Wording) -> list[str]:
    """Tools and parts of these lines, each once."""
    found: dict[str, None] = {}
    for line in lines:
        if line.code is None:
            found.update(dict.fromkeys(part for part, _ in line.parts))
            continue
        task = judging.task(line.code)
        found.update(dict.fromkeys(words.text(tool) for tool in task.tools))
        wanted = {part for part, _ in line.parts}
        found.update(
            dict.fromkeys(words.text(one.name) for one in task.consumables if one.part in wanted)
        )
    return list(found)


def _bring(visits: Sequence[Visit], judgings: Mapping[MachineId, Judging], words: Wording) -> str:
    things: dict[str, None] = {}
    for visit in visits:
        things.update(dict.fromkeys(_tools(visit.lines, judgings[visit.machine_id], words)))
    if not things:
        return ""
    return words.text(msg("Bring in one go: {things}."), things=", ".join(things))


def _missing(
    missing: Sequence[Job], count: int, judgings: Mapping[MachineId, Judging], words: Wording
) -> str:
    named: list[str] = []
    for job in missing:
        judging = judgings.get(job.machine_id)
        if judging is None:
            continue
        said, machine = msg("{work} ({machine})"), plain_name(judging.facts.name)
        named += [words.text(said, work=words.task(code), machine=machine) for code in job.codes]
    if not count:
        return ""
    if count > len(missing) or not named:
        left = count - len(missing) if named else count
        named.append(words.count(msg("{n} more"), msg("{n} more"), left))
    said = msg("Left out, because the part is not here: {jobs}.")
    return words.text(said, jobs=words.listed(named))
