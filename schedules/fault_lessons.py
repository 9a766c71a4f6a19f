"""What a household's own finds teach about the odds: counts in, odds out, nothing kept.

A Dirichlet prior of the model's odds, worth so many finds of its own; the same counts give the
same odds, so a find that is taken back leaves no trace. The strength is our judgement.
"""

from __future__ import annotations

from collections.abc import Mapping

from schedules.fault_facts import CauseId, FaultModel

STRENGTH = 20.0
ALL = 100.0


def learned_odds(
    model: FaultModel, found: Mapping[CauseId, int], *, strength: float = STRENGTH
) -> dict[CauseId, float]:
    """Odds that sum to 100, from the model's and from how often each cause was found here.

    Raises ValueError for a cause the model has not, a count below nought, or no strength. Law:
    finding a cause once more never lowers its odds.
    """
    known = {cause.cause_id for cause in model.causes}
    for cause, count in found.items():
        if cause not in known:
            raise ValueError(f"{model.symptom_id} has no cause {cause}")
        if count < 0:
            raise ValueError(f"{cause} found {count} times")
    if strength <= 0:
        raise ValueError(f"a strength of {strength}")
    whole = sum(cause.odds for cause in model.causes)
    total = strength + sum(found.values())
    return {
        cause.cause_id: ALL * (strength * cause.odds / whole + found.get(cause.cause_id, 0)) / total
        for cause in model.causes
    }
