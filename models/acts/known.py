"""Codes of the catalogue on their way in: what it does not know is refused."""

from __future__ import annotations

from models.errors import Refused, RefusedCode
from models.tables.base import CODE_LENGTH
from resources.loader import Catalogue, load_catalogue
from schedules.facts import (
    DutyCode,
    FeatureCode,
    FeatureFacts,
    KindCode,
    KindFacts,
    LimitCode,
    LimitFacts,
    TaskFacts,
)


def catalogue() -> Catalogue:
    """The catalogue that acts go by."""
    return load_catalogue()


def unknown(field: str, value: str) -> Refused:
    """The refusal of a code, cut to a length that can be shown."""
    return Refused(RefusedCode.UNKNOWN_CODE, field=field, value=value[:CODE_LENGTH])


def kind_of(code: str) -> KindFacts:
    """The kind. Raises Refused UNKNOWN_CODE."""
    found = catalogue().kinds.get(KindCode(code))
    if found is None:
        raise unknown("kind", code)
    return found


def task_of(kind: KindFacts, code: str) -> TaskFacts:
    """The task of a kind. Raises Refused UNKNOWN_CODE."""
    for task in kind.tasks:
        if task.code == code:
            return task
    raise unknown("task", code)


def limit_of(task: TaskFacts, code: str) -> LimitFacts:
    """A limit that the task is done by. Raises Refused UNKNOWN_CODE."""
    found = catalogue().limits.get(LimitCode(code))
    if found is None or found.code not in task.rule.limits:
        raise unknown("limit", code)
    return found


def feature_of(kind: KindFacts, code: str) -> FeatureFacts:
    """A feature that machines of the kind are asked for. Raises Refused UNKNOWN_CODE."""
    found = catalogue().features.get(FeatureCode(code))
    if found is None or found.code not in kind.features:
        raise unknown("feature", code)
    return found


def duty_of(kind: KindFacts, code: str) -> DutyCode:
    """A duty that machines of the kind are asked for. Raises Refused UNKNOWN_CODE."""
    duty = DutyCode(code)
    if duty not in catalogue().duties or duty not in kind.duties:
        raise unknown("duty", code)
    return duty


def part_of(code: str) -> str:
    """A part of the catalogue. Raises Refused UNKNOWN_CODE."""
    if code not in catalogue().parts:
        raise unknown("part", code)
    return code
