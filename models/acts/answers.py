"""What the owner says about a machine: features, duties, its manual's figures, details."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from sqlalchemy import select
from sqlalchemy.orm import Session

from models.acts.known import catalogue, duty_of, feature_of, unknown
from models.acts.report import report
from models.acts.rows import Machine, machine_of
from models.changes import ActCode, Area, Changes
from models.errors import Refused, RefusedCode
from models.fields import plain_text, whole
from models.moment import Moment
from models.tables.answers import DetailRow, DutyAnswerRow, FeatureAnswerRow, OwnFigureRow
from models.tables.base import CODE_LENGTH, NOTE_LENGTH
from resources.rules import RuleFault, rule_fault
from schedules.facts import Direction, LimitCode, Rule, TaskFacts
from schedules.units import COLDEST_MILLIDEGREES, LARGEST_STORED, LONGEST_TEXT, Typed, Unit

# The figures of a task that a manual may set otherwise, and how far they go.
_TASK_FIGURES: Mapping[str, tuple[int, int]] = {
    "first_seconds": (1, 10**9),
    "run_seconds": (1, 10**9),
    "months": (1, 1_200),
    "uses": (1, 100_000),
}
_LIMIT_FIGURES = frozenset({"low", "high"})


@dataclass(frozen=True, slots=True, kw_only=True)
class AnswerFeatures:
    """Which value of each feature the machine has; None: not known after all."""

    machine_id: int
    answers: tuple[tuple[str, str | None], ...]

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused."""
        machine = machine_of(session, self.machine_id)
        _something(self.answers)
        rows = {
            row.feature_code: row
            for row in session.scalars(
                select(FeatureAnswerRow).where(FeatureAnswerRow.machine_id == machine.number)
            )
        }
        for code, answer in dict(self.answers).items():
            feature = feature_of(machine.kind, code)
            row = rows.get(feature.code)
            if answer is None:
                if row is not None:
                    session.delete(row)
                continue
            if answer not in {value for value, _ in feature.values}:
                raise unknown(feature.code, answer)
            if row is None:
                row = FeatureAnswerRow(machine_id=machine.number, feature_code=feature.code)
                session.add(row)
            row.answer, row.answered_on = answer, moment.today
        return _report(ActCode.ANSWER, machine)


@dataclass(frozen=True, slots=True, kw_only=True)
class AnswerDuties:
    """How hard the machine works; None: not known after all."""

    machine_id: int
    answers: tuple[tuple[str, bool | None], ...]

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused."""
        machine = machine_of(session, self.machine_id)
        _something(self.answers)
        rows = {
            row.duty_code: row
            for row in session.scalars(
                select(DutyAnswerRow).where(DutyAnswerRow.machine_id == machine.number)
            )
        }
        for code, applies in dict(self.answers).items():
            duty = duty_of(machine.kind, code)
            row = rows.get(duty)
            if applies is None:
                if row is not None:
                    session.delete(row)
                continue
            if row is None:
                row = DutyAnswerRow(machine_id=machine.number, duty_code=duty)
                session.add(row)
            row.applies, row.answered_on = applies, moment.today
        return _report(ActCode.ANSWER, machine)


@dataclass(frozen=True, slots=True, kw_only=True)
class SetOwnFigure:
    """A figure of the machine's own manual in place of the catalogue's.

    `target` is a task or limit code of its kind, `figure` one of first_seconds run_seconds months
    uses (task) low high (limit); `value` None strikes it out. `page`: where it stands.
    """

    machine_id: int
    target: str
    figure: str
    value: int | None
    typed: Typed | None = None
    page: str = ""

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused."""
        machine = machine_of(session, self.machine_id)
        self._check(session, machine)
        row = _own_figure(session, machine, self.target, self.figure)
        _check_rule(session, machine, self.target, {self.figure: self.value})
        if row is None:
            row = OwnFigureRow(machine_id=machine.number, target=self.target, figure=self.figure)
            session.add(row)
        row.value = self.value
        row.page = plain_text("page", self.page)
        row.typed_text, row.typed_unit = _words(self.typed, self.value)
        return _report(ActCode.SET_FIGURE, machine, target=self.target)

    def _check(self, session: Session, machine: Machine) -> None:
        tasks = [task for task in machine.kind.tasks if task.code == self.target]
        if tasks and self.figure in _TASK_FIGURES:
            if self.value is not None:
                whole(self.figure, self.value, *_TASK_FIGURES[self.figure])
            return
        if not tasks and _has_limit(machine.kind.tasks, self.target):
            if self.figure not in _LIMIT_FIGURES:
                raise unknown("figure", self.figure)
            self._check_limit(session, machine)
            return
        raise unknown("figure", self.figure) if tasks else unknown("target", self.target)

    def _check_limit(self, session: Session, machine: Machine) -> None:
        """A figure that the limit has, not below zero, and its low end not above its high one."""
        limit = catalogue().limits[LimitCode(self.target)]
        wanted = {
            Direction.AT_MOST: {"high"},
            Direction.AT_LEAST: {"low"},
            Direction.BETWEEN: {"low", "high"},
            Direction.EVENT: set[str](),
        }[limit.direction]
        if self.figure not in wanted:
            raise unknown("figure", self.figure)
        if self.value is None:
            return
        cold = limit.unit is Unit.MILLIDEGREE_CELSIUS
        least = COLDEST_MILLIDEGREES if cold else 0
        whole(self.figure, self.value, least, LARGEST_STORED)
        if limit.direction is not Direction.BETWEEN:
            return
        if self.figure == "low":
            high = self._other(session, machine, "high", limit.high)
            whole("low", self.value, least, LARGEST_STORED if high is None else high)
        else:
            low = self._other(session, machine, "low", limit.low)
            whole("high", self.value, least if low is None else low, LARGEST_STORED)

    def _other(
        self, session: Session, machine: Machine, figure: str, usual: int | None
    ) -> int | None:
        row = _own_figure(session, machine, self.target, figure)
        return usual if row is None else row.value


