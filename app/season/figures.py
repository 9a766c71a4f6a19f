"""Figures that a step asks for: what is measured there, and what was typed. No Qt, no file."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from app.pieces.asked import Asked, Said
from app.season.state import FigureAsk
from app.wording.languages import msg
from app.wording.wording import Wording
from models.acts.readings import Measured
from models.words import Side
from schedules.facts import Direction, FeatureCode, LimitCode, LimitFacts, MachineId, TaskCode
from schedules.figures import stands
from schedules.plan import Judging

SIDES = (Side.LEFT, Side.RIGHT)


def asked_figures(
    tasks: Sequence[TaskCode],
    machines: Sequence[Judging],
    words: Wording,
) -> tuple[FigureAsk, ...]:
    """What these tasks measure on these machines, each measurement once."""
    found: list[FigureAsk] = []
    for judging in machines:
        features: dict[FeatureCode, str] = dict(judging.facts.features)
        seen: set[LimitCode] = set()
        for item in judging.items:
            for code in tasks:
                task = item.tasks.get(code)
                if task is None or not stands(task, features):
                    continue
                for limit in (item.limits[each] for each in task.rule.limits):
                    if limit.code not in seen:
                        seen.add(limit.code)
                        found += _asked(judging.facts.machine_id, code, limit, words)
    return tuple(found)


def _asked(number: MachineId, task: TaskCode, limit: LimitFacts, words: Wording) -> list[FigureAsk]:
    key = f"{number}/{task}/{limit.code}"
    name = words.limit(limit.code)
    name = name[:1].upper() + name[1:]
    event = limit.direction is Direction.EVENT
    hint = ""
    if event or limit.low is not None or limit.high is not None:
        said = msg("Yes means: {worn}.") if event else msg("Act when: {worn}.")
        hint = words.text(said, worn=words.worn_when(limit))
    if not limit.both_sides:
        return [FigureAsk(key=f"{key}/", label=name, hint=hint, event=event)]
    sides = {Side.LEFT: msg("left"), Side.RIGHT: msg("right")}
    return [
        FigureAsk(
            key=f"{key}/{side}",
            label=words.text(msg("{thing}: {where}"), thing=name, where=words.text(sides[side])),
            hint=hint if side is Side.LEFT else "",
            event=event,
        )
        for side in SIDES
    ]


@dataclass(frozen=True, slots=True, kw_only=True)
class FigureReader:
    """Reads what was typed beside a step."""

    asked: Asked
    sure: bool = False

    def read(self, typed: Mapping[str, str]) -> tuple[tuple[int, Measured], ...] | Said:
        """The measurements of the fields that were filled in, by machine; or what is wrong with
        the first that cannot be taken. `field` of that is its key."""
        found: list[tuple[int, Measured]] = []
        for key, value in typed.items():
            if value.strip():
                one = self._one(key, value.strip())
                if isinstance(one, Said):
                    return Said(one.text, key)
                found.append((int(key.split("/")[0]), one))
        return tuple(found)

    def _one(self, key: str, value: str) -> Measured | Said:
        _number, task, code, side = key.split("/")
        limit = self.asked.words.catalogue.limits[LimitCode(code)]
        given = Side(side) if side else None
        if limit.direction is Direction.EVENT:
            seen = self.asked.yes_or_no(value)
            if isinstance(seen, Said):
                return seen
            return Measured(task=task, limit=code, seen=seen, side=given, after_work=True)
        amount = self.asked.amount_of(value, limit)
        if isinstance(amount, Said):
            return amount
        return Measured(
            task=task,
            limit=code,
            amount=amount.stored,
            typed=amount,
            side=given,
            after_work=True,
            sure=self.sure,
        )
