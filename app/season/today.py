"""To have one machine start today and no more: what makes it safe, what it needs, what can wait.

It is the list for a day out of its rest, whether it sleeps or not, with what keeps hands safe and
fuel and charge right put in where it belongs. No Qt.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date

from app.fleet.names import plain_name
from app.season.laying import Row, Wanted
from app.season.paper import READ_THE_TAG, row_of, said_of
from app.services import Services
from app.sheets import preseason
from app.sheets.pieces import Fact
from app.sheets.preseason import PreSeasonSheet, Stage
from app.sheets.storage_rows import storage_of
from app.sheets.surface import Paper as PaperSize
from app.wording.languages import msg
from app.wording.sittings import SittingWords
from models.words import Paper
from schedules.facts import Band, ItemSort, MachineId, TaskCode, TaskSort, VesselSort
from schedules.plan import Judging, pre_season
from schedules.sitting_facts import Ask, RunSort, Step, StepCode
from schedules.sitting_facts import Stage as Work
from schedules.states import MachineState, TaskState

TITLE = msg("Get it going today")
TAG_OFF = StepCode("G-40")
_OPEN = frozenset({TaskState.NOT_KNOWN, TaskState.OVERDUE, TaskState.DUE})
_CHARGE = frozenset({ItemSort.STARTER_BATTERY, ItemSort.PACK})
_SPOILT = frozenset({Band.DRAIN, Band.NOT_FOR_THIS, Band.LOOK_FIRST})
_STARTING = frozenset({Work.RUN, Work.RUN_OUT})
BEFORE, START, AFTER = (
    msg("Before it starts"),
    msg("Start it"),
    msg("Before it works: what fails here keeps it from work today"),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Today:
    """The list of one machine. `asleep`: it is put away, and the list can be ticked off step by
    step when it is got out."""

    machine_id: MachineId
    sheet: PreSeasonSheet
    lead: tuple[str, ...]
    asleep: bool


def today_of(services: Services, number: MachineId, *, on: date) -> Today | None:
    """The list of a machine; None when it is not there. Raises Trouble from the file."""
    fleet = services.fleet(on=on, only=frozenset({number}))
    if not fleet:
        return None
    judging, said = fleet[0], said_of(services)
    row = row_of(services, fleet, on=on)
    asks = row.asks(RunSort.GETTING_OUT, [Wanted(machine_id=number)], with_list=False)
    ask = replace(asks[0], tasks=asks[0].tasks | _needed(judging))
    steps = _steps(row, ask, asleep=judging.almanac.laid_up)
    words, left = said.words, _later(judging, steps, row)
    hands = words.minutes(sum(step.minutes for step in steps))
    lead = (
        words.text(msg("{time} until it works, waits not counted."), time=hands),
        *_warned(judging, said),
    )
    sheet = storage_of(
        RunSort.GETTING_OUT,
        steps,
        {number: plain_name(judging.facts.name)},
        only=judging.facts.kind,
        facts=_facts(judging, said),
        number="",
        said=said,
        household=services.settings.name,
        on=on,
    )
    title = words.text(TITLE)
    sheet = replace(
        sheet,
        start=" ".join((f"{title}:", *lead)),
        about=title,
        stages=_in_three(sheet.stages, steps, said),
        later=tuple(
            f"{words.task(code)} {words.minutes(minutes)}" for code, minutes in left.items()
        ),
    )
    return Today(machine_id=number, sheet=sheet, lead=lead, asleep=judging.almanac.laid_up)


def today_pdf(services: Services, found: Today, *, paper: Paper) -> bytes:
    """The list on paper."""
    words = services.wording
    size = PaperSize(paper.value)
    return preseason.draw([found.sheet], paper=size, language=words.language, words=words.text)


def _needed(judging: Judging) -> frozenset[TaskCode]:
    """What is open and cannot wait: looks that guard a condition that stops use, and charge."""
    charge = {code for item in judging.items if item.facts.sort in _CHARGE for code in item.tasks}
    return frozenset(
        verdict.code
        for verdict in judging.verdict.tasks
        if verdict.state in _OPEN
        and judging.task(verdict.code).sort is not TaskSort.PREDETERMINED
        and (judging.task(verdict.code).safety or verdict.code in charge)
    )


def _steps(row: Row, ask: Ask, *, asleep: bool) -> tuple[Step, ...]:
    laid = row.laid(RunSort.GETTING_OUT, (ask,))
    if asleep or ask.left:
        return laid
    return tuple(step for step in laid if step.code not in (READ_THE_TAG, TAG_OFF))


def _later(judging: Judging, steps: Sequence[Step], row: Row) -> dict[TaskCode, int]:
    """What is asked for before its season or overdue, and keeps until another day; minutes."""
    here = {str(step.code) for step in steps} | {str(c) for step in steps for c in step.records}
    season = pre_season(judging, precedence=row.catalogue.precedence)
    asked = [*season.tasks, *(carried.verdict for carried in season.carried)]
    asked += [verdict for verdict in judging.verdict.tasks if verdict.state in _OPEN]
    return {verdict.code: verdict.minutes for verdict in asked if str(verdict.code) not in here}


def _warned(judging: Judging, said: SittingWords) -> tuple[str, ...]:
    """What no list of this sort puts right."""
    if judging.verdict.state is not MachineState.DOWN:
        return ()
    return (
        said.words.text(
            msg("It is out of order, and this list does not mend that: find the cause first.")
        ),
    )


def _facts(judging: Judging, said: SittingWords) -> tuple[Fact, ...]:
    words = said.words
    found = [
        Fact(label=words.text(msg("Known to be wrong")), value=fault.text)
        for fault in judging.facts.faults
    ]
    for vessel in judging.verdict.fuel:
        if vessel.sort is not VesselSort.TANK:
            continue
        if not vessel.lots:
            value = words.text(msg("nothing known in it: look before you pull"))
        elif vessel.band in _SPOILT:
            value = words.text(
                msg("{band}: out with it and fresh in, before the first pull"),
                band=words.band(vessel.band),
            )
        else:
            value = words.band(vessel.band)
        found.append(Fact(label=words.text(msg("Fuel in the tank")), value=value))
    return tuple(found)


def _in_three(
    stages: Sequence[Stage], steps: Sequence[Step], said: SittingWords
) -> tuple[Stage, ...]:
    """Before the start, the start, and what is tried before it may work."""
    told = [step for stage in stages for step in stage.steps]
    begins = next((n for n, step in enumerate(steps) if step.stage in _STARTING), len(steps))
    ends = next(
        (n for n, step in enumerate(steps) if n > begins and step.stage not in _STARTING),
        len(steps),
    )
    parts = ((BEFORE, told[:begins]), (START, told[begins:ends]), (AFTER, told[ends:]))
    return tuple(
        Stage(title=said.words.text(title), steps=tuple(part)) for title, part in parts if part
    )
