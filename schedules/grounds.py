"""The grounds of a task's verdict, as a tree of reasons: what governs, what else was asked, why.

Nothing is computed here that the verdict does not rest on; every value is one the engine used.
"""

from __future__ import annotations

from datetime import date
from fractions import Fraction

from schedules.almanac import Slot
from schedules.facts import (
    FigureMark,
    GovernedBy,
    LimitCode,
    Mark,
    OwnFigure,
    TaskFacts,
)
from schedules.intervals import (
    Anchor,
    Candidate,
    Item,
    Outcome,
    Reckoner,
    anchor_of,
    hours_interval,
    hours_point,
    interval_factor,
    is_undated,
    past_since,
    readings_since,
    uses_due,
)
from schedules.reasons import Reason, ReasonCode, reason
from schedules.seasons import FOREVER
from schedules.units import Quantity, Unit, hours


def day_of(ordinal: int | None) -> date | None:
    """The date of an ordinal; None stays None, and so does *until further notice*."""
    if ordinal is None or ordinal >= FOREVER:
        return None
    return date.fromordinal(ordinal)


class Grounds:
    """Writes the reasons of the tasks of one machine."""

    def __init__(self, *, reckoner: Reckoner, own: tuple[OwnFigure, ...]) -> None:
        self.reckoner = reckoner
        self._own = {(figure.target, figure.figure): figure for figure in own}

    def of(
        self, item: Item, task: TaskFacts, outcome: Outcome, band: tuple[int | None, int | None]
    ) -> Reason:
        """The tree for one task."""
        if outcome.governing is None:
            return self._undated(item, task, outcome)
        anchor = anchor_of(item, task, self.reckoner.doings)
        governing = outcome.governing
        children = self._beneath(item, task, governing, anchor)
        if governing.governed_by in (GovernedBy.HOURS, GovernedBy.USES, GovernedBy.NTH):
            early, late = band
            if early != late:
                children.append(
                    reason(ReasonCode.FORECAST_BAND, early=day_of(early), late=day_of(late))
                )
        if governing.rest is not None and governing.day != governing.asked:
            first, last = governing.rest
            children.append(
                reason(
                    ReasonCode.RESTS,
                    from_day=day_of(first),
                    to_day=day_of(last),
                    asked=day_of(governing.asked),
                )
            )
        children.extend(
            reason(ReasonCode.ALSO, governed_by=other.governed_by, due=day_of(other.day))
            for other in outcome.candidates
            if other is not governing and other.day is not None
        )
        return self._head(task, outcome, governing, tuple(children))

    def _undated(self, item: Item, task: TaskFacts, outcome: Outcome) -> Reason:
        rule = task.rule
        if outcome.governed_by is GovernedBy.ASLEEP and not is_undated(rule):
            rest = next((found.rest for found in outcome.candidates if found.rest), None)
            return reason(
                ReasonCode.ASLEEP, task=task.code, until=day_of(rest[1]) if rest else None
            )
        if rule.each_use:
            code = ReasonCode.EACH_USE
        elif rule.on_fault:
            code = ReasonCode.ON_FAULT
        elif rule.on_sight:
            code = ReasonCode.ON_SIGHT
        else:
            code = ReasonCode.NO_DAY
        anchor = anchor_of(item, task, self.reckoner.doings)
        children = () if anchor is None else (anchor_ground(anchor),)
        return reason(code, task=task.code, children=children)

    def _head(
        self,
        task: TaskFacts,
        outcome: Outcome,
        governing: Candidate,
        children: tuple[Reason, ...],
    ) -> Reason:
        due, code = day_of(outcome.day), task.code
        match governing.governed_by:
            case GovernedBy.HOURS:
                return self._by_hours(task, due, children)
            case GovernedBy.USES:
                uses = uses_due(task, self.reckoner.duties)
                return reason(ReasonCode.DUE_USES, task=code, due=due, uses=uses, children=children)
            case GovernedBy.NTH:
                nth = task.rule.nth_of
                return reason(
                    ReasonCode.DUE_NTH,
                    task=code,
                    due=due,
                    other_task=None if nth is None else nth.code,
                    n=None if nth is None else nth.n,
                    children=children,
                )
            case GovernedBy.SEASON:
                phase = "end" if governing.slot is None else str(governing.slot.phase)
                return reason(
                    ReasonCode.DUE_SEASON, task=code, due=due, phase=phase, children=children
                )
            case GovernedBy.MONTHS:
                return reason(
                    ReasonCode.DUE_MONTHS,
                    task=code,
                    due=due,
                    months=governing.months,
                    children=children,
                )
            case GovernedBy.READING:
                return self._by_reading(task, due, governing, children)
            case _:
                return reason(ReasonCode.NOTHING_KNOWN, task=code, due=due, children=children)

    def _by_hours(self, task: TaskFacts, due: date | None, children: tuple[Reason, ...]) -> Reason:
        item = self.reckoner.home(task.code)
        anchor = anchor_of(item, task, self.reckoner.doings)
        point = None
        if anchor is not None:
            point = hours_point(item, task, anchor, self.reckoner.duties, self.reckoner.halves)
        at = None if point is None else hours(point)
        return reason(ReasonCode.DUE_HOURS, task=task.code, due=due, at=at, children=children)

    def _by_reading(
        self,
        task: TaskFacts,
        due: date | None,
        governing: Candidate,
        children: tuple[Reason, ...],
    ) -> Reason:
        if governing.limit is None:
            return reason(
                ReasonCode.DUE_FUEL,
                task=task.code,
                due=due,
                vessel=governing.vessel,
                children=children,
            )
        code = ReasonCode.DUE_FORECAST if governing.forecast else ReasonCode.DUE_READING
        return reason(code, task=task.code, due=due, limit=governing.limit, children=children)

    # -- beneath -------------------------------------------------------------------------------

    def _beneath(
        self, item: Item, task: TaskFacts, governing: Candidate, anchor: Anchor | None
    ) -> list[Reason]:
        grounds: list[Reason] = []
        match governing.governed_by:
            case GovernedBy.HOURS if anchor is not None:
                grounds += self._hours_grounds(item, task, anchor)
            case GovernedBy.USES if anchor is not None:
                count = uses_due(task, self.reckoner.duties)
                grounds.append(reason(ReasonCode.INTERVAL_USES, uses=count))
                grounds += self._marks(task, "uses")
            case GovernedBy.MONTHS:
                grounds.append(reason(ReasonCode.INTERVAL_MONTHS, months=governing.months))
                grounds += self._marks(task, "months")
            case GovernedBy.SEASON if governing.slot is not None:
                grounds.append(self._slot(item, governing.slot))
                grounds += self._marks(task, "phases")
            case GovernedBy.READING if governing.limit is not None:
                grounds += self._reading_grounds(item, task, governing.limit, anchor)
            case _:
                pass
        if anchor is not None:
            grounds.append(anchor_ground(anchor))
        return grounds

    def _hours_grounds(self, item: Item, task: TaskFacts, anchor: Anchor) -> list[Reason]:
        interval = hours_interval(task, anchor, self.reckoner.duties)
        if interval is None:
            return []
        first = task.rule.first_seconds is not None and (anchor.purchase or anchor.replaced)
        code = ReasonCode.INTERVAL_FIRST_HOURS if first else ReasonCode.INTERVAL_HOURS
        grounds = [reason(code, interval=hours(interval))]
        factor = interval_factor(task, self.reckoner.duties)
        if not first and factor != 1:
            grounds.append(reason(ReasonCode.INTERVAL_FACTOR, percent=int(factor * 100)))
        grounds += self._marks(task, "first_seconds" if first else "run_seconds")
        halves = self.reckoner.halves
        for ground, day in (
            (ReasonCode.HOURS_THEN, anchor.day),
            (ReasonCode.HOURS_NOW, item.almanac.today),
        ):
            grounds.append(
                reason(
                    ground,
                    hours=hours(item.timeline.total(day, halves)),
                    day=day_of(day),
                    basis=item.timeline.basis(day),
                )
            )
        return grounds

    def _slot(self, item: Item, slot: Slot) -> Reason:
        season = item.almanac.calendar.season(slot.place)
        return reason(
            ReasonCode.SLOT,
            phase=slot.phase,
            opens=day_of(slot.opens),
            deadline=day_of(slot.deadline),
            season=season.year,
        )

    def _reading_grounds(
        self, item: Item, task: TaskFacts, code: LimitCode, anchor: Anchor | None
    ) -> list[Reason]:
        limit = item.limits[code]
        grounds = [
            reason(
                ReasonCode.LIMIT_IS,
                limit=code,
                low=_amount(limit.low, limit.unit),
                high=_amount(limit.high, limit.unit),
            )
        ]
        for figure in ("low", "high"):
            own = self._own.get((code, figure))
            if own is not None:
                grounds.append(reason(ReasonCode.OWN_MANUAL, figure=figure, page=own.page or None))
        grounds += _mark_grounds(limit.marks, None)
        readings = readings_since(item, task, limit, anchor or Anchor(0))
        if readings and past_since(limit, readings) is not None:
            last = readings[-1]
            grounds.append(
                reason(
                    ReasonCode.READING_WAS,
                    limit=code,
                    amount=_amount(last.amount, limit.unit),
                    day=last.day,
                )
            )
        return grounds

    def _marks(self, task: TaskFacts, figure: str) -> list[Reason]:
        own = self._own.get((task.code, figure))
        if own is not None:
            return [reason(ReasonCode.OWN_MANUAL, figure=figure, page=own.page or None)]
        return _mark_grounds(task.marks, figure)


