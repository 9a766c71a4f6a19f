"""The engine beside its twin: where the two answers differ."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from schedules import plan
from schedules.facts import LimitCode, LimitFacts, MachineFacts, MachineVerdict, Policy
from tests.twin import engine as twin
from tests.twin.machines import is_allowed

TASK_FIELDS = ("state", "due", "governed_by", "due_early", "due_late", "anchor", "seconds_left")


@dataclass(frozen=True)
class Difference:
    """One thing the two say differently: of what, and both answers."""

    what: str
    engine: object
    twin: object
    code: str = ""

    def __str__(self) -> str:
        return f"{self.code:4} {self.what:14} engine {self.engine!s:24} twin {self.twin!s}"


def differences(
    facts: MachineFacts, on: date, limits: Mapping[LimitCode, LimitFacts], policy: Policy
) -> list[Difference]:
    judging = plan.judge(facts, on=on, policy=policy, limits=limits)
    ours = judging.verdict
    plain = twin.judge_machine(facts, on=on, policy=policy, limits=limits)
    found = [*of_machine(ours, plain), *of_tasks(ours, plain)]
    if not found:
        found += of_carried(judging, plain)
    return found


def of_machine(ours: MachineVerdict, plain: twin.TwinVerdict) -> list[Difference]:
    pairs = (
        ("state", ours.state, plain.state),
        ("hours", ours.hours.seconds, plain.hours),
        ("basis", ours.hours.basis, plain.basis),
    )
    return [Difference(f"machine {what}", a, b) for what, a, b in pairs if a != b]


def of_tasks(ours: MachineVerdict, plain: twin.TwinVerdict) -> list[Difference]:
    ours_by = {(task.item_id, task.code): task for task in ours.tasks}
    plain_by = {(task.item_id, task.code): task for task in plain.tasks}
    found: list[Difference] = []
    for key in sorted(ours_by.keys() | plain_by.keys()):
        a, b = ours_by.get(key), plain_by.get(key)
        if a is None or b is None:
            found.append(Difference("stands", a is not None, b is not None, key[1]))
            continue
        for name in TASK_FIELDS:
            one, other = getattr(a, name), getattr(b, name)
            if one != other:
                found.append(Difference(name, one, other, key[1]))
    return found


def of_carried(judging: plan.Judging, plain: twin.TwinVerdict) -> list[Difference]:
    listed = plan.pre_season(judging, precedence=())
    one = sorted((task.verdict.code, task.expected) for task in listed.carried)
    other = sorted(plain.carried)
    return [] if one == other else [Difference("carried", one, other)]


def may_stand(facts: MachineFacts) -> bool:
    """Whether a catalogue could hold the machine's tasks."""
    return all(is_allowed(task.rule) for item in facts.items for task in item.tasks)
