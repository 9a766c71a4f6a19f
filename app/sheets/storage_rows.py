"""Rows of the storage sheet: steps of one machine or of the row, in the order that works."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from typing import Protocol

from app.sheets.pieces import Caution, Fact
from app.sheets.preseason import PreSeasonSheet, Stage
from app.sheets.said import rule_of
from app.sheets.steps import Step
from app.wording.languages import msg
from app.wording.lines import CautionText
from app.wording.sittings import SaidStep, SittingWords
from schedules.facts import KindFacts, MachineId
from schedules.sitting_facts import RunSort, StepCode


class LaidStep(Protocol):
    """A step as it was laid down, by the engine or in a run of the file."""

    @property
    def code(self) -> StepCode: ...
    @property
    def machine_ids(self) -> tuple[MachineId, ...]: ...
    @property
    def minutes(self) -> int: ...
    @property
    def wait_minutes(self) -> int: ...


def storage_of(
    sort: RunSort,
    steps: Sequence[LaidStep],
    names: Mapping[MachineId, str],
    *,
    only: KindFacts | None,
    facts: Sequence[Fact],
    number: str,
    said: SittingWords,
    household: str,
    on: date,
) -> PreSeasonSheet:
    """One sheet for all steps. `only`: the type of the machine when there is but one. Raises
    KeyError for a machine without a name."""
    words = said.words
    known = [(step, found) for step in steps if (found := said.step(step.code)) is not None]
    tools = dict.fromkeys(tool for _step, found in known for tool in found.tools)
    parts = dict.fromkeys(part for _step, found in known for part in found.parts)
    hands = sum(step.minutes for step in steps)
    everyone = words.listed(list(dict.fromkeys(names.values())))
    return PreSeasonSheet(
        number=number,
        machine=everyone
        if only is not None
        else words.count(msg("{n} machine"), msg("{n} machines"), len(names)),
        kind=words.kind(only.code) if only is not None else everyone,
        icon=only.icon if only is not None else "",
        place="",
        start=words.text(
            msg("{what}: {time} of work, waits not counted"),
            what=said.sort(sort),
            time=words.minutes(hands),
        ),
        facts=tuple(facts),
        bring=(*parts, *(tool for tool in tools if f"{tool}s" not in tools)),
        stages=_stages(known, names, said, alone=only is not None),
        household=household,
        printed=words.text(msg("printed {day}"), day=words.day(on)),
        rule=rule_of(words),
        about=said.sort(sort),
    )


def _stages(
    known: Sequence[tuple[LaidStep, SaidStep]],
    names: Mapping[MachineId, str],
    said: SittingWords,
    *,
    alone: bool,
) -> tuple[Stage, ...]:
    """One stage for the one machine; else a new one wherever the hands go to another."""
    found: list[tuple[tuple[MachineId, ...], list[Step]]] = []
    for step, says in known:
        if not found or (not alone and found[-1][0] != step.machine_ids):
            found.append((step.machine_ids, []))
        found[-1][1].append(_step(step, says, said))
    return tuple(
        Stage(
            title="" if alone else said.words.listed([names[number] for number in numbers]),
            steps=tuple(steps),
        )
        for numbers, steps in found
    )


def _step(step: LaidStep, says: SaidStep, said: SittingWords) -> Step:
    text = said.words.text
    how = [says.how] if says.how else []
    if says.done_when:
        how.append(text(msg("Done when {condition}."), condition=says.done_when))
    if step.wait_minutes and says.waits_for:
        wait = said.words.minutes(step.wait_minutes)
        how.append(text(msg("Then wait {time}: {what}."), time=wait, what=says.waits_for))
    return Step(
        what=says.name,
        how=" ".join(how),
        stop=text(msg("Stop use if {condition}."), condition=says.stop) if says.stop else "",
        minutes=said.words.minutes(step.minutes),
        cautions=tuple(_caution(one) for one in says.cautions),
    )


def _caution(said: CautionText) -> Caution:
    return Caution(signal=said.severity, word=said.signal, text=said.text)
