"""What a comparison comes to, in sentences: the verdict, how sure it is, and what would help."""

from __future__ import annotations

from fractions import Fraction
from math import log

from app.trials.compared import judged
from app.wording.languages import msg
from app.wording.wear import VERDICTS
from app.wording.wording import Wording
from models.facts.trials import Trial
from models.words import TrialSide
from resources.protocols import Protocol, Protocols
from schedules.trials import Means, TrialVerdict, Verdict, exit_speed
from schedules.units import Unit, UnitSystem, from_stored

HOW = {
    Means.LOG_T: msg("Nineteen times in twenty such an interval holds what is true."),
    Means.RANKS: msg(
        "Counted by ranks, for there are few values or they lie oddly; nineteen times in twenty "
        "such an interval holds what is true."
    ),
    Means.ROUGH: msg("Rough: by eye and a few values. It is a hint, no proof."),
}
# A throw is taken to leave the chute at half a right angle; only ratios are told.
_ANGLE = 45.0
_PLACES = {Unit.METRE: 2, Unit.FOOT: 1, Unit.SECOND: 1, Unit.VOLT: 1, Unit.MINUTE: 1}


def amount_said(
    protocol: Protocol, stored: Fraction | int, system: UnitSystem, words: Wording
) -> str:
    """An amount in the unit the protocol is read in."""
    if protocol.unit is Unit.COUNT:
        return words.number(Fraction(stored), 1)
    unit = protocol.shown(system)
    shown = words.number(from_stored(stored, unit), _PLACES.get(unit, 0))
    return f"{shown}\u00a0{words.symbol(unit)}"


def verdict_said(trial: Trial, words: Wording) -> str:
    """The verdict in one or two sentences."""
    found = judged(trial)
    if found.verdict is Verdict.TOO_FEW and not trial.amounts(TrialSide.AFTER):
        return words.text(msg("Waits for the values after the work."))
    said = [words.text(VERDICTS[found.verdict])]
    ratio = found.ratio
    if ratio is not None and not trial.protocol.grade:
        if found.verdict in (Verdict.BETTER, Verdict.WORSE):
            said.append(_change(ratio, words))
        elif found.verdict is Verdict.TOO_FEW and found.means is Means.ROUGH:
            said.append(words.text(msg("As far as so few values tell:")))
            said.append(_change(ratio, words))
    return " ".join(said)


def _change(ratio: float, words: Wording) -> str:
    share = words.percent(Fraction(round(abs(ratio - 1) * 100), 100))
    if ratio >= 1:
        return words.text(msg("{share} more than before."), share=share)
    return words.text(msg("{share} less than before."), share=share)


def grounds_said(
    trial: Trial, protocols: Protocols, system: UnitSystem, words: Wording
) -> tuple[str, ...]:
    """What the verdict rests on, and how many more values would settle it."""
    found = judged(trial)
    said = [*_medians(trial, system, words)]
    if found.low is not None and found.high is not None and not trial.protocol.grade:
        said.append(
            words.text(
                msg("Between {low} and {high} times what it was."),
                low=words.number(Fraction(found.low).limit_denominator(10**6), 2),
                high=words.number(Fraction(found.high).limit_denominator(10**6), 2),
            )
        )
    if found.means is not None:
        said.append(words.text(HOW[found.means]))
    said += _reference(trial, found, words)
    said += _speed(trial, found, words)
    if found.verdict is Verdict.CONDITIONS_DIFFER:
        differ = [words.text(protocols.conditions[code].question) for code in trial.differing]
        said.append(words.text(msg("Not alike, or not said for both days:")))
        said += [f"– {one}" for one in differ]
        if not trial.own_differing:
            said.append(
                words.text(
                    msg("A machine that was not worked on, measured on both days, would help.")
                )
            )
    elif found.more_a_side is not None:
        said.append(
            words.count(
                msg("{n} more value a side would likely settle whether it is a fifth."),
                msg("{n} more values a side would likely settle whether it is a fifth."),
                found.more_a_side,
            )
            if found.verdict is Verdict.NO_TELLING
            else words.count(
                msg("{n} more value a side is the least for a verdict."),
                msg("{n} more values a side are the least for a verdict."),
                found.more_a_side,
            )
        )
    return tuple(said)


def _medians(trial: Trial, system: UnitSystem, words: Wording) -> list[str]:
    said: list[str] = []
    for side, sentence in (
        (TrialSide.BEFORE, msg("Before: {n} values, the middle one {amount}.")),
        (TrialSide.AFTER, msg("After: {n} values, the middle one {amount}.")),
    ):
        amounts = sorted(trial.amounts(side))
        if amounts:
            half = len(amounts) // 2
            middle = Fraction(amounts[half] + amounts[~half], 2)
            amount = amount_said(trial.protocol, middle, system, words)
            said.append(words.text(sentence, n=len(amounts), amount=amount))
    return said


def _reference(trial: Trial, found: TrialVerdict, words: Wording) -> list[str]:
    if found.reference_ratio is None:
        return []
    ratio = words.number(Fraction(found.reference_ratio).limit_denominator(10**6), 2)
    said = [
        words.text(
            msg("{name}, which was not worked on, changed to {ratio} times: taken out."),
            name=trial.reference,
            ratio=ratio,
        )
    ]
    sides = [len(trial.amounts(side, of_reference=True)) for side in TrialSide]
    if min(sides) < 2:
        said.append(
            words.text(msg("It was measured once a side: how far that scatters is not counted."))
        )
    return said


def _speed(trial: Trial, found: TrialVerdict, words: Wording) -> list[str]:
    """For what is thrown: how much faster it leaves the machine, as far as air does not count."""
    height = trial.protocol.exit_height_um
    before = sorted(trial.amounts(TrialSide.BEFORE))
    if height is None or found.ratio is None or not before:
        return []
    start = float(before[len(before) // 2]) / 1e6
    up = height / 1e6
    ratio = exit_speed(start * found.ratio, _ANGLE, up) / exit_speed(start, _ANGLE, up)
    if abs(log(ratio)) < log(1.005):
        return []
    share = words.number(Fraction(ratio).limit_denominator(10**6), 2)
    return [
        words.text(
            msg("As if it left the chute {ratio} times as fast, air not counted."), ratio=share
        )
    ]


def quantity_example(protocol: Protocol, system: UnitSystem, words: Wording) -> str:
    """The unit to type."""
    unit = protocol.shown(system)
    return "" if unit is Unit.COUNT else words.symbol(unit)


__all__ = ["amount_said", "grounds_said", "quantity_example", "verdict_said"]
