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
from schedules.sitting_facts import Stage as Work

# The states that several machines go through together, and the work that belongs to each.
STATES: Mapping[str, tuple[Work, ...]] = {
    msg("First"): (Work.FIRST, Work.GATE),
    msg("Lead or pack off, tank low"): (Work.UNDER,),
    msg("Cold, before anything is started"): (Work.COLD,),
    msg("Outdoors, nobody in front"): (Work.JOIN, Work.RUN, Work.RUN_OUT, Work.TRIAL),
    msg("While it is warm; the rest cools down"): (Work.WARM, Work.DRY),
    msg("Cool; nothing turns but by hand"): (Work.COOL, Work.PUMP, Work.PLUG),
    msg("To its place"): (Work.POWER, Work.PLACE, Work.LAST),
}


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
    """One stage for the one machine. For several, one for each state they are all in, the machine
    before the step; what was told for one of them is not told again for the next."""
    stages = {step.code: step.stage for step in said.rules.steps}
    found: list[tuple[str, list[Step]]] = []
    told: dict[StepCode, int] = {}
    for number, (step, says) in enumerate(known, start=1):
        state = "" if alone else _state(stages.get(step.code))
        if not found or (state and found[-1][0] != state):
            found.append((state, []))
        who = () if alone else step.machine_ids
        first = told.setdefault(step.code, number)
        found[-1][1].append(_step(step, says, said, _named(who, names, said), first, number))
    text = said.words.text
    return tuple(
        Stage(title=text(state) if state else "", steps=tuple(steps)) for state, steps in found
    )


def _state(stage: Work | None) -> str:
    """What state the machines are in; "" for a task, which stays where it is."""
    return next((state for state, stages in STATES.items() if stage in stages), "")


def _named(who: Sequence[MachineId], names: Mapping[MachineId, str], said: SittingWords) -> str:
    if len(who) > 1 and len(who) == len(names):
        return said.words.text(msg("All"))
    return said.words.listed([names[number] for number in who])


def _step(
    step: LaidStep, says: SaidStep, said: SittingWords, who: str, first: int, number: int
) -> Step:
    """`first`: the number of the first step of that code; how it is done stands there."""
    text = said.words.text
    how: list[str] = []
    if first < number:
        how.append(text(msg("As at step {n}."), n=first))
    else:
        how += [says.how] if says.how else []
        if says.done_when:
            how.append(text(msg("Done when {condition}."), condition=says.done_when))
    if step.wait_minutes and says.waits_for:
        wait = said.words.minutes(step.wait_minutes)
        how.append(text(msg("Then wait {time}: {what}."), time=wait, what=says.waits_for))
    name = text(msg("{machine}: {question}"), machine=who, question=says.name) if who else says.name
    return Step(
        what=name,
        how=" ".join(how),
        stop=text(msg("Stop use if {condition}."), condition=says.stop) if says.stop else "",
        minutes=said.words.minutes(step.minutes) if step.minutes else "",
        cautions=tuple(_caution(one) for one in says.cautions),
    )


def _caution(said: CautionText) -> Caution:
    return Caution(signal=said.severity, word=said.signal, text=said.text)
