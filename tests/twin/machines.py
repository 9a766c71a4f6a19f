"""Invented machines by chance: the same number gives the same machine, day and limits."""

from __future__ import annotations

import random
from collections.abc import Sequence
from dataclasses import replace
from datetime import date, timedelta
from fractions import Fraction

from schedules.facts import (
    Applies,
    CheckFailed,
    Direction,
    Doing,
    DutyCode,
    FaultFacts,
    FeatureCode,
    FuelSort,
    FuelUse,
    HoursFacts,
    HoursReading,
    InferredPoint,
    ItemFacts,
    ItemId,
    ItemSort,
    KindCode,
    KindFacts,
    LimitCode,
    LimitFacts,
    LimitReading,
    LotFacts,
    MachineFacts,
    MachineId,
    MonthDay,
    NthOf,
    OwnFigure,
    Past,
    Phase,
    Policy,
    Rule,
    StorageFacts,
    TaskCode,
    TaskFacts,
    TaskSort,
    UseFacts,
    VesselFacts,
    VesselId,
    VesselSort,
    WearForecast,
    Window,
)
from schedules.units import Unit
from tests.twin.days import LONGEST, ONE, each_day, year_pattern

HOUR = 3600
LIMITS = {
    LimitCode(code): LimitFacts(
        code=LimitCode(code),
        name=code,
        how="",
        direction=direction,
        unit=Unit.MICROMETRE,
        low=low,
        high=high,
        per_task=per_task,
    )
    for code, direction, low, high, per_task in (
        ("L1", Direction.AT_MOST, None, 100, False),
        ("L2", Direction.AT_LEAST, 100, None, False),
        ("L3", Direction.BETWEEN, 80, 100, False),
        ("L4", Direction.EVENT, None, None, False),
        ("L5", Direction.AT_MOST, None, 100, True),
        ("L6", Direction.AT_MOST, None, None, False),
    )
}


def window(first_month: int, first_day: int, last_month: int, last_day: int) -> Window:
    return Window(MonthDay(first_month, first_day), MonthDay(last_month, last_day))


SNOW = (window(11, 1, 3, 31),)
MOWING = (window(4, 1, 10, 31),)
KNOWN_WINDOWS: tuple[tuple[Window, ...], ...] = (
    SNOW,
    MOWING,
    (window(11, 15, 4, 30),),
    (window(3, 15, 10, 31),),
    (window(3, 15, 5, 31), window(9, 1, 11, 15)),
    (window(11, 1, 1, 15), window(5, 1, 7, 31)),
    # Merged by the gap, touching, overlapping, one within the other.
    (window(4, 1, 6, 30), window(7, 20, 10, 31)),
    (window(4, 1, 6, 30), window(8, 11, 10, 31)),
    (window(4, 1, 6, 30), window(8, 12, 10, 31)),
    (window(11, 1, 2, 28), window(3, 1, 5, 31)),
    (window(12, 1, 3, 31), window(2, 1, 6, 15)),
    (window(1, 10, 2, 29), window(2, 1, 2, 28)),
    # Around the leap day.
    (window(12, 1, 2, 29),),
    (window(2, 29, 6, 30),),
    (window(2, 29, 2, 29),),
    (window(2, 29, 2, 29), window(9, 1, 11, 30)),
    (window(12, 1, 2, 28),),
    # Too little left out, all year, a season too short for a middle.
    (window(2, 10, 1, 1),),
    (window(2, 11, 1, 1),),
    (window(1, 1, 12, 31),),
    (window(9, 10, 10, 20),),
    (window(9, 10, 10, 21),),
    (window(5, 5, 5, 5),),
    (),
)


# -- small choices ----------------------------------------------------------------------------


def maybe(chance: random.Random, share: float) -> bool:
    return chance.random() < share


def any_month_day(chance: random.Random) -> MonthDay:
    month = chance.randint(1, 12)
    return MonthDay(month, chance.randint(1, LONGEST[month - 1]))


def random_windows(chance: random.Random) -> tuple[Window, ...]:
    if maybe(chance, 0.7):
        return chance.choice(KNOWN_WINDOWS)
    count = chance.choice((1, 1, 2))
    return tuple(Window(any_month_day(chance), any_month_day(chance)) for _ in range(count))


def random_on(chance: random.Random) -> date:
    if maybe(chance, 0.1):
        return date(2024, 2, 29) + timedelta(days=chance.randint(-2, 2))
    return date(2022, 6, 1) + timedelta(days=chance.randint(0, 1500))