def _mark_grounds(marks: tuple[FigureMark, ...], figure: str | None) -> list[Reason]:
    return [
        reason(
            ReasonCode.FIGURE_MARK,
            figure=mark.figure,
            mark=mark.mark,
            source=mark.sources[0] if mark.sources else None,
        )
        for mark in marks
        if figure is None or mark.figure == figure
    ]


def _amount(amount: int | None, unit: Unit) -> Quantity | None:
    return None if amount is None else Quantity(Fraction(amount), unit)


def anchor_ground(anchor: Anchor) -> Reason:
    """From which doing the interval counts."""
    day = day_of(anchor.day)
    if anchor.purchase:
        return reason(ReasonCode.ANCHOR_PURCHASE, day=day)
    if anchor.other is not None:
        return reason(ReasonCode.ANCHOR_INCLUDED, day=day, other_task=anchor.other)
    if anchor.assumed:
        return reason(ReasonCode.ANCHOR_ASSUMED, day=day)
    if anchor.replaced:
        return reason(ReasonCode.ANCHOR_REPLACED, day=day)
    return reason(ReasonCode.ANCHOR_DONE, day=day)


def sources_of(ground: Reason) -> tuple[str, ...]:
    """The source ids anywhere in the tree, each once, in order."""
    found: dict[str, None] = {}
    waiting = [ground]
    while waiting:
        here = waiting.pop(0)
        if here.source is not None:
            found[here.source] = None
        if here.code is ReasonCode.OWN_MANUAL:
            found[Mark.OWN_MANUAL] = None
        waiting[:0] = here.children
    return tuple(found)
