"""What the course of a wearing part says: the plot's rows, its sentences, the same as a table."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from math import ceil, floor, inf, log10

from app.sheets.plot import Flag, PlotRows, Spot, Tick
from app.wording.languages import msg
from app.wording.wear import METHODS, NO_FORECASTS, OWN_PARTS, lives_said
from app.wording.wording import Wording
from schedules.facts import Direction, GovernedBy, LimitFacts, LimitReading, TaskFacts, WearAxis
from schedules.intervals import Item, is_past
from schedules.plan import Judging
from schedules.series import HOUR, Foreseen, foresee, readings_of
from schedules.units import Quantity
from schedules.wear import LEVEL, NoForecast

_STEPS = 24


@dataclass(frozen=True, slots=True, kw_only=True)
class WearRows:
    """One limit of one part: its drawing, what it comes to, and every measurement in words."""

    plot: PlotRows
    sentences: tuple[str, ...]
    table: tuple[tuple[str, str, str], ...]
    is_past: bool = False


@dataclass(frozen=True, slots=True)
class _Scale:
    """From the axis' own figures to shares of the field."""

    low: float
    high: float

    def share(self, value: float) -> float:
        return (value - self.low) / (self.high - self.low)


@dataclass(frozen=True, slots=True)
class _Course:
    """Everything one plot is made from."""

    item: Item
    task: TaskFacts
    limit: LimitFacts
    words: Wording
    readings: tuple[LimitReading, ...]
    found: Foreseen | None
    renewed: tuple[int, ...]
    on: date

    @property
    def is_past(self) -> bool:
        """Whether the last reading stands past the limit: then there is no day to come."""
        if self.limit.wears is not None and self.found is None:
            return False  # renewed, and not measured since
        last = self.readings[-1]
        if self.renewed and last.day.toordinal() < self.renewed[-1]:
            return False
        return bool(is_past(self.limit, last))

    def x(self, day: int) -> float:
        if self.limit.wears is WearAxis.DAYS:
            return float(day)
        return float(self.item.timeline.total(day) / HOUR)


def wear_rows(
    judging: Judging, task: TaskFacts, limit: LimitFacts, words: Wording
) -> WearRows | None:
    """The course of a limit; None when it was never measured as a figure."""
    item = judging.once.home(task.code)
    readings = readings_of(item.readings, task, limit)
    if not readings:
        return None
    renewed = tuple(sorted(judging.once.doings.renewed(task.code)))
    course = _Course(
        item=item,
        task=task,
        limit=limit,
        words=words,
        readings=readings,
        found=foresee(item.readings, task, limit, renewed=renewed, timeline=item.timeline),
        renewed=renewed,
        on=date.fromordinal(judging.almanac.today),
    )
    lived = judging.once.lives(task.code)
    said = () if lived is None else (lives_said(words, lived),)
    return WearRows(
        plot=_plot(course),
        sentences=(*_sentences(course), *said),
        table=_table(course),
        is_past=course.is_past,
    )


def governing_plots(judging: Judging, words: Wording) -> tuple[PlotRows, ...]:
    """The courses that made the day of a task, the soonest first."""
    found: list[tuple[date, PlotRows]] = []
    for verdict in judging.verdict.tasks:
        if verdict.governed_by is not GovernedBy.READING or verdict.due is None:
            continue
        task = judging.task(verdict.code)
        for code in task.rule.limits:
            limit = judging.once.home(task.code).limits[code]
            rows = wear_rows(judging, task, limit, words) if limit.wears else None
            if rows is not None and rows.plot.flags:
                found.append((verdict.due, rows.plot))
    return tuple(plot for _, plot in sorted(found, key=lambda one: one[0]))