def random_shares(chance: random.Random) -> tuple[Fraction, ...]:
    sort = chance.choice(("even", "some", "some", "whole", "none"))
    if sort == "even":
        return (Fraction(1, 12),) * 12
    if sort == "none" and maybe(chance, 0.5):
        return (Fraction(0),) * 12
    parts = [chance.choice((0, 0, 1, 2, 5)) if sort != "whole" else 1 + m for m in range(12)]
    whole = sum(parts) or 1
    return tuple(Fraction(part, whole) for part in parts)


def random_policy(chance: random.Random) -> Policy:
    """The usual settings in half of the cases."""
    if maybe(chance, 0.5):
        return Policy()
    return Policy(
        gap_days=chance.choice((14, 30, 42, 60)),
        end_days=chance.choice((1, 7, 21, 30)),
        repeat_days=chance.choice((1, 28, 60, 120)),
        due_days=chance.choice((0, 14, 30)),
        coming_days=chance.choice((30, 60, 90)),
        carry_minutes=chance.choice((1, 5, 20)),
        carry=chance.choice((Fraction(1, 5), Fraction(3, 5), Fraction(1))),
        horizon_years=chance.choice((1, 4, 10)),
    )


class MachineByChance:
    """Makes one machine. Days it draws come from a span, with a liking for telling ones."""

    def __init__(self, chance: random.Random, *, alike: bool) -> None:
        self.chance = chance
        self.alike = alike
        self.on = random_on(chance)
        self.came_on = self.on - timedelta(days=chance.choice((0, 3, 40, 200, 400, 800, 1300)))
        if maybe(chance, 0.5):
            self.came_on -= timedelta(days=chance.randint(0, 60))
        # Some entries lie after the day asked about: they do not exist yet.
        self.to = self.on + timedelta(days=chance.choice((0, 0, 0, 0, 30, 200)))
        self.south = maybe(chance, 0.3)
        self.windows = random_windows(chance)
        self.own_windows = random_windows(chance) if maybe(chance, 0.15) else None
        self.storage = self._storage()
        self.telling = self._telling_days()

    def _telling_days(self) -> list[date]:
        """Days on which something begins or ends, and their neighbours."""
        windows = self.windows if self.own_windows is None else self.own_windows
        pattern = year_pattern(windows, 42)
        days = [self.came_on, self.on, self.to]
        days += [
            day
            for day in each_day(self.came_on, self.to)
            if pattern.has_season and pattern.in_season(day) != pattern.in_season(day - ONE)
        ]
        for spell in self.storage:
            days.extend(x for x in (spell.put_away_on, spell.woken_on, spell.planned_last) if x)
        return days

    def day(self, first: date | None = None) -> date:
        first = first or self.came_on
        if maybe(self.chance, 0.3):
            day = self.chance.choice(self.telling) + timedelta(days=self.chance.randint(-2, 2))
        else:
            day = first + timedelta(days=self.chance.randint(0, max(0, (self.to - first).days)))
        return min(max(day, first), max(first, self.to))

    def days(self, most: int, first: date | None = None) -> list[date]:
        return sorted(self.day(first) for _ in range(self.chance.randint(0, most)))

    # -- storage and use ----------------------------------------------------------------------

    def _storage(self) -> tuple[StorageFacts, ...]:
        if maybe(self.chance, 0.35):
            return ()
        found: list[StorageFacts] = []
        cursor = self.came_on
        while len(found) < 4:
            put_away = cursor + timedelta(days=self.chance.choice((0, 20, 90, 200, 330, 500)))
            put_away += timedelta(days=self.chance.randint(0, 40))
            if put_away > self.to:
                break
            planned = put_away + timedelta(days=self.chance.choice((0, 10, 60, 200, 400, 800)))
            planned_last = planned if maybe(self.chance, 0.4) else None
            woken = put_away + timedelta(days=self.chance.choice((1, 15, 60, 150, 250, 400)))
            woken += timedelta(days=self.chance.randint(0, 30))
            if woken > self.to or maybe(self.chance, 0.2):
                found.append(StorageFacts(put_away_on=put_away, planned_last=planned_last))
                break
            found.append(
                StorageFacts(put_away_on=put_away, woken_on=woken, planned_last=planned_last)
            )
            cursor = woken
            if maybe(self.chance, 0.1):
                cursor -= timedelta(days=20)
                cursor = max(cursor, woken)
        return tuple(found)

    def uses(self) -> tuple[UseFacts, ...]:
        sort = self.chance.choice(("none", "few", "dense", "some", "late"))
        days: list[date] = []
        if sort in ("few", "some"):
            days = self.days(4 if sort == "few" else 14)
        elif sort == "dense":
            day = self.day()
            while day <= self.to and len(days) < 60:
                days.append(day)
                day += timedelta(days=self.chance.choice((0, 1, 3, 7)))
        elif sort == "late":
            days = [day for day in self.days(8) if day > self.on - timedelta(days=120)]
        return tuple(
            UseFacts(day=day, seconds=self.chance.choice((600, 1200, 2400, HOUR, 2 * HOUR)))
            for day in days
        )

    def hours(self, came_on: date) -> HoursFacts:
        chance = self.chance
        total = chance.choice((0, 0, 10, 412)) * HOUR
        at_start = total if maybe(chance, 0.5) else None
        readings: list[HoursReading] = []
        inferred: list[InferredPoint] = []
        for day in self.days(5, came_on):
            total += chance.choice((0, 0, HOUR, 7 * HOUR, 25 * HOUR))
            if maybe(chance, 0.25):
                accepted = day + timedelta(days=chance.choice((0, 0, 20)))
                inferred.append(InferredPoint(day=day, seconds=total, accepted_on=accepted))
            else:
                readings.append(HoursReading(day=day, seconds=total))
                if maybe(chance, 0.1):
                    readings.append(HoursReading(day=day, seconds=total - chance.choice((0, 60))))
        if len(readings) > 1 and maybe(chance, 0.5):
            chance.shuffle(readings)
        return HoursFacts(
            at_start=at_start,
            readings=tuple(readings),
            inferred=tuple(inferred),
            year_seconds=chance.choice((0, 5, 15, 15, 50, 50, 120)) * HOUR,
            month_shares=random_shares(chance),
        )

    # -- tasks --------------------------------------------------------------------------------

    def rule(self, others: Sequence[TaskCode]) -> Rule:
        while True:
            rule = self._any_rule(others)
            if is_allowed(rule):
                return rule

    def _any_rule(self, others: Sequence[TaskCode]) -> Rule:
        chance = self.chance
        if maybe(chance, 0.12):
            return Rule(phases=(Phase.END,), stored=maybe(chance, 0.2))
        if maybe(chance, 0.04):
            return Rule(fuel_age=True, stored=maybe(chance, 0.8))
        nth = None
        if others and maybe(chance, 0.12):
            nth = NthOf(code=chance.choice(others), n=chance.randint(1, 4))
        hours = maybe(chance, 0.4)
        phases = chance.sample(list(Phase), chance.choice((0, 1, 1, 1, 2, 2, 3)))
        limits = chance.sample(list(LIMITS), chance.choice((0, 0, 0, 1, 2)))
        return Rule(
            first_seconds=chance.choice((2, 5, 20)) * HOUR if maybe(chance, 0.25) else None,
            run_seconds=chance.choice((5, 10, 25, 50, 100, 300)) * HOUR if hours else None,
            months=chance.choice((1, 2, 3, 6, 11, 12, 12, 12, 18, 24, 36))
            if maybe(chance, 0.5)
            else None,
            phases=tuple(phases),
            each_use=maybe(chance, 0.05),
            uses=chance.choice((1, 3, 10, 25)) if maybe(chance, 0.2) else None,
            limits=tuple(limits),
            nth_of=nth,
            stored=maybe(chance, 0.15),
            on_sight=maybe(chance, 0.04),
            on_fault=maybe(chance, 0.04),
        )

    def task(self, code: TaskCode, sort: ItemSort, others: Sequence[TaskCode]) -> TaskFacts:
        chance = self.chance
        applies: tuple[Applies, ...] = ()
        if maybe(chance, 0.15):
            applies = (
                Applies(feature=FeatureCode("F1"), values=("yes",), unknown=maybe(chance, 0.5)),
            )
        factors = chance.sample(
            [Fraction(1, 2), Fraction(4, 5), Fraction(6, 5), Fraction(1, 4), Fraction(2, 3)], 2
        )
        look = chance.choice((2, 4, 5, 10))
        return TaskFacts(
            code=code,
            name=code,
            how="",
            sort=chance.choice(list(TaskSort)),
            rule=self.rule(others),
            item=sort,
            look_minutes=look,
            do_minutes=look + chance.choice((0, 5, 40)),
            replaces=maybe(chance, 0.25),
            safety=maybe(chance, 0.2),
            opening=chance.choice(("", "", "plug out", "on its side")),
            includes=tuple(chance.sample(others, min(len(others), 1)))
            if maybe(chance, 0.2)
            else (),
            duties=tuple(zip((DutyCode("D1"), DutyCode("D2")), factors, strict=True))
            if maybe(chance, 0.4)
            else (),
            applies=applies,
        )

    def doings(self, code: TaskCode, came_on: date) -> list[Doing]:
        chance = self.chance
        if maybe(chance, 0.35):
            return []
        return [
            Doing(code=code, day=day, replaced=maybe(chance, 0.2), assumed=maybe(chance, 0.15))
            for day in self.days(chance.choice((1, 2, 5)), came_on)
        ]

    def readings(self, task: TaskFacts, came_on: date) -> list[LimitReading]:
        chance = self.chance
        found: list[LimitReading] = []
        for code in task.rule.limits:
            for day in self.days(3, came_on):
                event = LIMITS[code].direction is Direction.EVENT
                amount = chance.choice((70, 80, 90, 99, 100, 101, 130))
                found.append(
                    LimitReading(
                        code=task.code,
                        limit=code,
                        day=day,
                        amount=None if event else amount,
                        seen=maybe(chance, 0.5) if event else None,
                        after_work=maybe(chance, 0.3),
                    )
                )
        return found

    def item(
        self, place: int, sort: ItemSort, codes: Sequence[TaskCode], all_codes: int
    ) -> ItemFacts:
        chance = self.chance
        came_on = self.came_on
        if place and maybe(chance, 0.4):
            came_on = min(self.on, self.day())
        # A swapped engine brings its own past.
        from_day = came_on
        if place and maybe(chance, 0.3):
            from_day -= timedelta(days=chance.randint(0, 500))
        tasks: list[TaskFacts] = []
        doings: list[Doing] = []
        readings: list[LimitReading] = []
        for code in codes:
            number = int(code[1:])
            others = [TaskCode(f"T{x}") for x in range(all_codes) if x > number]
            task = self.task(code, sort, others)
            tasks.append(task)
            doings += self.doings(code, from_day)
            readings += self.readings(task, from_day)
        readings.sort(key=lambda reading: reading.day)
        forecasts = tuple(
            WearForecast(code=task.code, limit=limit, plan_by=self.day_to_come())
            for task in tasks
            for limit in task.rule.limits
            if maybe(chance, 0.3)
        )
        return ItemFacts(
            item_id=ItemId(place + 1),
            sort=sort,
            came_on=came_on,
            past=Past.NEW if maybe(chance, 0.65) else Past.UNKNOWN,
            hours=self.hours(came_on),
            tasks=tuple(tasks),
            doings=tuple(doings),
            readings=tuple(readings),
            forecasts=forecasts,
        )

    def day_to_come(self) -> date:
        return self.on + timedelta(days=self.chance.randint(-40, 500))

    def items(self) -> tuple[ItemFacts, ...]:
        count = self.chance.randint(3, 8)
        codes = [TaskCode(f"T{x}") for x in range(count)]
        cut = count if maybe(self.chance, 0.6) else self.chance.randint(1, count - 1)
        found = [self.item(0, ItemSort.MACHINE, codes[:cut], count)]
        if cut < count:
            sort = self.chance.choice((ItemSort.ENGINE, ItemSort.PACK))
            found.append(self.item(1, sort, codes[cut:], count))
            if self.alike and maybe(self.chance, 0.15):
                found.append(self.another(found[1]))
        return tuple(found)

    def another(self, like: ItemFacts) -> ItemFacts:
        """A second one of the same make: the same tasks, a past of its own."""
        doings = [doing for task in like.tasks for doing in self.doings(task.code, like.came_on)]
        return replace(
            like,
            item_id=ItemId(3),
            past=Past.NEW if maybe(self.chance, 0.65) else Past.UNKNOWN,
            hours=self.hours(like.came_on),
            doings=tuple(doings),
            readings=like.readings if maybe(self.chance, 0.5) else (),
            forecasts=(),
        )

    def vessels(self) -> tuple[VesselFacts, ...]:
        """Now and then a tank and a bowl, with petrol bought some time ago."""
        chance = self.chance
        if maybe(chance, 0.85):
            return ()
        return tuple(
            VesselFacts(
                vessel_id=VesselId(place),
                name="",
                sort=sort,
                capacity_ul=3_000_000,
                lots=tuple(self.lot() for _ in range(chance.randint(0, 2))),
                month_means_mc=(chance.choice((-8000, 4000)),) * 5 + (18000,) * 7,
                burns=chance.choice((FuelUse.FOUR_STROKE, FuelUse.TWO_STROKE)),
            )
            for place, sort in enumerate((VesselSort.TANK, VesselSort.BOWL, VesselSort.TANK))
            if maybe(chance, 0.6)
        )

    def lot(self) -> LotFacts:
        bought = self.on - timedelta(days=self.chance.randint(0, 300))
        return LotFacts(
            bought_on=bought if maybe(self.chance, 0.9) else None,
            volume_ul=1_000_000,
            sort=self.chance.choice((FuelSort.E0, FuelSort.E10, FuelSort.ALKYLATE)),
            since=bought,
        )

    def own_figures(self, items: Sequence[ItemFacts]) -> tuple[OwnFigure, ...]:
        if maybe(self.chance, 0.8):
            return ()
        task = self.chance.choice([task for item in items for task in item.tasks])
        figure, values = self.chance.choice(
            (
                ("first_seconds", (3 * HOUR, None)),
                ("run_seconds", (20 * HOUR, None)),
                ("months", (12, 24, 4, None)),
                ("uses", (5, None)),
                ("high", (120, None)),
                ("low", (75, None)),
            )
        )
        target: str = task.code
        if figure in ("high", "low"):
            target = self.chance.choice(list(LIMITS))
        value = self.chance.choice(values)
        return (OwnFigure(target=target, figure=figure, value=value, page="12"),)

    def machine(self) -> MachineFacts:
        chance = self.chance
        items = self.items()
        faults = ()
        if maybe(chance, 0.05):
            faults = (
                FaultFacts(
                    fault_id=1,
                    text="",
                    since=self.day(),
                    stops_use=maybe(chance, 0.5),
                    put_off=maybe(chance, 0.5),
                ),
            )
        failed = ()
        if maybe(chance, 0.03):
            failed = (CheckFailed(code=items[0].tasks[0].code, day=self.day()),)
        return MachineFacts(
            machine_id=MachineId(1),
            name="made up",
            kind=kind(self.windows, items[0], use_seconds=chance.choice((1800, HOUR))),
            place="",
            south=self.south,
            came_on=items[0].came_on,
            past=items[0].past,
            items=items,
            own_windows=self.own_windows,
            uses=self.uses(),
            storage=self.storage,
            features=((FeatureCode("F1"), chance.choice(("yes", "no"))),)
            if maybe(chance, 0.5)
            else (),
            duties=frozenset(DutyCode(x) for x in ("D1", "D2") if maybe(chance, 0.4)),
            own_figures=self.own_figures(items),
            faults=faults,
            failed_checks=failed,
            vessels=self.vessels(),
        )


