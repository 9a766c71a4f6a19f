"""Rows of the fault sheet: the next branches of a search, each step with its number."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from app.sheets.pieces import Caution, Fact, Tick
from app.sheets.preseason import PreSeasonSheet, Stage
from app.sheets.said import rule_of
from app.sheets.steps import Finding, Step
from app.wording.languages import msg
from app.wording.lines import CautionText
from app.wording.wording import Wording


@dataclass(frozen=True, slots=True, kw_only=True)
class FaultStep:
    """One numbered step, already worded. `outcomes`: what is seen and where one goes on: a number,
    "done", or "" for back to the screen."""

    number: str
    title: str
    minutes: str
    before: tuple[str, ...]
    cautions: tuple[CautionText, ...]
    bring: tuple[str, ...]
    steps: tuple[str, ...]
    outcomes: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class FaultSheet:
    """A search on paper. `likely`: the causes with their odds; `stop`: the line that was drawn.
    `loose`: what came off, first one first; `back`: what goes wrong when it is put back."""

    number: str
    machine: str
    kind: str
    place: str
    complaint: str
    likely: tuple[tuple[str, str], ...]
    known: tuple[str, ...]
    steps: tuple[FaultStep, ...]
    stop: str
    loose: tuple[str, ...]
    back: tuple[str, ...] = ()


def fault_sheet(sheet: FaultSheet, *, wording: Wording, household: str, on: date) -> PreSeasonSheet:
    """The rows as they are drawn: cautions before the steps, where to go on behind each answer."""
    text = wording.text
    stages = (
        Stage(
            title=text(msg("Begin at 1. Tick what you see, and go on at the number behind it.")),
            steps=tuple(_step(one, wording) for one in sheet.steps),
        ),
        _last(sheet, wording),
    )
    return PreSeasonSheet(
        number=sheet.number,
        machine=sheet.machine,
        kind=f"{sheet.kind}: “{sheet.complaint}”",
        icon="",
        place=sheet.place,
        start=text(
            msg("Likely: {causes}"),
            causes=" · ".join(f"{name} ({odds})" for name, odds in sheet.likely),
        ),
        facts=_facts(sheet, wording),
        bring=tuple(dict.fromkeys(tool for one in sheet.steps for tool in one.bring)),
        stages=stages,
        household=household,
        printed=text(msg("printed {day}"), day=wording.day(on)),
        rule=rule_of(wording),
        about=text(msg("fault sheet")),
    )


def _facts(sheet: FaultSheet, wording: Wording) -> tuple[Fact, ...]:
    text = wording.text
    unsure = Fact(
        label=text(msg("Not sure, or it cannot be done:")),
        value=text(msg("leave its boxes empty, note why, go in and enter the sheet.")),
    )
    if not sheet.known:
        return (unsure,)
    return (Fact(label=text(msg("From the file:")), value="; ".join(sheet.known)), unsure)


def _step(one: FaultStep, wording: Wording) -> Step:
    return Step(
        what=one.title,
        how=" ".join((*one.before, *one.steps)),
        findings=tuple(
            Finding(limit=f"{said} {_onward(goes, wording)}", answers=(Tick(word=""),))
            for said, goes in one.outcomes
        ),
        minutes=one.minutes,
        cautions=tuple(
            Caution(signal=each.severity, word=each.signal, text=each.text) for each in one.cautions
        ),
        look=True,
        asks=True,
    )


def _onward(goes: str, wording: Wording) -> str:
    if goes == "done":
        return wording.text(msg("→ it works: done"))
    if goes:
        return f"→ {goes}"
    return wording.text(msg("→ enter the sheet"))


def _last(sheet: FaultSheet, wording: Wording) -> Stage:
    """What was left off, and where to stop."""
    text = wording.text
    loose = sheet.loose or tuple("_" * 34 for _ in range(4))
    return Stage(
        title=text(msg("Left off, in order; goes back from the bottom up")),
        steps=(
            *(Step(what=one, look=True) for one in loose),
            Step(
                what=text(msg("Everything back on and closed up; then try the machine")),
                how=" ".join(sheet.back),
                stop=sheet.stop,
                look=True,
            ),
        ),
    )
