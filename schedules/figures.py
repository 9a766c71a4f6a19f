"""Which tasks stand on a machine, and with which figures: features decide, the own manual wins."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from schedules.facts import (
    FeatureCode,
    LimitCode,
    LimitFacts,
    OwnFigure,
    TaskFacts,
)

_RULE_FIGURES = ("first_seconds", "run_seconds", "months", "uses")
_LIMIT_FIGURES = ("low", "high")


def stands(task: TaskFacts, features: Mapping[FeatureCode, str]) -> bool:
    """Whether the task stands on a machine with these features; unknown ones as the task says."""
    for condition in task.applies:
        value = features.get(condition.feature)
        if not (condition.unknown if value is None else value in condition.values):
            return False
    return True


def with_own_figures(task: TaskFacts, own: tuple[OwnFigure, ...]) -> TaskFacts:
    """The task with the figures of the machine's own manual in place of the catalogue's.

    Raises ValueError for a figure no rule has.
    """
    mine = {figure.figure: figure.value for figure in own if figure.target == task.code}
    if not mine:
        return task
    wrong = set(mine) - set(_RULE_FIGURES)
    if wrong:
        raise ValueError(f"{task.code} has no figure {sorted(wrong)}")
    rule = task.rule
    return replace(
        task,
        rule=replace(
            rule,
            first_seconds=mine.get("first_seconds", rule.first_seconds),
            run_seconds=mine.get("run_seconds", rule.run_seconds),
            months=mine.get("months", rule.months),
            uses=mine.get("uses", rule.uses),
        ),
    )


def limits_with_own_figures(
    limits: Mapping[LimitCode, LimitFacts], own: tuple[OwnFigure, ...]
) -> Mapping[LimitCode, LimitFacts]:
    """The limits with the figures of the machine's own manual."""
    changed = dict(limits)
    for figure in own:
        code = LimitCode(figure.target)
        if code not in changed or figure.figure not in _LIMIT_FIGURES:
            continue
        if figure.figure == "low":
            changed[code] = replace(changed[code], low=figure.value)
        else:
            changed[code] = replace(changed[code], high=figure.value)
    return changed if own else limits