def kind(windows: tuple[Window, ...], item: ItemFacts, *, use_seconds: int) -> KindFacts:
    return KindFacts(
        code=KindCode("K00"),
        name="",
        windows=windows,
        year_seconds=item.hours.year_seconds,
        use_seconds=use_seconds,
        use_word="",
        shape="",
        tasks=item.tasks,
        fuel="",
        icon="",
    )


def is_allowed(rule: Rule) -> bool:
    """What the catalogue's loader lets through."""
    months = rule.months
    if rule == Rule() or rule == Rule(stored=True):
        return False
    if months is not None and months >= 24 and len(rule.phases) > 1:
        return False
    if Phase.END in rule.phases and months is not None and months < 12:
        return False
    if Phase.IN in rule.phases:
        lasts = (rule.run_seconds, months, rule.uses)
        return rule.each_use or any(part is not None for part in lasts)
    return True


def random_machine(
    chance: random.Random, *, alike: bool = False
) -> tuple[MachineFacts, date, dict[LimitCode, LimitFacts]]:
    """A machine, the day asked about, the limits. `alike`: now and then two packs of one make."""
    making = MachineByChance(chance, alike=alike)
    return making.machine(), making.on, dict(LIMITS)


__all__ = ["LIMITS", "MOWING", "SNOW", "random_machine", "random_policy", "window"]
