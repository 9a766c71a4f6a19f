"""Printing a page of a household: judged as it is, numbered so that it can come back."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, fields, replace
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from app.paper_photos import photos_of
from app.services import Services
from app.sheets.build import (
    MachineNotes,
    SheetMachine,
    buyer_pdf,
    card_pdf,
    fault_pdf,
    preseason_pdf,
    shopping_pdf,
    work_pdf,
)
from app.sheets.preseason_rows import PaperStep, steps_of
from app.sheets.surface import Paper as PaperSize
from app.sheets.work_rows import work_steps
from app.tagging import tags_pdf
from models.acts.sheets import PrintSheet, SheetLine
from models.changes import Area, Changes
from models.disk import trouble_of_writing
from models.disk import write_whole as write_file
from models.errors import Trouble
from models.facts.papers import read_details, read_shelf
from models.facts.records import read_records
from models.facts.runs import read_runs
from models.moment import Moment
from models.words import Paper, SheetSort
from schedules.choice import Visit, what_to_do
from schedules.facts import MachineId, Purchase
from schedules.plan import pre_season
from schedules.stores import purchases

if TYPE_CHECKING:
    from app.causes.state import FaultRoomState

Perform = Callable[[PrintSheet], Changes]

AN_HOUR = 60

# What stands where a number would, when the file could not be written to.
NO_NUMBER = "––––"
_NOTES = {note.name for note in fields(MachineNotes)}


def performer(services: Services, moment: Moment) -> Perform | None:
    """Carries acts out straight on the file; None when it may only be read."""
    writer = services.household.writer
    return None if writer is None else lambda act: writer.run(act, moment=moment)


@dataclass(frozen=True, slots=True, kw_only=True)
class Page:
    """What was printed. `numbers`: four digits by machine, for sheets that come back; `notice`:
    why there are none."""

    sort: SheetSort
    pdf: bytes
    numbers: Mapping[MachineId, str] = field(default_factory=dict[MachineId, str])
    notice: Trouble | None = None


def print_sheet(
    services: Services,
    sort: SheetSort,
    *,
    paper: Paper,
    only: frozenset[MachineId] | None,
    moment: Moment,
    perform: Perform | None,
    minutes: int = AN_HOUR,
    single: bool = False,
    shown: FaultRoomState | None = None,
) -> Page | None:
    """Print a page for these machines, or for all; None when there is none of them, or nothing to
    do in so many minutes, or nothing to buy.

    `perform` carries out the act that gives a sheet its number; None: the file may only be read.
    `shown`: the search that is looked at, whose step comes first on paper, too.
    Raises ValueError for a sort that has no page, Trouble from the file.
    """
    if sort is SheetSort.TAGS:
        pdf = tags_pdf(services, paper=paper, on=moment.today, machines=only, single=single)
        return None if pdf is None else Page(sort=sort, pdf=pdf)
    # What is bought for one machine depends on all: they share a shelf. Nothing else does.
    shared = sort in (SheetSort.PRESEASON, SheetSort.SHOPPING)
    fleet = sheet_machines(services, on=moment.today, only=None if shared else only, noted=only)
    chosen = [each for each in fleet if only is None or each.machine_id in only]
    if not chosen:
        return None
    size, on, wording = PaperSize(paper.value), moment.today, services.wording
    household = services.settings.name
    match sort:
        case SheetSort.CARD:
            return Page(sort=sort, pdf=card_pdf(chosen, wording=wording, paper=size, on=on))
        case SheetSort.BUYER:
            pdf = buyer_pdf(
                chosen,
                wording=wording,
                paper=size,
                household=household,
                on=on,
                photos=photos_of(services, [each.machine_id for each in chosen], on=on),
            )
            return Page(sort=sort, pdf=pdf)
        case SheetSort.PRESEASON:
            return _preseason(services, fleet, chosen, paper=paper, moment=moment, perform=perform)
        case SheetSort.SHOPPING:
            return _shopping(services, fleet, paper=size, on=on)
        case SheetSort.STORAGE:
            return _storage(services, chosen, paper=paper, moment=moment, perform=perform)
        case SheetSort.WORK:
            return _work(
                services, chosen, paper=paper, moment=moment, perform=perform, minutes=minutes
            )
        case SheetSort.FAULTS:
            return _faults(
                services, chosen, paper=paper, moment=moment, perform=perform, shown=shown
            )
        case _:
            raise ValueError(f"{sort} has no page")


def _faults(
    services: Services,
    fleet: Sequence[SheetMachine],
    *,
    paper: Paper,
    moment: Moment,
    perform: Perform | None,
    shown: FaultRoomState | None,
) -> Page | None:
    """A sheet for each machine whose search runs."""
    from app.causes.paper import fault_papers  # the models are not needed for any other page

    papers = fault_papers(services, [each.judging for each in fleet], on=moment.today, shown=shown)
    if not papers:
        return None
    numbers: dict[MachineId, str] = {}
    for each in papers:
        if perform is None:
            break
        number = int(each.machine_id)
        lines = tuple(line.line() for line in each.lines)
        act = PrintSheet(sort=SheetSort.FAULTS, paper=paper, machine_ids=(number,), lines=lines)
        numbers[each.machine_id] = str(dict(perform(act).label.values)["name"])
    pdf = fault_pdf(
        [replace(each.sheet, number=numbers.get(each.machine_id, NO_NUMBER)) for each in papers],
        wording=services.wording,
        paper=PaperSize(paper.value),
        household=services.settings.name,
        on=moment.today,
    )
    notice = None if numbers else services.household.notice
    return Page(sort=SheetSort.FAULTS, pdf=pdf, numbers=numbers, notice=notice)


def _storage(
    services: Services,
    fleet: Sequence[SheetMachine],
    *,
    paper: Paper,
    moment: Moment,
    perform: Perform | None,
) -> Page:
    """A sheet for each run that was begun, and for the other machines that go away or come out."""
    from app.season.paper import papers_for, storage_pdf  # no other page needs it

    papers = papers_for(services, [each.judging for each in fleet], on=moment.today)
    numbers: dict[MachineId, str] = {}
    for each in papers if perform is not None else ():
        ids = tuple(int(number) for number in each.machine_ids)
        lines = tuple(line.line() for line in each.lines)
        act = PrintSheet(sort=SheetSort.STORAGE, paper=paper, machine_ids=ids, lines=lines)
        if perform is not None:
            numbers[each.machine_ids[0]] = str(dict(perform(act).label.values)["name"])
    shown = [numbers.get(each.machine_ids[0], NO_NUMBER) for each in papers]
    pdf = storage_pdf(services, papers, shown, paper=paper)
    notice = None if numbers else services.household.notice
    return Page(sort=SheetSort.STORAGE, pdf=pdf, numbers=numbers, notice=notice)


def _work(
    services: Services,
    fleet: Sequence[SheetMachine],
    *,
    paper: Paper,
    moment: Moment,
    perform: Perform | None,
    minutes: int,
) -> Page | None:
    with services.household.read() as session:
        on_shelf = read_shelf(session)
    found = what_to_do(
        [(each.judging, each.season) for each in fleet],
        minutes=minutes,
        policy=services.settings.policy,
        precedence=services.catalogue.precedence,
        on_shelf=on_shelf,
    )
    if not found:
        return None
    return work_page(services, fleet, found, paper=paper, moment=moment, perform=perform)


def work_page(
    services: Services,
    fleet: Sequence[SheetMachine],
    chosen: Sequence[Visit],
    *,
    paper: Paper,
    moment: Moment,
    perform: Perform | None,
) -> Page:
    """The work sheet of visits that were chosen. Raises Trouble from the file."""
    machines = {each.machine_id: each for each in fleet}
    numbers: dict[MachineId, str] = {}
    number = NO_NUMBER
    if perform is not None:
        lines = _lines_of(work_steps(chosen, machines, wording=services.wording))
        ids = tuple(int(visit.machine_id) for visit in chosen)
        act = PrintSheet(sort=SheetSort.WORK, paper=paper, machine_ids=ids, lines=lines)
        number = str(dict(perform(act).label.values)["name"])
        numbers = {chosen[0].machine_id: number}
    pdf = work_pdf(
        fleet,
        chosen,
        number=number,
        wording=services.wording,
        paper=PaperSize(paper.value),
        household=services.settings.name,
        on=moment.today,
    )
    notice = None if numbers else services.household.notice
    return Page(sort=SheetSort.WORK, pdf=pdf, numbers=numbers, notice=notice)


def _shopping(
    services: Services, fleet: Sequence[SheetMachine], *, paper: PaperSize, on: date
) -> Page | None:
    bought = _bought(services, fleet)
    if not bought:
        return None
    pdf = shopping_pdf(
        bought,
        {each.machine_id: each.judging.facts.name for each in fleet},
        wording=services.wording,
        paper=paper,
        household=services.settings.name,
        on=on,
    )
    return Page(sort=SheetSort.SHOPPING, pdf=pdf)


def _bought(services: Services, fleet: Sequence[SheetMachine]) -> tuple[Purchase, ...]:
    from app.season.parts import parts_of_runs  # no other page needs it

    with services.household.read() as session:
        on_shelf, runs = read_shelf(session), read_runs(session)
    return purchases(
        [(each.judging, each.season) for each in fleet],
        policy=services.settings.policy,
        on_shelf=on_shelf,
        begun=parts_of_runs(runs, services.catalogue),
    )


def sheet_machines(
    services: Services,
    *,
    on: date,
    only: frozenset[MachineId] | None = None,
    noted: frozenset[MachineId] | None = None,
) -> list[SheetMachine]:
    """Machines as paper wants them, all or those of `only`; what was noted of them is read for
    those of `noted`, or for all."""
    judged = services.fleet(on=on, only=only)
    with services.household.read() as session:
        details = read_details(session)
        last = {
            judging.facts.machine_id: next(
                (
                    entry.note
                    for entry in read_records(session, machine_id=judging.facts.machine_id, on=on)
                    if entry.area is Area.WORK and entry.note and not entry.superseded
                ),
                "",
            )
            for judging in judged
            if noted is None or judging.facts.machine_id in noted
        }
    precedence = services.catalogue.precedence
    return [
        SheetMachine(
            judging=judging,
            season=pre_season(judging, precedence=precedence),
            notes=_notes(
                details.get(judging.facts.machine_id, {}),
                last.get(judging.facts.machine_id, ""),
            ),
        )
        for judging in judged
    ]


def _notes(details: Mapping[str, str], last_time: str) -> MachineNotes:
    known = {code: text for code, text in details.items() if code in _NOTES}
    return MachineNotes(**{"last_time": last_time, **known})


def write_whole(path: Path, data: bytes) -> None:
    """Write a file so that it is there whole or not at all. Raises Trouble."""
    try:
        write_file(path, data)
    except OSError as error:
        raise trouble_of_writing(error, path) from error


def _preseason(
    services: Services,
    fleet: Sequence[SheetMachine],
    chosen: Sequence[SheetMachine],
    *,
    paper: Paper,
    moment: Moment,
    perform: Perform | None,
) -> Page:
    bought = _bought(services, fleet)
    numbers: dict[MachineId, str] = {}
    if perform is not None:
        for each in chosen:
            changes = perform(_printed(services, each, paper, moment))
            numbers[each.machine_id] = str(dict(changes.label.values)["name"])
    pdf = preseason_pdf(
        chosen,
        numbers=numbers or {each.machine_id: NO_NUMBER for each in chosen},
        bought=bought,
        wording=services.wording,
        paper=PaperSize(paper.value),
        household=services.settings.name,
        on=moment.today,
    )
    notice = None if numbers else services.household.notice
    return Page(sort=SheetSort.PRESEASON, pdf=pdf, numbers=numbers, notice=notice)


def _printed(services: Services, machine: SheetMachine, paper: Paper, moment: Moment) -> PrintSheet:
    steps = steps_of(machine, wording=services.wording, on=moment.today)
    return PrintSheet(
        sort=SheetSort.PRESEASON,
        paper=paper,
        machine_ids=(int(machine.machine_id),),
        lines=_lines_of([(machine.machine_id, step) for step in steps]),
    )


def _lines_of(steps: Sequence[tuple[MachineId, PaperStep]]) -> tuple[SheetLine, ...]:
    return tuple(
        SheetLine(
            machine_id=int(number),
            tasks=() if step.task is None else (str(step.task),),
            job_id=None if step.job_id is None else int(step.job_id),
            text=step.text,
        )
        for number, step in steps
    )
