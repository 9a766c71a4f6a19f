"""Walks on paper alone:  python -m tests.fault_papers OUT

A search is begun, its fault sheet printed, the sheet's own words followed from number to number
as the hidden cause shows itself, and what was ticked is entered back by the sheet's number; then
the next sheet, until it works. Every sheet is kept as PDF and picture.
"""

from __future__ import annotations

import argparse
import re
import sys
from pathlib import Path

import pypdfium2

from app.causes.picture import FAILED, HELPED
from app.printing import performer, print_sheet
from app.services import Services, open_services
from models.acts.fault_sheets import EnterFaultSheet, PrintedStep, steps_of
from models.acts.searches import BeginSearch
from models.errors import Refused
from models.words import Paper, SheetSort
from resources.fault_models import load_fault_models
from sample_db.chronicle import moment_of
from schedules.fault_facts import Cause, CauseId, FaultModel, ReadingId, SymptomId
from tests.fault_walks import household_of, said_of
from tests.gallery import ON, keep

WALKS = (("S1F", "F4"), ("S4b", "Q1"), ("S9", "A1"))
MOST_SHEETS = 6
DOTS = 2
MOMENT = moment_of(ON)
BEGIN = "leads to its text."
YES, NO = "Yes, now it works", "No, as before"


def printed(services: Services, out: Path, name: str) -> tuple[int, str]:
    """The sheet's number and what can be read on it."""
    page = print_sheet(
        services,
        SheetSort.FAULTS,
        paper=Paper.A4,
        only=None,
        moment=MOMENT,
        perform=performer(services, MOMENT),
    )
    assert page is not None
    (out / f"{name}.pdf").write_bytes(page.pdf)
    document = pypdfium2.PdfDocument(page.pdf)
    text = " ".join(one.get_textpage().get_text_range() for one in document)
    for number, one in enumerate(document, start=1):
        keep(one.render(scale=DOTS).to_pil(), out / f"{name}-{number}.png")
    document.close()
    return int(next(iter(page.numbers.values()))), re.sub(r"\s+", " ", text)


def block(text: str, step: PrintedStep, steps: tuple[PrintedStep, ...]) -> str:
    """What stands at a number, up to the next one."""
    titles = [text.index(f"{one.title} ", text.index(BEGIN)) for one in steps]
    begins = titles[steps.index(step)]
    return text[begins : min((one for one in titles if one > begins), default=len(text))]


def ticked(model: FaultModel, hidden: Cause, step: PrintedStep) -> tuple[str, str]:
    """What is ticked at a step: its words on paper and its code."""
    if step.place is not None:
        helps = step.subject == hidden.cause_id
        return (YES, HELPED) if helps else (NO, FAILED)
    test = model.reading(ReadingId(step.subject))
    row = test.rows[hidden.cause_id]
    best = test.outcomes[max(range(len(row)), key=row.__getitem__)]
    return said_of(best.text), str(best.outcome_id)


def walk(symptom: str, cause: str, out: Path) -> bool:
    """Sheet after sheet; True when the hidden cause was put right by paper alone."""
    model = load_fault_models().models[SymptomId(symptom)]
    hidden = model.cause(CauseId(cause))
    with (
        household_of(model.kinds[-1]) as path,
        open_services(path, moment=MOMENT, write=True) as services,
    ):
        writer = services.household.need_writer()
        writer.run(BeginSearch(machine_id=1, symptom=symptom, on=ON), moment=MOMENT)
        for sheet in range(1, MOST_SHEETS + 1):
            number, text = printed(services, out, f"paper-{symptom}-{cause}-{sheet}")
            with services.household.read() as session:
                _, steps = steps_of(session, number)
            seen, at = list[tuple[int, str]](), "1"
            while at.isdigit():
                place = next(n for n, one in enumerate(steps) if one.number == at)
                words, code = ticked(model, hidden, steps[place])
                onward = re.search(
                    re.escape(words) + r" ?→ (\d+|it works|enter)", block(text, steps[place], steps)
                )
                assert onward is not None, (words, block(text, steps[place], steps))
                seen.append((place, code))
                at = onward.group(1)
                print(
                    f"  sheet {number}  {steps[place].number}  {steps[place].title}: {words} → {at}"
                )
            try:
                act = EnterFaultSheet(number=number, day=ON, seen=tuple(seen))
                writer.run(act, moment=MOMENT)
            except Refused as refused:
                print(f"  NOT: {refused}")
                return False
            if at == "it works":
                return steps[seen[-1][0]].subject == cause or seen[-1][1] != HELPED
    return False


def main() -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.fault_papers", description=__doc__)
    parser.add_argument("out", type=Path)
    out: Path = parser.parse_args().out
    out.mkdir(parents=True, exist_ok=True)
    held = True
    for symptom, cause in WALKS:
        print(f"{symptom}, hidden: {cause}", flush=True)
        held &= walk(symptom, cause, out)
    print("all put right on paper" if held else "NOT all put right")
    return 0 if held else 1


if __name__ == "__main__":
    sys.exit(main())