def _plot(course: _Course) -> PlotRows:
    words, limit = course.words, course.limit
    amounts = [float(one.amount or 0) for one in course.readings]
    ends = [float(end) for end in (limit.low, limit.high) if end is not None]
    xs = [course.x(one.day.toordinal()) for one in course.readings]
    outlook = None if course.found is None else course.found.outlook
    far = [
        x
        for x in ((outlook.plan_by, outlook.expected) if outlook else ())
        if x is not None and x != inf and x < 4 * max(xs) + 100
    ]
    across = _padded([*xs, *far], floor_at=0 if limit.wears is not WearAxis.DAYS else None)
    upright = _padded([*amounts, *ends])
    bound = _bound(course)
    by_days = limit.wears is WearAxis.DAYS
    held = msg("worn: {amount}") if limit.wears else msg("act: {amount}")
    return PlotRows(
        title=words.text(msg("{task}: {limit}"), task=course.task.name, limit=limit.name),
        across=words.text(msg("day")) if by_days else words.text(msg("hours of work")),
        upright=limit.name,
        x_ticks=_x_ticks(course, across),
        y_ticks=_y_ticks(course, upright),
        readings=tuple(
            (across.share(x), upright.share(y)) for x, y in zip(xs, amounts, strict=True)
        ),
        **_lines(course, across, upright),
        limit=None
        if bound is None
        else Tick(
            at=upright.share(bound),
            text=words.text(held, amount=words.amount(limit, round(bound))),
        ),
        renewals=tuple(
            Tick(at=across.share(course.x(day)), text=words.text(msg("renewed")))
            for day in course.renewed
            if 0 <= across.share(course.x(day)) <= 1
        ),
        flags=_flags(course, across),
    )


def _bound(course: _Course) -> float | None:
    limit, found = course.limit, course.found
    if found is not None:
        return None if found.outlook.bound is None else float(found.outlook.bound)
    if limit.direction is Direction.BETWEEN:
        return None  # two of them, and neither is what it wears to
    bound = limit.low if limit.low is not None else limit.high
    return None if bound is None else float(bound)


def _padded(values: Sequence[float], *, floor_at: float | None = None) -> _Scale:
    low, high = min(values), max(values)
    room = (high - low) * 0.08 or abs(high) * 0.1 or 1.0
    if floor_at is not None:  # hours: below one nobody tells them apart
        room = max(room, 1.0 - (high - low))
    low = low - room if floor_at is None else max(floor_at, low - room)
    return _Scale(low, high + room)


def _lines(course: _Course, across: _Scale, upright: _Scale) -> dict[str, tuple[Spot, ...]]:
    fit = None if course.found is None else course.found.outlook.fit
    if fit is None or fit.freedom < 1:
        return _known_lines(course, across, upright)
    start = course.x(course.found.readings[0].day.toordinal()) if course.found else across.low
    middle: list[Spot] = []
    upper: list[Spot] = []
    lower: list[Spot] = []
    for step in range(_STEPS + 1):
        x = start + (across.high - start) * step / _STEPS
        band = fit.band(Fraction(x).limit_denominator(1000), level=LEVEL)
        at = across.share(x)
        middle.append((at, upright.share(band.centre)))
        upper.append((at, upright.share(band.high)))
        lower.append((at, upright.share(band.low)))
    return {"line": tuple(middle), "upper": tuple(upper), "lower": tuple(lower)}


def _known_lines(course: _Course, across: _Scale, upright: _Scale) -> dict[str, tuple[Spot, ...]]:
    """From the first measurement on at the rate that is known, and at both ends of it."""
    outlook = None if course.found is None else course.found.outlook
    if outlook is None or outlook.paces is None or outlook.bound is None or not outlook.rate:
        return {}
    (first, amount), *_ = outlook.points
    start, height = float(first), float(amount)
    sign = 1 if outlook.bound >= amount else -1

    def drawn(pace: float) -> tuple[Spot, ...]:
        steps = [start + (across.high - start) * step / _STEPS for step in range(_STEPS + 1)]
        return tuple(
            (across.share(x), upright.share(height + sign * pace * (x - start))) for x in steps
        )

    slow, fast = outlook.paces
    return {"line": drawn(outlook.rate), "upper": drawn(fast), "lower": drawn(slow)}


