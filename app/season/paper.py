"""The storage sheet and the stored tags of machines, from the file to rows and lines."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date

from app.fleet.names import plain_name
from app.season.laying import Row, Wanted
from app.services import Services
from app.sheets import preseason, stored_tag
from app.sheets.pieces import Fact
from app.sheets.preseason import PreSeasonSheet
from app.sheets.storage_rows import LaidStep, storage_of
from app.sheets.stored_tag import StoredTag
from app.sheets.surface import Paper as PaperSize
from app.wording.languages import msg
from app.wording.sittings import SittingWords
from models.acts.run_sheets import StoredStep
from models.changes import Area
from models.facts.places import read_places
from models.facts.records import read_records
from models.facts.runs import LeftOffFacts, RunFacts, read_left_off, read_runs
from models.words import Paper
from resources.storage import load_sitting_rules
from schedules.facts import MachineId, VesselSort
from schedules.plan import Judging
from schedules.sitting_facts import LeftCode, RunSort, StepCode

FIRST_NAMED = 8
"""Steps of getting it out that a tag has room for."""
READ_THE_TAG = StepCode("G-01")


@dataclass(frozen=True, slots=True, kw_only=True)
class StoragePaper:
    """One sheet, its number still open; `lines` as they are numbered on it."""

    machine_ids: tuple[MachineId, ...]
    sheet: PreSeasonSheet
    lines: tuple[StoredStep, ...]


def said_of(services: Services) -> SittingWords:
    """The words of a sitting in the household's language."""
    return SittingWords(words=services.wording, rules=load_sitting_rules())


def row_of(services: Services, fleet: Sequence[Judging], *, on: date) -> Row:
    """The machines as a sitting wants them. Raises Trouble from the file."""
    numbers = [int(judging.facts.machine_id) for judging in fleet]
    with services.household.read() as session:
        places = read_places(session, catalogue=services.catalogue).values()
        shelters = {place.name: place.shelter for place in places}
        left = read_left_off(session, only=numbers)
    return Row(
        machines={judging.facts.machine_id: judging for judging in fleet},
        shelters=shelters,
        left=codes_by_machine(left),
        policy=services.settings.policy,
        catalogue=services.catalogue,
        on=on,
    )


def codes_by_machine(left: Sequence[LeftOffFacts]) -> dict[MachineId, frozenset[LeftCode]]:
    """What is off or open, by machine."""
    found: dict[MachineId, frozenset[LeftCode]] = {}
    for one in left:
        found[one.machine_id] = found.get(one.machine_id, frozenset()) | {one.code}
    return found


def storage_papers(
    services: Services, fleet: Sequence[Judging], *, on: date
) -> tuple[StoragePaper, ...]:
    """A sheet for the machines that stand ready, to put them away, and one for those that sleep,
    to get them out. Raises Trouble from the file."""
    row = row_of(services, fleet, on=on)
    found: list[StoragePaper] = []
    for sort in (RunSort.PUTTING_AWAY, RunSort.GETTING_OUT):
        wanted = [Wanted(machine_id=number) for number in row.machines if row.can(sort, number)]
        if wanted:
            steps = row.laid(sort, row.asks(sort, wanted))
            numbers = [one.machine_id for one in wanted]
            found.append(_paper(services, row, sort, numbers, steps))
    return tuple(found)


def run_paper(
    services: Services, run: RunFacts, fleet: Sequence[Judging], *, on: date
) -> StoragePaper:
    """The sheet of what is left of a run. Raises Trouble from the file."""
    row = row_of(services, fleet, on=on)
    return _paper(services, row, run.sort, list(row.machines), run.remaining)


def _paper(
    services: Services,
    row: Row,
    sort: RunSort,
    numbers: Sequence[MachineId],
    steps: Sequence[LaidStep],
) -> StoragePaper:
    said = said_of(services)
    names = {number: plain_name(row.machines[number].facts.name) for number in numbers}
    kind = row.machines[numbers[0]].facts.kind if len(numbers) == 1 else None
    sheet = storage_of(
        sort,
        steps,
        names,
        only=kind,
        facts=_facts(row, sort, numbers, said),
        number="",
        said=said,
        household=services.settings.name,
        on=row.on,
    )
    lines = [
        StoredStep(
            machine_id=int(step.machine_ids[0]),
            code=str(step.code),
            title=found.name,
            tasks=_tasks(step, row),
        )
        for step in steps
        if (found := said.step(step.code)) is not None
    ]
    return StoragePaper(machine_ids=tuple(numbers), sheet=sheet, lines=tuple(lines))


def _tasks(step: LaidStep, row: Row) -> tuple[str, ...]:
    """The tasks a step does, for whoever enters the sheet."""
    known = {str(task.code) for task in row.machines[step.machine_ids[0]].facts.kind.tasks}
    given = getattr(step, "records", None) or getattr(step, "tasks", ())
    return tuple(str(code) for code in given if str(code) in known)


