"""Printing a page of a household: judged as it is, numbered so that it can come back."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, fields
from datetime import date
from pathlib import Path

from app.services import Services
from app.sheets.build import MachineNotes, SheetMachine, buyer_pdf, card_pdf, preseason_pdf
from app.sheets.preseason_rows import steps_of
from app.sheets.surface import Paper as PaperSize
from models.acts.sheets import PrintSheet, SheetLine
from models.changes import Area, Changes
from models.disk import trouble_of_writing
from models.disk import write_whole as write_file
from models.errors import Trouble
from models.facts.papers import read_details, read_shelf
from models.facts.records import read_records
from models.moment import Moment
from models.words import Paper, SheetSort
from schedules.facts import MachineId
from schedules.plan import pre_season
from schedules.stores import purchases

Perform = Callable[[PrintSheet], Changes]

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
) -> Page | None:
    """Print a page for these machines, or for all; None when there is none of them.

    `perform` carries out the act that gives a sheet its number; None: the file may only be read.
    Raises ValueError for a sort that has no page, Trouble from the file.
    """
    fleet = sheet_machines(services, on=moment.today)
    chosen = [each for each in fleet if only is None or each.machine_id in only]
    if not chosen:
        return None
    size, on, wording = PaperSize(paper.value), moment.today, services.wording
    household = services.settings.name
    match sort:
        case SheetSort.CARD:
            return Page(sort=sort, pdf=card_pdf(chosen, wording=wording, paper=size, on=on))
        case SheetSort.BUYER:
            pdf = buyer_pdf(chosen, wording=wording, paper=size, household=household, on=on)
            return Page(sort=sort, pdf=pdf)
        case SheetSort.PRESEASON:
            return _preseason(services, fleet, chosen, paper=paper, moment=moment, perform=perform)
        case _:
            raise ValueError(f"{sort} has no page")


def sheet_machines(services: Services, *, on: date) -> list[SheetMachine]:
    """Every machine of the household as paper wants it."""
    judged = services.fleet(on=on)
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
        }
    precedence = services.catalogue.precedence
    return [
        SheetMachine(
            judging=judging,
            season=pre_season(judging, precedence=precedence),
            notes=_notes(details.get(judging.facts.machine_id, {}), last[judging.facts.machine_id]),
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
    with services.household.read() as session:
        on_shelf = read_shelf(session)
    bought = purchases(
        [(each.judging, each.season) for each in fleet],
        policy=services.settings.policy,
        on_shelf=on_shelf,
    )
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
        lines=tuple(
            SheetLine(
                machine_id=int(machine.machine_id),
                tasks=() if step.task is None else (str(step.task),),
                job_id=None if step.job_id is None else int(step.job_id),
                text=step.text,
            )
            for step in steps
        ),
    )