def _x_ticks(course: _Course, across: _Scale) -> tuple[Tick, ...]:
    if course.limit.wears is WearAxis.DAYS:
        return tuple(
            Tick(at=across.share(float(one.day.toordinal())), text=course.words.day(one.day))
            for one in course.readings
        )
    return tuple(
        Tick(at=across.share(value), text=course.words.number(Fraction(value), 1))
        for value in _round_values(across)
    )


def _y_ticks(course: _Course, upright: _Scale) -> tuple[Tick, ...]:
    return tuple(
        Tick(
            at=upright.share(value),
            text=course.words.quantity(Quantity(Fraction(value), course.limit.unit)),
        )
        for value in _round_values(upright, most=5)
    )


def _round_values(scale: _Scale, most: int = 8) -> list[float]:
    """Round figures over a stretch, at most so many."""
    span = scale.high - scale.low
    step = 10.0 ** floor(log10(span))
    for part in (0.1, 0.2, 0.5, 1.0, 2.0):
        if span / (step * part) <= most:
            step *= part
            break
    first = ceil(scale.low / step)
    return [step * n for n in range(first, floor(scale.high / step) + 1)]


def _flags(course: _Course, across: _Scale) -> tuple[Flag, ...]:
    found = course.found
    if found is None or course.is_past:
        return ()
    words = course.words
    past = found.plan_by is not None and found.plan_by < course.on
    by = msg("was due {day}") if past else msg("plan by {day}")
    flags: list[Flag] = []
    for x, day, text, strong in (
        (found.outlook.plan_by, found.plan_by, by, True),
        (found.outlook.expected, found.expected, msg("expected {day}"), False),
    ):
        if x is not None and x != inf and day is not None and 0 <= across.share(x) <= 1:
            said = words.text(text, day=words.day(day))
            flags.append(Flag(at=across.share(x), text=said, strong=strong))
    return tuple(flags)


def _sentences(course: _Course) -> tuple[str, ...]:
    words, found = course.words, course.found
    if course.is_past:
        last = words.day_long(course.readings[-1].day)
        worn = words.worn_when(course.limit)
        past = msg("Past its limit when it was measured last, {day}: {worn}.")
        return (words.text(past, day=last, worn=worn),)
    if found is None and course.limit.wears is not None:
        return (words.text(NO_FORECASTS[NoForecast.NO_READING]),)
    if found is None:
        return (words.text(msg("This measurement does not wear away: no day is foreseen.")),)
    outlook = found.outlook
    if outlook.method is None:
        reason = outlook.no_forecast
        return () if reason is None else (words.text(NO_FORECASTS[reason]),)
    said: list[str] = []
    if found.plan_by is not None:
        past = found.plan_by < course.on
        text = msg("Plan by {day}, which is past: measure it again, or renew it.")
        text = text if past else msg("Plan by {day}.")
        said.append(words.text(text, day=words.day_long(found.plan_by)))
    if found.expected is not None and outlook.expected is not None:
        said.append(words.text(msg("Most likely worn {day}."), day=words.day_long(found.expected)))
    if found.plan_by is None:
        said.append(words.text(msg("At this rate it lasts longer than can be foreseen.")))
    if found.plan_by is not None and found.latest is not None:
        said.append(
            words.text(
                msg("Nine times in ten it is worn between {first} and {last}."),
                first=words.day(found.plan_by),
                last=words.day(found.latest),
            )
        )
    said.append(
        words.text(
            msg("Reckoned {how}."),
            how=words.text(
                (OWN_PARTS if found.parts_before else METHODS).get(
                    outlook.method, METHODS[outlook.method]
                ),
                before=found.parts_before,
                n=len(outlook.points),
                share=words.percent(Fraction(round(outlook.weight_known * 100), 100)),
            ),
        )
    )
    return tuple(said)


def _table(course: _Course) -> tuple[tuple[str, str, str], ...]:
    words = course.words
    return tuple(
        (
            words.day(one.day),
            words.run_time(course.item.timeline.total(one.day.toordinal())),
            words.amount(course.limit, one.amount),
        )
        for one in course.readings
    )
