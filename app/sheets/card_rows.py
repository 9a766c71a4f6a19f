"""Rows of the machine's card: steps by kind and feature, blanks for what nobody has told."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from app.sheets import starting
from app.sheets.card import Card, Log, Question
from app.sheets.lettering import Run, Text, starred, strong
from app.sheets.pieces import Caution, Fact
from app.sheets.said import Phrases, SheetMachine, limits_of, phrases
from app.sheets.starting import BATTERY, SORTS, TWO_STROKE, Sort
from app.sheets.wear_rows import governing_plots
from app.wording.languages import msg
from app.wording.wording import Wording
from schedules.facts import FeatureCode, LimitCode, LimitFacts, Severity

_GAPS = frozenset({LimitCode("L01"), LimitCode("L02"), LimitCode("L03")})
_TYRES = frozenset({LimitCode("L28"), LimitCode("L29")})
_SILLY = 3


def card_of(machine: SheetMachine, *, wording: Wording, on: date) -> Card:
    """The card of one machine."""
    facts = machine.judging.facts
    said = phrases(machine, wording, on)
    sort = SORTS.get(facts.kind.code, _sort_by_fuel(machine))
    return Card(
        machine=facts.name,
        kind=wording.kind(facts.kind.code),
        icon=facts.kind.icon,
        place=facts.place,
        before=_before(sort, said),
        steps=tuple(starred(said.text(step)) for step in _steps(sort, machine)),
        give_up=starred(
            said.text(starting.GIVE_UP_BATTERY if sort in BATTERY else starting.GIVE_UP)
        ),
        after=_after(sort, said),
        questions=_questions(sort, machine, said),
        branches=tuple(starred(said.text(branch)) for branch in _branches(sort)),
        where=_where(sort, machine, said),
        facts=_facts(sort, machine, said),
        each_time=_each_time(machine, said),
        putting_away=starred(said.text(starting.AWAY.get(sort, starting.AWAY_ELSE))),
        plot=next(iter(governing_plots(machine.judging, wording)), None),
        log=_log(sort, said),
        ring=_ring(sort, machine, said),
        printed=said.printed(),
    )


def _sort_by_fuel(machine: SheetMachine) -> Sort:
    """A kind this program does not know by name is started as its fuel says."""
    kind = machine.judging.facts.kind
    if not kind.has_engine:
        return Sort.BATTERY_HAND
    return Sort.TWO_STROKE_HAND if kind.fuel == "two_stroke" else Sort.TILLER


# -- the front --------------------------------------------------------------------------------


def _before(sort: Sort, said: Phrases) -> tuple[Caution, ...]:
    if sort in BATTERY:
        return ()
    return (_danger(starting.OUTDOORS, said),)


def _danger(msgid: str, said: Phrases) -> Caution:
    return Caution(
        signal=Severity.DANGER, word=said.wording.word(Severity.DANGER), text=said.text(msgid)
    )


def _after(sort: Sort, said: Phrases) -> tuple[Caution, ...]:
    own: tuple[Caution, ...] = ()
    if sort is Sort.SNOW:
        own = (_danger(starting.JAMMED, said),)
    elif sort is Sort.BATTERY_SNOW:
        own = (_danger(starting.JAMMED_BATTERY, said),)
    held = said.wording.catalogue.cautions
    return own + tuple(said.caution(code) for code in starting.AFTER.get(sort, ()) if code in held)


def _steps(sort: Sort, machine: SheetMachine) -> tuple[str, ...]:
    first = starting.FIRST[sort]
    if sort in BATTERY:
        return (first, *starting.BATTERY_STEPS)
    if sort in TWO_STROKE:
        return (first, *_two_stroke(sort, machine))
    return (first, *_four_stroke(sort, machine))


def _two_stroke(sort: Sort, machine: SheetMachine) -> list[str]:
    steps = [starting.MIX, starting.SWITCH]
    steps += _by_feature("primer-bulb", starting.BULB_SMALL, machine)
    steps.append(starting.CHOKE)
    if sort is Sort.SAW:
        steps.append(starting.SAW_HOLD)
    return [*steps, starting.START["cord"], starting.COUGHS_SMALL, starting.LAST[sort]]


def _four_stroke(sort: Sort, machine: SheetMachine) -> list[str]:
    steps = [starting.OIL, starting.FUEL]
    if sort is not Sort.MOWER:
        steps.append(starting.KEY.get(sort, starting.SWITCH))
    steps += _by_feature("fuel-valve", starting.VALVE, machine)
    steps += [starting.THROTTLE, starting.CHOKE]
    steps += _by_feature("primer-bulb", starting.BULB, machine)
    if sort is Sort.MOWER:
        steps.append(starting.BRAKE_BAR)
    starter = machine.features.get(FeatureCode("starter"))
    steps += [starting.START.get(starter, starting.START[None]), starting.COUGHS]
    if sort in starting.LAST:
        steps.append(starting.LAST[sort])
    return steps


def _by_feature(feature: str, texts: Mapping[str | None, str], machine: SheetMachine) -> list[str]:
    """The step for what the machine has; nothing where it has not."""
    code = FeatureCode(feature)
    if code not in machine.judging.facts.kind.features:
        return []
    text = texts.get(machine.features.get(code))
    return [] if text is None else [text]


# -- the back ---------------------------------------------------------------------------------


def _questions(sort: Sort, machine: SheetMachine, said: Phrases) -> tuple[Question, ...]:
    features = machine.features
    checks = [
        check
        for check in starting.CHECKS.get(sort, starting.CHECKS_ELSE)
        if check.feature is None
        or (
            check.feature in machine.judging.facts.kind.features
            and features.get(check.feature) != check.unless
        )
    ]
    return tuple(
        Question(ask=said.text(check.ask), remedy=said.text(check.remedy))
        for check in checks[:_SILLY]
    )


def _branches(sort: Sort) -> tuple[str, ...]:
    if sort in BATTERY:
        return (starting.BATTERY_OUTCOME,)
    no_smell = starting.NO_SMELL_MIX if sort in TWO_STROKE else starting.NO_SMELL
    return (starting.SMELL, no_smell, starting.OUTCOME)


def _where(sort: Sort, machine: SheetMachine, said: Phrases) -> tuple[Fact, ...]:
    notes = machine.notes
    key = Fact(label=said.text(msg("Key hangs")), value=notes.key_hangs)
    starter = machine.features.get(FeatureCode("starter"))
    facts = [] if sort in TWO_STROKE else [key]
    if sort in (Sort.SNOW, Sort.BATTERY_SNOW) and starter in (None, "mains"):
        facts.append(Fact(label=said.text(msg("Mains cord hangs")), value=notes.cord_hangs))
    if sort in (Sort.SNOW, Sort.BATTERY_SNOW):
        facts.append(Fact(label=said.text(msg("Stick sits"))))
    return tuple(facts)


def _facts(sort: Sort, machine: SheetMachine, said: Phrases) -> tuple[Fact, ...]:
    notes = machine.notes
    kind = machine.judging.facts.kind
    used = [code for task in kind.tasks for code in task.rule.limits]
    facts: list[Fact] = []
    if sort not in BATTERY:
        if sort not in TWO_STROKE:
            facts.append(Fact(label=said.text(msg("Oil")), value=notes.oil))
        plug = notes.plug or _bounds([code for code in used if code in _GAPS], said)
        facts.append(Fact(label=said.text(msg("Spark plug")), value=plug))
        facts.append(Fact(label=said.text(msg("Fuel")), value=notes.fuel or _fuel(kind.fuel, said)))
    parts = {part.part for task in kind.tasks for part in task.consumables}
    if any("pin" in part for part in parts) or notes.pins:
        facts.append(Fact(label=said.text(msg("Shear pins")), value=notes.pins))
    if any("belt" in part for part in parts) or notes.belt:
        facts.append(Fact(label=said.text(msg("Belt")), value=notes.belt))
    tyres = [code for code in used if code in _TYRES]
    if tyres or notes.tyres:
        value = notes.tyres or _bounds(tyres, said)
        facts.append(Fact(label=said.text(msg("Tyres")), value=value))
    return tuple(facts)


def _bounds(codes: list[LimitCode], said: Phrases) -> str:
    limits: tuple[LimitFacts, ...] = limits_of(dict.fromkeys(codes), said)
    return said.bound(limits[0]) if limits else ""


def _fuel(fuel: str, said: Phrases) -> str:
    match fuel:
        case "two_stroke":
            return said.text(msg("two-stroke mix"))
        case "four_stroke":
            return said.text(msg("petrol, at most 10% ethanol"))
        case "diesel":
            return said.text(msg("diesel"))
        case _:
            return ""


def _each_time(machine: SheetMachine, said: Phrases) -> Text:
    """What to look at each time, by the names of its checks."""
    judging = machine.judging
    names = [
        said.wording.task(code) for code in judging.verdict.each_use if judging.task(code).safety
    ]
    if not names:
        return ""
    return (strong(said.text(msg("Each time:"))), Run(f" {'; '.join(names)}."))


def _log(sort: Sort, said: Phrases) -> Log:
    if sort is Sort.SNOW:
        title, columns = msg("Storms"), starting.LOG_SNOW
    elif sort is Sort.GENERATOR:
        title, columns = msg("Each month, with a real load"), starting.LOG_MONTHLY
    elif sort in BATTERY:
        title, columns = msg("Each time out"), starting.LOG_BATTERY
    else:
        title, columns = msg("Each time out"), starting.LOG_ELSE
    return Log(
        title=said.text(title),
        columns=tuple((said.text(name), share) for name, share in columns),
    )


def _ring(sort: Sort, machine: SheetMachine, said: Phrases) -> tuple[Fact, ...]:
    notes = machine.notes
    ring = Fact(label=said.text(msg("If stuck, ring")), value=notes.ring)
    if sort in (Sort.SNOW, Sort.BATTERY_SNOW):
        return (ring, Fact(label=said.text(msg("Snow plough")), value=notes.plough))
    return (ring,)
