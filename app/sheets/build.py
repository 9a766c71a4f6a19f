"""Paper from what the engine says: rows are made in the modules beside, drawn by the sheets.

Each function takes machines as judged (`SheetMachine`), one `Wording` (language, units, catalogue),
the paper and the day it is printed on, and returns the bytes of one PDF. Nothing here reads the
clock or the household's file. Law: the same arguments give the same bytes.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date

from app.sheets import buyer, card, preseason
from app.sheets.buyer_rows import page_of
from app.sheets.card import CardForm
from app.sheets.card_rows import card_of
from app.sheets.fault_rows import FaultSheet, fault_sheet
from app.sheets.photos import PaperPhoto
from app.sheets.pieces import Fact
from app.sheets.preseason import PreSeasonSheet
from app.sheets.preseason_rows import Detail, sheet_of
from app.sheets.said import MachineNotes, SheetMachine
from app.sheets.surface import Paper
from app.sheets.work_rows import shopping_of, work_of
from app.wording.wording import Wording
from schedules.choice import Visit
from schedules.facts import MachineId, Purchase

__all__ = [
    "CardForm",
    "Detail",
    "MachineNotes",
    "Paper",
    "SheetMachine",
    "buyer_pdf",
    "card_pdf",
    "preseason_pdf",
    "shopping_pdf",
    "work_pdf",
]

# Pages of one leaf: what more there is gets lost in the garage.
A_LEAF = 2


def preseason_pdf(
    fleet: Sequence[SheetMachine],
    *,
    numbers: Mapping[MachineId, str],
    bought: Sequence[Purchase],
    wording: Wording,
    paper: Paper,
    household: str,
    on: date,
    detail: Detail = Detail.WORK,
) -> bytes:
    """One pre-season sheet a machine. `numbers`: its four digits; `bought`: the whole household's
    purchases. One that takes more than a leaf says more shortly how it is done.

    Raises KeyError for a machine without a number.
    """

    def made(machine: SheetMachine, level: Detail) -> PreSeasonSheet:
        return sheet_of(
            machine,
            number=numbers[machine.machine_id],
            bought=bought,
            wording=wording,
            household=household,
            on=on,
            detail=level,
        )

    def fitting(machine: SheetMachine) -> PreSeasonSheet:
        sheet = made(machine, detail)
        if preseason.pages_of(sheet, paper=paper, words=wording.text) <= A_LEAF:
            return sheet
        return made(machine, Detail.BRIEF)

    sheets = [fitting(machine) for machine in fleet]
    return preseason.draw(sheets, paper=paper, language=wording.language, words=wording.text)


def work_pdf(
    fleet: Sequence[SheetMachine],
    visits: Sequence[Visit],
    *,
    number: str,
    wording: Wording,
    paper: Paper,
    household: str,
    on: date,
) -> bytes:
    """One sheet for all that was chosen for the time there is, in working order. Raises KeyError
    for a visit to a machine that is not given."""
    sheet = work_of(
        visits,
        {machine.machine_id: machine for machine in fleet},
        number=number,
        wording=wording,
        household=household,
        on=on,
    )
    return preseason.draw([sheet], paper=paper, language=wording.language, words=wording.text)


def fault_pdf(
    sheets: Sequence[FaultSheet],
    *,
    wording: Wording,
    paper: Paper,
    household: str,
    on: date,
) -> bytes:
    """A sheet for each search: the next branches, each step with its cautions before it."""
    drawn = [fault_sheet(each, wording=wording, household=household, on=on) for each in sheets]
    return preseason.draw(drawn, paper=paper, language=wording.language, words=wording.text)


def shopping_pdf(
    bought: Sequence[Purchase],
    names: Mapping[MachineId, str],
    *,
    wording: Wording,
    paper: Paper,
    household: str,
    on: date,
) -> bytes:
    """What to buy for the whole shed, by the day it has to be ordered."""
    sheet = shopping_of(bought, names, wording=wording, household=household, on=on)
    return preseason.draw([sheet], paper=paper, language=wording.language, words=wording.text)


def card_pdf(
    fleet: Sequence[SheetMachine],
    *,
    wording: Wording,
    paper: Paper,
    on: date,
    form: CardForm = CardForm.FOLDED,
) -> bytes:
    """One card a machine: folded, both sides on one turned page; full, a page a side."""
    cards = [card_of(machine, wording=wording, on=on) for machine in fleet]
    return card.draw(cards, paper=paper, language=wording.language, words=wording.text, form=form)


def buyer_pdf(
    fleet: Sequence[SheetMachine],
    *,
    wording: Wording,
    paper: Paper,
    household: str,
    on: date,
    spent: Mapping[MachineId, Sequence[tuple[str, str]]] | None = None,
    photos: Mapping[MachineId, tuple[PaperPhoto, ...]] | None = None,
) -> bytes:
    """One page a machine for its buyer. `spent`: label and sum, worded, for the machines whose
    costs the owner wants told; `photos`: those that were chosen for paper."""
    pages = [
        page_of(
            machine,
            spent=tuple(
                Fact(label=label, value=value)
                for label, value in (spent or {}).get(machine.machine_id, ())
            ),
            wording=wording,
            household=household,
            on=on,
            photos=(photos or {}).get(machine.machine_id, ()),
        )
        for machine in fleet
    ]
    return buyer.draw(pages, paper=paper, language=wording.language, words=wording.text)