@dataclass(frozen=True, slots=True, kw_only=True)
class ForgetOwnFigure:
    """The catalogue's figure holds again."""

    machine_id: int
    target: str
    figure: str

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused."""
        machine = machine_of(session, self.machine_id)
        row = _own_figure(session, machine, self.target, self.figure)
        if row is None:
            raise Refused(RefusedCode.NOTHING_CHANGED)
        _check_rule(session, machine, row.target, {}, without=row.figure)
        session.delete(row)
        return _report(ActCode.SET_FIGURE, machine, target=row.target)


@dataclass(frozen=True, slots=True, kw_only=True)
class SetDetail:
    """A thing to know at the machine, under a code of its own; empty: forgotten."""

    machine_id: int
    detail: str
    text: str

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused."""
        machine = machine_of(session, self.machine_id)
        code = plain_text("detail", self.detail, most=CODE_LENGTH, least=1)
        text = plain_text("text", self.text, most=NOTE_LENGTH)
        row = session.scalars(
            select(DetailRow).where(
                DetailRow.machine_id == machine.number, DetailRow.detail_code == code
            )
        ).first()
        if row is None and text:
            session.add(DetailRow(machine_id=machine.number, detail_code=code, text=text))
        elif row is not None and text:
            row.text = text
        elif row is not None:
            session.delete(row)
        return _report(ActCode.ANSWER, machine)


@dataclass(frozen=True, slots=True, kw_only=True)
class SetDetails:
    """Several things to know at the machine at once, in one step of undo."""

    machine_id: int
    details: tuple[tuple[str, str], ...]

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused."""
        machine = machine_of(session, self.machine_id)
        _something(self.details)
        for detail, text in self.details:
            one = SetDetail(machine_id=machine.number, detail=detail, text=text)
            one.run(session, moment)
        return _report(ActCode.ANSWER, machine)


def _something(answers: tuple[object, ...]) -> None:
    if not answers:
        raise Refused(RefusedCode.NOTHING_GIVEN, field="answers")


def _has_limit(tasks: tuple[TaskFacts, ...], code: str) -> bool:
    return any(code in task.rule.limits for task in tasks)


def _own_figure(
    session: Session, machine: Machine, target: str, figure: str
) -> OwnFigureRow | None:
    return session.scalars(
        select(OwnFigureRow).where(
            OwnFigureRow.machine_id == machine.number,
            OwnFigureRow.target == target,
            OwnFigureRow.figure == figure,
        )
    ).first()


# What is wrong with a rule as the owner is told it.
_RULE_FAULTS: Mapping[RuleFault, RefusedCode] = {
    RuleFault.SEVERAL_PHASES: RefusedCode.RULE_SKIPS_YEARS,
    RuleFault.END_IN_A_YEAR: RefusedCode.RULE_ENDS_ONCE_A_YEAR,
    RuleFault.IN_ALONE: RefusedCode.RULE_NEVER,
    RuleFault.NOTHING: RefusedCode.RULE_NEVER,
    RuleFault.FUEL_BY_MONTHS: RefusedCode.RULE_BY_FUEL,
    RuleFault.FIRST_OF_REPLACEMENT: RefusedCode.RULE_FIRST_OF_MANY,
}


def _check_rule(
    session: Session,
    machine: Machine,
    target: str,
    new: Mapping[str, int | None],
    *,
    without: str = "",
) -> None:
    """The rule that a task would have with the owner's figures is one that the catalogue's own
    might say. What was wrong before (in a file that was taken in) may be mended step by step."""
    task = next((task for task in machine.kind.tasks if task.code == target), None)
    if task is None:
        return
    own = {
        row.figure: row.value
        for row in session.scalars(
            select(OwnFigureRow).where(
                OwnFigureRow.machine_id == machine.number, OwnFigureRow.target == target
            )
        )
    }
    left = {figure: value for figure, value in own.items() if figure != without}
    fault = rule_fault(_rule(task, {**left, **new}), replaces=task.replaces)
    if fault is not None and rule_fault(_rule(task, own), replaces=task.replaces) is None:
        raise Refused(_RULE_FAULTS[fault], task=task.code)


def _rule(task: TaskFacts, figures: Mapping[str, int | None]) -> Rule:
    rule = task.rule
    return replace(
        rule,
        first_seconds=figures.get("first_seconds", rule.first_seconds),
        run_seconds=figures.get("run_seconds", rule.run_seconds),
        months=figures.get("months", rule.months),
        uses=figures.get("uses", rule.uses),
    )


def _words(typed: Typed | None, value: int | None) -> tuple[str, str]:
    if typed is None:
        return "", ""
    if typed.stored != value:
        raise ValueError(f"typed {typed.stored}, to be stored {value}")
    return plain_text("typed_text", typed.text, most=LONGEST_TEXT), str(typed.unit)


def _report(code: ActCode, machine: Machine, **values: str) -> Changes:
    touched = ((Area.MACHINES, machine.number), (Area.ANSWERS, machine.number))
    return report(code, *touched, name=machine.name, **values)
