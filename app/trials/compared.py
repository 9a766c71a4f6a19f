"""A trial of the file put to the engine."""

from __future__ import annotations

from models.facts.trials import Trial
from models.words import TrialSide
from schedules.trials import TrialFacts, TrialVerdict, judge_trial


def facts_of(trial: Trial) -> TrialFacts:
    """What the engine compares."""

    def side(which: TrialSide, *, reference: bool = False) -> tuple[float, ...]:
        return tuple(float(each) for each in trial.amounts(which, of_reference=reference))

    return TrialFacts(
        before=side(TrialSide.BEFORE),
        after=side(TrialSide.AFTER),
        more_is_better=trial.protocol.more_is_better,
        same_conditions=not trial.differing,
        own_settings=not trial.own_differing,
        reference_before=side(TrialSide.BEFORE, reference=True),
        reference_after=side(TrialSide.AFTER, reference=True),
        rough=trial.rough,
    )


def judged(trial: Trial) -> TrialVerdict:
    """What it comes to."""
    return judge_trial(facts_of(trial))