def _facts(
    row: Row, sort: RunSort, numbers: Sequence[MachineId], said: SittingWords
) -> tuple[Fact, ...]:
    """What was decided for each machine, on paper as in the window."""
    if sort is not RunSort.PUTTING_AWAY:
        return ()
    words = said.words
    found: list[Fact] = []
    for number in numbers:
        wanted = Wanted(machine_id=number)
        until = row.until(wanted)
        sleeps = words.text(msg("until further notice"))
        if until is not None:
            sleeps = words.text(msg("until {day}"), day=words.day(until))
        name = plain_name(row.machines[number].facts.name)
        found.append(Fact(label=name, value=f"{sleeps}, {said.route(row.route(wanted))}"))
    return tuple(found)


def papers_for(
    services: Services, fleet: Sequence[Judging], *, on: date
) -> tuple[StoragePaper, ...]:
    """What is left of each run that was begun, and a list for all other machines: put away those
    that stand ready, get out those that sleep. Raises Trouble from the file."""
    here = {judging.facts.machine_id: judging for judging in fleet}
    found: list[StoragePaper] = []
    with services.household.read() as session:
        runs = read_runs(session)
    for run in runs:
        numbers = [one.machine_id for one in run.machines]
        if run.remaining and all(number in here for number in numbers):
            found.append(run_paper(services, run, [here.pop(n) for n in numbers], on=on))
    return (*found, *storage_papers(services, list(here.values()), on=on))


def storage_pdf(
    services: Services, papers: Sequence[StoragePaper], numbers: Sequence[str], *, paper: Paper
) -> bytes:
    """The sheets as one PDF, each with its number."""
    words = services.wording
    sheets = [
        replace(each.sheet, number=number) for each, number in zip(papers, numbers, strict=True)
    ]
    size = PaperSize(paper.value)
    return preseason.draw(sheets, paper=size, language=words.language, words=words.text)


def stored_pdf(
    services: Services, *, paper: Paper, only: frozenset[MachineId] | None, on: date
) -> bytes | None:
    """A tag for each of these machines that is put away; None: there is none. Raises Trouble."""
    tags = stored_tags(services, services.fleet(on=on, only=only), on=on)
    if not tags:
        return None
    words, size = services.wording, PaperSize(paper.value)
    return stored_tag.draw(tags, paper=size, language=words.language, words=words.text)


# -- tags -------------------------------------------------------------------------------------


def stored_tags(services: Services, fleet: Sequence[Judging], *, on: date) -> tuple[StoredTag, ...]:
    """A tag for each machine that is put away. Raises Trouble from the file."""
    asleep = [judging for judging in fleet if judging.almanac.laid_up]
    if not asleep:
        return ()
    row = row_of(services, asleep, on=on)
    with services.household.read() as session:
        left = read_left_off(session, only=[int(one.facts.machine_id) for one in asleep])
        notes = {
            one.facts.machine_id: next(
                (
                    entry.note
                    for entry in read_records(session, machine_id=one.facts.machine_id, on=on)
                    if entry.area is Area.STORAGE and not entry.superseded
                ),
                "",
            )
            for one in asleep
        }
    said = said_of(services)
    return tuple(
        _tag(services, row, judging, left, notes[judging.facts.machine_id], said)
        for judging in asleep
    )


def _tag(
    services: Services,
    row: Row,
    judging: Judging,
    left: Sequence[LeftOffFacts],
    note: str,
    said: SittingWords,
) -> StoredTag:
    words, facts = services.wording, judging.facts
    number = facts.machine_id
    since = max(spell.put_away_on for spell in facts.storage if spell.put_away_on <= row.on)
    off = [_off(one, said) for one in left if one.machine_id == number]
    sort = RunSort.GETTING_OUT
    steps = row.laid(sort, row.asks(sort, [Wanted(machine_id=number)], with_list=False))
    first = [
        found.name
        for step in steps
        if step.code != READ_THE_TAG and (found := said.step(step.code)) is not None
    ]
    to_do = [job.text for job in facts.jobs] + [fault.text for fault in facts.faults]
    return StoredTag(
        machine=plain_name(facts.name),
        icon=facts.kind.icon,
        stored=words.text(
            msg("Put away on {day} · {hours}"),
            day=words.day(since),
            hours=words.hours_now(judging.verdict.hours),
        ),
        state=_state(judging, said),
        off=tuple(off) or ((plain_name(note),) if note else ()),
        first=tuple(first[:FIRST_NAMED]),
        to_do=tuple(to_do),
        foot=" · ".join(
            (services.settings.name, words.text(msg("printed {day}"), day=words.day(row.on)))
        ),
    )


def _off(one: LeftOffFacts, said: SittingWords) -> str:
    what = said.left(one.code)
    if not one.kept:
        return what
    return said.words.text(msg("{thing}: {where}"), thing=what, where=one.kept)


def _state(judging: Judging, said: SittingWords) -> str:
    """Whether there is fuel in it: the first thing a hand on the cap wants to know."""
    words = said.words
    tanks = [vessel for vessel in judging.verdict.fuel if vessel.sort is VesselSort.TANK]
    held = [vessel for vessel in tanks if vessel.volume_ul]
    if held:
        amounts = [
            words.text(
                msg("{amount}, {band}"),
                amount=words.litres(vessel.volume_ul),
                band=words.band(vessel.band),
            )
            for vessel in held
        ]
        return words.text(msg("FUEL IN IT: {what}"), what="; ".join(amounts))
    return words.text(msg("DRY: no fuel in it")) if tanks else ""
