"""Printing the rescue page: read from the file, judged, worded, drawn."""

from __future__ import annotations

from pathlib import Path

from app.entry.short_way import going_over
from app.paper_photos import photos_of
from app.printing import sheet_machines, write_whole
from app.services import Services
from app.sheets.rescue import draw
from app.sheets.rescue_rows import Story, rescue_of
from app.sheets.said import SheetMachine
from app.sheets.surface import Paper as PaperSize
from app.trials.said import grounds_said, verdict_said
from app.wording.languages import msg
from models.facts.records import read_records
from models.facts.rescue import read_rescue
from models.facts.trials import read_trials
from models.moment import Moment
from models.words import Paper
from resources.protocols import load_protocols
from schedules.facts import MachineId


def print_rescue(
    services: Services, *, paper: Paper, only: frozenset[MachineId] | None, moment: Moment
) -> bytes | None:
    """The rescue pages of these machines, or of all; None when there is none of them."""
    on, words = moment.today, services.wording
    chosen = [
        each for each in sheet_machines(services, on=on) if only is None or each.machine_id in only
    ]
    if not chosen:
        return None
    sheets = [
        rescue_of(
            each,
            _story(services, each, moment),
            wording=words,
            household=services.settings.name,
            on=on,
        )
        for each in chosen
    ]
    return draw(sheets, paper=PaperSize(paper.value), language=words.language, words=words.text)


def write_rescue(services: Services, number: int, path: Path, *, moment: Moment) -> None:
    """Write the page of one machine to a file. Raises Trouble."""
    pdf = print_rescue(
        services,
        paper=services.settings.paper,
        only=frozenset({MachineId(number)}),
        moment=moment,
    )
    if pdf is not None:
        write_whole(path, pdf)


def _story(services: Services, machine: SheetMachine, moment: Moment) -> Story:
    number = machine.machine_id
    on, words, protocols = moment.today, services.wording, load_protocols()
    system = services.settings.unit_system
    with services.household.read() as session:
        record = read_rescue(session, machine_id=int(number), on=on)
        entries = read_records(session, machine_id=int(number), on=on)
        trials = read_trials(session, machine_id=int(number), protocols=protocols, on=on)
    compared = tuple(
        words.text(
            msg("{what} ({work}): {verdict} {grounds}"),
            what=words.text(one.protocol.name),
            work=one.work or words.day(one.begun_on),
            verdict=verdict_said(one, words),
            grounds=" ".join(grounds_said(one, protocols, system, words)[:3]),
        )
        for one in trials
        if one.values
    )
    return Story(
        record=record,
        entries=entries,
        compared=compared,
        currency=services.settings.currency,
        first=going_over(machine.judging, words),
        photos=photos_of(services, [number], on=on)[number],
    )
