"""Due days worked out by hand, asked of the engine and of its plain twin.

The working stands beside each case. Unless said otherwise: snow season 1 November to 31 March,
mowing season 1 April to 31 October.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import date, timedelta
from fractions import Fraction
from typing import Any

import pytest

from schedules import plan
from schedules.facts import (
    Applies,
    CheckFailed,
    Doing,
    DutyCode,
    FaultFacts,
    FeatureCode,
    GovernedBy,
    HoursBasis,
    HoursFacts,
    HoursReading,
    InferredPoint,
    ItemFacts,
    ItemId,
    ItemSort,
    KindCode,
    KindFacts,
    LimitCode,
    LimitReading,
    MachineFacts,
    MachineId,
    MachineState,
    MachineVerdict,
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
    TaskState,
    TaskVerdict,
    UseFacts,
    WearForecast,
    Window,
)
from tests.twin import engine as twin
from tests.twin.machines import LIMITS, MOWING, SNOW, window

HOUR = 3600
TWO_SEASONS = (window(3, 15, 5, 31), window(9, 1, 11, 15))

# Hours a day: November .2, December .4, January .5, February .4, March .2. The shares add up to 1
# over whole months (February 28.25 days), so W is 1 and a day has year x share / days of month:
# 6 + 12.4 + 15.5 + 11.3 + 6.2 = 51.4 h a year; February of 28 days holds 11.2 of its 11.3.
SNOW_YEAR = 185_040
SNOW_SHARES = tuple(
    Fraction(tenths, 514) for tenths in (155, 113, 62, 0, 0, 0, 0, 0, 0, 0, 60, 124)
)
EVEN = (Fraction(1, 12),) * 12

Said = MachineVerdict | twin.TwinVerdict
SaidOfTask = TaskVerdict | twin.TwinTask
Ask = Callable[[MachineFacts, date], Said]


def ask_engine(facts: MachineFacts, on: date) -> Said:
    return plan.judge_machine(facts, on=on, policy=Policy(), limits=LIMITS)


def ask_twin(facts: MachineFacts, on: date) -> Said:
    return twin.judge_machine(facts, on=on, policy=Policy(), limits=LIMITS)


@pytest.fixture(params=[ask_engine, ask_twin], ids=["engine", "twin"])
def ask(request: pytest.FixtureRequest) -> Ask:
    return request.param


@dataclass(frozen=True)
class Machine:
    """What a case says of its machine; everything else is plain."""

    windows: tuple[Window, ...] = SNOW
    came: date = date(2024, 10, 31)
    past: Past = Past.NEW
    hours: HoursFacts | None = None
    use_seconds: int = HOUR
    doings: tuple[Doing, ...] = ()
    readings: tuple[LimitReading, ...] = ()
    forecasts: tuple[WearForecast, ...] = ()
    uses: tuple[UseFacts, ...] = ()
    storage: tuple[StorageFacts, ...] = ()
    south: bool = False
    duties: frozenset[DutyCode] = frozenset()
    own_figures: tuple[OwnFigure, ...] = ()
    own_windows: tuple[Window, ...] | None = None
    features: tuple[tuple[FeatureCode, str], ...] = ()
    faults: tuple[FaultFacts, ...] = ()
    failed_checks: tuple[CheckFailed, ...] = ()

    def facts(self, *tasks: TaskFacts) -> MachineFacts:
        hours = self.hours or no_use()
        item = ItemFacts(
            item_id=ItemId(1),
            sort=ItemSort.MACHINE,
            came_on=self.came,
            past=self.past,
            hours=hours,
            tasks=tasks,
            doings=self.doings,
            readings=self.readings,
            forecasts=self.forecasts,
        )
        return MachineFacts(
            machine_id=MachineId(1),
            name="the red one",
            kind=KindFacts(
                code=KindCode("K00"),
                name="",
                windows=self.windows,
                year_seconds=hours.year_seconds,
                use_seconds=self.use_seconds,
                use_word="",
                shape="",
                tasks=tasks,
                fuel="",
                icon="",
            ),
            place="",
            south=self.south,
            came_on=self.came,
            past=self.past,
            items=(item,),
            own_windows=self.own_windows,
            uses=self.uses,
            storage=self.storage,
            features=self.features,
            duties=self.duties,
            own_figures=self.own_figures,
            faults=self.faults,
            failed_checks=self.failed_checks,
        )


def no_use() -> HoursFacts:
    return HoursFacts(at_start=0, year_seconds=0, month_shares=EVEN)


def snow_use(*readings: HoursReading, at_start: int | None = 0) -> HoursFacts:
    return HoursFacts(
        at_start=at_start, readings=readings, year_seconds=SNOW_YEAR, month_shares=SNOW_SHARES
    )


def task(rule: Rule, code: str = "T", **more: Any) -> TaskFacts:
    plain = TaskFacts(
        code=TaskCode(code),
        name=code,
        how="",
        sort=TaskSort.PREDETERMINED,
        rule=rule,
        look_minutes=10,
        do_minutes=30,
    )
    return replace(plain, **more)


def did(day: date, code: str = "T", *, replaced: bool = False, assumed: bool = False) -> Doing:
    return Doing(code=TaskCode(code), day=day, replaced=replaced, assumed=assumed)


def measured(day: date, amount: int, *, after: bool = False, limit: str = "L1") -> LimitReading:
    return LimitReading(
        code=TaskCode("T"), limit=LimitCode(limit), day=day, amount=amount, after_work=after
    )


def said(ask: Ask, machine: Machine, rule: Rule, on: date, **more: Any) -> SaidOfTask:
    return said_of(ask(machine.facts(task(rule, **more)), on), "T")


def said_of(verdict: Said, code: str) -> SaidOfTask:
    return next(one for one in verdict.tasks if one.code == code)


def due(ask: Ask, machine: Machine, rule: Rule, on: date) -> tuple[date | None, GovernedBy]:
    one = said(ask, machine, rule, on)
    return one.due, one.governed_by


# -- hours ------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("hours", "day"),
    [
        # 6.0 + 12.4 + 14 x .5 = 25.4 on 14 January; 24.9 the day before.
        (25, date(2026, 1, 14)),
        # 6.0 + 12.4 + 15.5 + 11.2 = 45.1; + 25 x .2 = 50.1 on 25 March; 49.9 the day before.
        (50, date(2026, 3, 25)),
        # 51.3 in the whole season, idle summer, 6.0 + 12.4 = 69.7; + .5 = 70.2.
        (70, date(2027, 1, 1)),
    ],
)
def test_hours_run_up_in_the_season_alone(ask: Ask, hours: int, day: date) -> None:
    new = Machine(came=date(2025, 10, 31), hours=snow_use())
    rule = Rule(run_seconds=hours * HOUR)
    assert due(ask, new, rule, date(2025, 10, 31)) == (day, GovernedBy.HOURS)


def test_whichever_comes_first(ask: Ask) -> None:
    # 50 h on 25 March 2026, 12 months on 31 October 2026.
    new = Machine(came=date(2025, 10, 31), hours=snow_use())
    rule = Rule(run_seconds=50 * HOUR, months=12)
    assert due(ask, new, rule, date(2025, 11, 1)) == (date(2026, 3, 25), GovernedBy.HOURS)


def test_the_band_is_double_and_half_the_use(ask: Ask) -> None:
    # Double: November 12.0, then 13.0 / .8 = 16.25, so the 17th day of December.
    # Half: November to February 3 + 6.2 + 7.75 + 5.6 = 22.55, then 2.45 / .1, the 25th of March.
    new = Machine(came=date(2025, 10, 31), hours=snow_use())
    one = said(ask, new, Rule(run_seconds=25 * HOUR), date(2025, 10, 31))
    assert (one.due_early, one.due_late) == (date(2025, 12, 17), date(2026, 3, 25))
    assert one.seconds_left == 25 * HOUR


FIRST_FIVE = Rule(first_seconds=5 * HOUR, run_seconds=25 * HOUR)


def test_first_hours_after_the_purchase(ask: Ask) -> None:
    # 5 h at .2 a day: the 25th day.
    new = Machine(came=date(2025, 10, 31), hours=snow_use())
    assert due(ask, new, FIRST_FIVE, date(2025, 11, 1))[0] == date(2025, 11, 25)


def test_then_the_full_hours_after_a_doing(ask: Ask) -> None:
    # Done on 30 November at 6.0 h: 31.0. December 18.4, January 33.9: 12.6 / .5 = 25.2, the 26th.
    new = Machine(came=date(2025, 10, 31), hours=snow_use(), doings=(did(date(2025, 11, 30)),))
    assert due(ask, new, FIRST_FIVE, date(2025, 11, 30))[0] == date(2026, 1, 26)


@pytest.mark.parametrize("by", ["doing", "task"])
def test_and_the_first_again_after_a_replacement(ask: Ask, by: str) -> None:
    # Replaced on 30 November at 6.0 h: 11.0, which is 12.5 days of .4: 13 December.
    doing = did(date(2025, 11, 30), replaced=by == "doing")
    new = Machine(came=date(2025, 10, 31), hours=snow_use(), doings=(doing,))
    one = said(ask, new, FIRST_FIVE, date(2025, 11, 30), replaces=by == "task")
    assert one.due == date(2025, 12, 13)


def test_a_duty_shortens_the_hours_down_to_a_quarter(ask: Ask) -> None:
    # 1/2 of 50 h: 25 h, 14 January. 1/2 x 1/4 = 1/8 is held to 1/4: 100 h become the same 25 h.
    half, quarter = (DutyCode("D1"), Fraction(1, 2)), (DutyCode("D2"), Fraction(1, 4))
    one = Machine(came=date(2025, 10, 31), hours=snow_use(), duties=frozenset({DutyCode("D1")}))
    both = replace(one, duties=frozenset({DutyCode("D1"), DutyCode("D2")}))
    on = date(2025, 10, 31)
    day = date(2026, 1, 14)
    fifty, hundred = Rule(run_seconds=50 * HOUR), Rule(run_seconds=100 * HOUR)
    assert said(ask, one, fifty, on, duties=(half, quarter)).due == day
    assert said(ask, both, hundred, on, duties=(half, quarter)).due == day


def test_a_duty_leaves_first_hours_months_and_more_than_one_alone(ask: Ask) -> None:
    eased = Machine(came=date(2025, 10, 31), hours=snow_use(), duties=frozenset({DutyCode("D1")}))
    on = date(2025, 11, 1)
    half, more = ((DutyCode("D1"), Fraction(1, 2)),), ((DutyCode("D1"), Fraction(6, 5)),)
    assert said(ask, eased, FIRST_FIVE, on, duties=half).due == date(2025, 11, 25)
    # Never above 1: 25 h stay 25 h.
    assert said(ask, eased, Rule(run_seconds=25 * HOUR), on, duties=more).due == date(2026, 1, 14)


def test_a_new_reading_corrects_what_was_estimated(ask: Ask) -> None:
    # By the profile 18.4 h on 31 December; the meter says 36.8, twice that: so 12.0, not 6.0, on
    # 30 November when the work was done. 12.0 + 35 = 47.0; 10.2 h from 36.8 are 20.4 days of .5.
    read = snow_use(HoursReading(day=date(2025, 12, 31), seconds=132_480))
    new = Machine(came=date(2025, 10, 31), hours=read, doings=(did(date(2025, 11, 30)),))
    one = said(ask, new, Rule(run_seconds=35 * HOUR), date(2025, 12, 31))
    assert one.seconds_left == Fraction(102, 10) * HOUR
    assert one.due == date(2026, 1, 21)


def test_logged_uses_in_place_of_the_profile_up_to_the_last(ask: Ask) -> None:
    # Two uses of 1 h, the last on 10 November: 2 h then, whatever the profile says. The ten days
    # after it .2 each: 4 h on 20 November.
    used = tuple(UseFacts(day=date(2025, 11, x), seconds=HOUR) for x in (3, 10))
    new = Machine(came=date(2025, 10, 31), hours=snow_use(), uses=used)
    on_day = ask(new.facts(task(Rule(months=12))), date(2025, 11, 10))
    later = ask(new.facts(task(Rule(months=12))), date(2025, 11, 20))
    assert hours_of(on_day) == (2 * HOUR, HoursBasis.LOG)
    assert hours_of(later) == (4 * HOUR, HoursBasis.ESTIMATED)


def hours_of(verdict: Said) -> tuple[Fraction | None, HoursBasis]:
    if isinstance(verdict, twin.TwinVerdict):
        return verdict.hours, verdict.basis
    return verdict.hours.seconds, verdict.hours.basis


def test_without_a_meter_hours_count_since_it_came(ask: Ask) -> None:
    # Nobody knows what it had run before: 0 on the day it came, then 30 days of .2 = 6 h.
    found = Machine(
        came=date(2025, 10, 31),
        past=Past.UNKNOWN,
        hours=snow_use(at_start=None),
        doings=(did(date(2025, 10, 31)),),
    )
    verdict = ask(found.facts(task(Rule(run_seconds=25 * HOUR))), date(2025, 11, 30))
    assert hours_of(verdict) == (6 * HOUR, HoursBasis.SINCE_IT_CAME)
    assert said_of(verdict, "T").due == date(2026, 1, 14)


def test_an_inferred_point_counts_until_a_reading_comes(ask: Ask) -> None:
    inferred = InferredPoint(
        day=date(2025, 12, 31), seconds=30 * HOUR, accepted_on=date(2026, 1, 5)
    )
    facts = replace(snow_use(), inferred=(inferred,))
    new = Machine(came=date(2025, 10, 31), hours=facts)
    # Before it is accepted: 6.0 + 12.4 + 4 x .5; from then on: 30 + 5 x .5.
    rule = task(Rule(months=12))
    assert hours_of(ask(new.facts(rule), date(2026, 1, 4)))[0] == Fraction(204, 10) * HOUR
    assert hours_of(ask(new.facts(rule), date(2026, 1, 5))) == (
        Fraction(325, 10) * HOUR,
        HoursBasis.INFERRED,
    )
    read = replace(facts, readings=(HoursReading(day=date(2026, 1, 9), seconds=20 * HOUR),))
    assert hours_of(ask(replace(new, hours=read).facts(rule), date(2026, 1, 9))) == (
        20 * HOUR,
        HoursBasis.METER,
    )


def test_the_households_own_hours_a_year(ask: Ask) -> None:
    # Two whole seasons between the readings of 1 October: 2023/24 has 152 days, 2024/25 151;
    # 30.3 h / 303 days = .1 h a day. Mean days of a year: 30 + 31 + 31 + 28.25 + 31 = 151.25, so
    # 15.125 h a year, shared evenly by months: March (31 days) has a day of 15.125 / W / 12 / 31
    # with W = 5 / 12, that is 3.025 / 31.
    readings = (
        HoursReading(day=date(2023, 10, 1), seconds=100 * HOUR),
        HoursReading(day=date(2025, 10, 1), seconds=100 * HOUR + 109_080),
    )
    hours = HoursFacts(at_start=0, readings=readings, year_seconds=SNOW_YEAR, month_shares=EVEN)
    known = Machine(came=date(2022, 5, 1), hours=hours)
    verdict = ask(known.facts(task(Rule(months=12))), date(2026, 3, 31))
    # November 3.025, December 3.025, January 3.025, February 28 / 28.25 of it, March 3.025.
    run = Fraction(3025, 1000) * (4 + Fraction(2800, 2825))
    assert hours_of(verdict)[0] == (Fraction(1303, 10) + run) * HOUR


# -- months -----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("done", "months", "day"),
    [
        (date(2023, 1, 31), 1, date(2023, 2, 28)),
        (date(2024, 1, 31), 1, date(2024, 2, 29)),
        (date(2024, 8, 31), 6, date(2025, 2, 28)),
        (date(2024, 2, 29), 12, date(2025, 2, 28)),
        (date(2096, 2, 29), 48, date(2100, 2, 28)),
        (date(2024, 1, 31), 2, date(2024, 3, 31)),
    ],
)
def test_months_are_clamped(ask: Ask, done: date, months: int, day: date) -> None:
    always = Machine(windows=(), came=done - timedelta(days=30), doings=(did(done),))
    assert due(ask, always, Rule(months=months), done) == (day, GovernedBy.MONTHS)


# -- phases -----------------------------------------------------------------------------------

NEW_2023 = Machine(came=date(2023, 5, 1))
STORAGE_ACT = Rule(phases=(Phase.END,))


def after(done: date, machine: Machine = NEW_2023) -> Machine:
    return replace(machine, doings=(did(done),))


@pytest.mark.parametrize(
    ("rule", "done", "day"),
    [
        # Before: opens 11 March (31 March - 20 days; the last third starts on 9 February).
        (Rule(phases=(Phase.BEFORE,)), date(2025, 3, 10), date(2025, 10, 31)),
        (Rule(phases=(Phase.BEFORE,)), date(2025, 3, 11), date(2026, 10, 31)),
        (Rule(phases=(Phase.BEFORE,), months=12), date(2025, 3, 11), date(2026, 10, 31)),
        (Rule(phases=(Phase.BEFORE,), months=24), date(2025, 3, 11), date(2027, 10, 31)),
        (Rule(phases=(Phase.OFF,)), date(2025, 3, 11), date(2026, 10, 31)),
        # Middle of 2025/26: 151 days, thirds of 50: 21 December to 8 February.
        (Rule(phases=(Phase.MIDDLE,)), date(2025, 12, 20), date(2026, 2, 8)),
        (Rule(phases=(Phase.MIDDLE,)), date(2025, 12, 21), date(2027, 2, 8)),
        # End with months: opens with the middle; 21 days after 31 March.
        (Rule(phases=(Phase.END,), months=12), date(2025, 12, 20), date(2026, 4, 21)),
        (Rule(phases=(Phase.END,), months=12), date(2025, 12, 21), date(2027, 4, 21)),
        (Rule(phases=(Phase.END,), months=24), date(2025, 4, 5), date(2027, 4, 21)),
        # A storage act: opens with the end window.
        (STORAGE_ACT, date(2025, 4, 5), date(2026, 4, 21)),
        # In with 12 months counts as before; with fewer it is the months alone.
        (Rule(phases=(Phase.IN,), months=12), date(2025, 3, 11), date(2026, 10, 31)),
    ],
)
def test_slots_of_a_phase(ask: Ask, rule: Rule, done: date, day: date) -> None:
    on = max(done, date(2025, 12, 20)) if done.year == 2025 and done.month == 12 else done
    assert due(ask, after(done), rule, on) == (day, GovernedBy.SEASON)


@pytest.mark.parametrize(
    ("done", "day"),
    [
        # 10 March is before the end window: still that of the season before.
        (date(2026, 3, 10), date(2026, 4, 21)),
        (date(2026, 3, 11), date(2027, 4, 21)),
    ],
)
def test_a_storage_act_counts_from_the_end_window(ask: Ask, done: date, day: date) -> None:
    assert due(ask, after(done), STORAGE_ACT, date(2026, 4, 1))[0] == day


def test_a_storage_act_not_done_lapses_when_the_next_season_starts(ask: Ask) -> None:
    never = Machine(came=date(2025, 11, 1))
    last = said(ask, never, STORAGE_ACT, date(2026, 10, 31))
    assert (last.due, last.state) == (date(2026, 4, 21), TaskState.OVERDUE)
    assert due(ask, never, STORAGE_ACT, date(2026, 11, 1))[0] == date(2027, 4, 21)


def test_end_with_months_does_not_lapse(ask: Ask) -> None:
    rule = Rule(phases=(Phase.END,), months=12)
    never = Machine(came=date(2025, 11, 1))
    assert due(ask, never, rule, date(2026, 11, 1))[0] == date(2026, 4, 21)


@pytest.mark.parametrize(
    ("came", "day"),
    [
        # Bought in the end window: it will be stored this spring.
        (date(2026, 3, 31), date(2026, 4, 21)),
        # Bought after the season: nothing to do before the next end.
        (date(2026, 4, 1), date(2027, 4, 21)),
    ],
)
def test_a_purchase_serves_a_storage_act_only_after_the_season(
    ask: Ask, came: date, day: date
) -> None:
    assert due(ask, Machine(came=came), STORAGE_ACT, date(2026, 4, 2))[0] == day


def test_putting_away_ends_the_season_for_it(ask: Ask) -> None:
    # Put away on 10 January, by default until 31 October: 21 days later.
    away = Machine(storage=(StorageFacts(put_away_on=date(2026, 1, 10)),))
    away = after(date(2025, 4, 5), away)
    assert due(ask, away, STORAGE_ACT, date(2026, 1, 10))[0] == date(2026, 1, 31)
    # The end window opens that day too, so that the work of the day counts.
    done = replace(away, doings=(did(date(2025, 4, 5)), did(date(2026, 1, 10))))
    assert due(ask, done, STORAGE_ACT, date(2026, 1, 10))[0] == date(2027, 4, 21)
    # Woken before 31 March: the season ends when it always does.
    woken = replace(
        away,
        storage=(StorageFacts(put_away_on=date(2026, 1, 10), woken_on=date(2026, 3, 31)),),
    )
    assert due(ask, woken, STORAGE_ACT, date(2026, 3, 31))[0] == date(2026, 4, 21)


def test_a_late_use_undoes_the_storage(ask: Ask) -> None:
    # Drained on 20 March when it was put away, out once more on 5 April: again by 26 April.
    away = Machine(
        storage=(StorageFacts(put_away_on=date(2026, 3, 20), woken_on=date(2026, 4, 5)),),
        uses=(UseFacts(day=date(2026, 4, 5), seconds=HOUR),),
        doings=(did(date(2026, 3, 20)),),
    )
    assert due(ask, away, STORAGE_ACT, date(2026, 4, 4))[0] == date(2027, 4, 21)
    assert due(ask, away, STORAGE_ACT, date(2026, 4, 6))[0] == date(2026, 4, 26)
    again = replace(away, doings=(did(date(2026, 3, 20)), did(date(2026, 4, 5))))
    assert due(ask, again, STORAGE_ACT, date(2026, 4, 6))[0] == date(2027, 4, 21)


@pytest.mark.parametrize(
    ("rule", "done", "day"),
    [
        # Spring 15 March - 31 May, autumn 1 September - 15 November. Done on 1 March 2025 serves
        # before spring 2025 (open since the end window of autumn 2024, 26 October).
        (Rule(phases=(Phase.BEFORE,)), date(2025, 3, 1), date(2025, 8, 31)),
        # Once a year: two slots on.
        (Rule(phases=(Phase.BEFORE,), months=12), date(2025, 3, 1), date(2026, 3, 14)),
        # Spring's end window: the later of 11 May and 6 May (78 days, thirds of 26).
        (STORAGE_ACT, date(2025, 5, 11), date(2025, 12, 6)),
        (STORAGE_ACT, date(2025, 5, 10), date(2025, 6, 21)),
        # Middle of spring 10 April - 5 May, of autumn 26 September - 20 October.
        (Rule(phases=(Phase.MIDDLE,)), date(2025, 4, 10), date(2025, 10, 20)),
        (Rule(phases=(Phase.MIDDLE,), months=12), date(2025, 4, 10), date(2026, 5, 5)),
    ],
)
def test_a_kind_with_two_seasons(ask: Ask, rule: Rule, done: date, day: date) -> None:
    machine = after(done, replace(NEW_2023, windows=TWO_SEASONS))
    assert due(ask, machine, rule, done) == (day, GovernedBy.SEASON)


@pytest.mark.parametrize(
    ("done", "day"),
    [
        # 10 September - 21 October: 42 days, middle 24 September - 7 October.
        (date(2025, 9, 9), date(2025, 10, 7)),
        # 27 days before the deadline: that middle is served too.
        (date(2025, 9, 10), date(2026, 10, 7)),
    ],
)
def test_work_shortly_before_serves_the_slot(ask: Ask, done: date, day: date) -> None:
    short = after(done, replace(NEW_2023, windows=(window(9, 10, 10, 21),)))
    assert due(ask, short, Rule(phases=(Phase.MIDDLE,)), date(2025, 9, 10))[0] == day


def test_a_season_of_41_days_has_no_middle(ask: Ask) -> None:
    short = after(date(2025, 5, 1), replace(NEW_2023, windows=(window(9, 10, 10, 20),)))
    assert due(ask, short, Rule(phases=(Phase.MIDDLE,)), date(2025, 9, 12))[0] is None
    # End with months then opens with the last third: 10 September + 26 days.
    rule = Rule(phases=(Phase.END,), months=12)
    for done, day in ((date(2025, 10, 5), 2025), (date(2025, 10, 6), 2026)):
        assert due(ask, after(done, short), rule, date(2025, 10, 6))[0] == date(day, 11, 10)


def test_a_season_slept_through_asks_for_nothing(ask: Ask) -> None:
    # Put away on 20 October 2025 until 30 June 2026: the next is before the winter after.
    asleep = after(
        date(2025, 3, 10),
        Machine(
            storage=(StorageFacts(put_away_on=date(2025, 10, 20), planned_last=date(2026, 6, 30)),),
        ),
    )
    before = Rule(phases=(Phase.BEFORE,))
    assert due(ask, asleep, before, date(2025, 10, 19))[0] == date(2025, 10, 31)
    assert due(ask, asleep, before, date(2025, 10, 20))[0] == date(2026, 10, 31)
    # The drain missed this spring lapses as the winter starts, slept through or not.
    assert due(ask, asleep, STORAGE_ACT, date(2025, 10, 31))[0] == date(2025, 4, 21)
    assert due(ask, asleep, STORAGE_ACT, date(2025, 11, 1))[0] == date(2027, 4, 21)


def test_months_in_season_beside_before_and_middle(ask: Ask) -> None:
    rule = Rule(months=2, phases=(Phase.BEFORE, Phase.MIDDLE, Phase.IN))
    # 20 November + 2 months comes before 8 February.
    assert due(ask, after(date(2025, 11, 20)), rule, date(2025, 11, 20)) == (
        date(2026, 1, 20),
        GovernedBy.MONTHS,
    )
    # 20 December + 2 months does not.
    assert due(ask, after(date(2025, 12, 20)), rule, date(2025, 12, 20)) == (
        date(2026, 2, 8),
        GovernedBy.SEASON,
    )
    # 5 March + 2 months falls into the summer and rests till its eve, where *before* waits too.
    assert due(ask, after(date(2026, 3, 5)), rule, date(2026, 3, 5)) == (
        date(2026, 10, 31),
        GovernedBy.SEASON,
    )


THREE_MONTHS_OFF = Rule(months=3, phases=(Phase.OFF,), stored=True)


@pytest.mark.parametrize(
    ("done", "on", "day"),
    [
        (date(2026, 4, 5), date(2026, 4, 5), date(2026, 7, 5)),
        # Falls in season: 20 days into the next summer.
        (date(2025, 10, 5), date(2025, 10, 5), date(2026, 4, 21)),
        # Overdue stays overdue while the summer lasts, and is let go when the winter starts.
        (date(2026, 4, 5), date(2026, 10, 31), date(2026, 7, 5)),
        (date(2026, 4, 5), date(2026, 11, 1), date(2027, 4, 21)),
    ],
)
def test_off_season_every_three_months(ask: Ask, done: date, on: date, day: date) -> None:
    assert due(ask, after(done), THREE_MONTHS_OFF, on) == (day, GovernedBy.MONTHS)


def test_a_stored_pack_is_asked_for_in_a_winter_it_sleeps_through(ask: Ask) -> None:
    # Laid up from 20 November: 15 December + 3 months = 15 March lies in that rest.
    away = after(
        date(2025, 12, 15), Machine(storage=(StorageFacts(put_away_on=date(2025, 11, 20)),))
    )
    assert due(ask, away, THREE_MONTHS_OFF, date(2025, 12, 20))[0] == date(2026, 3, 15)


# -- no season --------------------------------------------------------------------------------


def test_without_a_season_phases_alone_are_yearly(ask: Ask) -> None:
    always = after(date(2025, 2, 3), Machine(windows=()))
    on = date(2025, 6, 1)
    yearly = (date(2026, 2, 3), GovernedBy.MONTHS)
    assert due(ask, always, Rule(phases=(Phase.BEFORE,)), on) == yearly
    assert due(ask, always, Rule(phases=(Phase.BEFORE,), on_sight=True), on)[0] is None
    assert due(ask, always, Rule(phases=(Phase.OFF,), months=36), on)[0] == date(2028, 2, 3)
    assert due(ask, always, STORAGE_ACT, on) == (None, GovernedBy.NONE)


def test_without_a_season_a_storage_act_follows_the_putting_away(ask: Ask) -> None:
    away = Machine(windows=(), storage=(StorageFacts(put_away_on=date(2025, 6, 1)),))
    on = date(2025, 6, 10)
    assert due(ask, away, STORAGE_ACT, on) == (date(2025, 6, 22), GovernedBy.SEASON)
    assert due(ask, after(date(2025, 5, 31), away), STORAGE_ACT, on)[0] == date(2025, 6, 22)
    assert due(ask, after(date(2025, 6, 1), away), STORAGE_ACT, on)[0] is None


@pytest.mark.parametrize(
    ("windows", "day"),
    [
        # 41 days left out in a common year are no season, 42 are: 2 January - 12 February.
        ((window(2, 12, 1, 1),), date(2026, 5, 1)),
        ((window(2, 13, 1, 1),), date(2026, 2, 12)),
        # 41 days between two windows make them one, 42 leave two.
        ((window(4, 1, 6, 30), window(8, 11, 10, 31)), date(2026, 3, 31)),
        ((window(4, 1, 6, 30), window(8, 12, 10, 31)), date(2025, 8, 11)),
    ],
)
def test_gaps_shorter_than_six_weeks_are_none(
    ask: Ask, windows: tuple[Window, ...], day: date
) -> None:
    machine = after(date(2025, 5, 1), replace(NEW_2023, windows=windows))
    assert due(ask, machine, Rule(phases=(Phase.BEFORE,)), date(2025, 5, 1))[0] == day


@pytest.mark.parametrize(
    ("windows", "day"),
    [
        # The season ends with February, in leap years too.
        ((window(11, 1, 2, 29),), date(2028, 3, 21)),
        ((window(11, 1, 2, 28),), date(2028, 3, 20)),
    ],
)
def test_the_leap_day_as_a_last_day(ask: Ask, windows: tuple[Window, ...], day: date) -> None:
    machine = after(date(2027, 4, 1), replace(NEW_2023, windows=windows))
    assert due(ask, machine, STORAGE_ACT, date(2027, 4, 1))[0] == day


@pytest.mark.parametrize(("year", "eve"), [(2027, date(2027, 2, 28)), (2028, date(2028, 2, 28))])
def test_the_leap_day_as_a_first_day(ask: Ask, year: int, eve: date) -> None:
    # 1 March in a common year, so its eve is 28 February; 29 February in a leap year: the same.
    machine = after(date(year - 1, 6, 1), replace(NEW_2023, windows=(window(2, 29, 6, 30),)))
    assert due(ask, machine, Rule(phases=(Phase.BEFORE,)), date(year - 1, 6, 1))[0] == eve


def test_south_of_the_equator(ask: Ask) -> None:
    # 1 November - 31 March becomes 1 May - 30 September.
    south = after(date(2025, 1, 10), replace(NEW_2023, south=True))
    on = date(2025, 1, 10)
    assert due(ask, south, Rule(phases=(Phase.BEFORE,)), on)[0] == date(2026, 4, 30)
    assert due(ask, south, STORAGE_ACT, on)[0] == date(2025, 10, 21)
    # 15 November - 30 April becomes 15 May - 31 October: the last of its month stays the last.
    late = replace(south, windows=(window(11, 15, 4, 30),))
    assert due(ask, late, STORAGE_ACT, on)[0] == date(2025, 11, 21)
    # The household's own pair stays where it is.
    own = replace(south, own_windows=SNOW)
    assert due(ask, own, STORAGE_ACT, on)[0] == date(2025, 4, 21)


# -- uses, nth, readings ----------------------------------------------------------------------


def test_uses_reached_and_to_come(ask: Ask) -> None:
    used = tuple(UseFacts(day=date(2025, 11, x), seconds=HOUR) for x in (5, 9))
    new = Machine(came=date(2025, 10, 31), hours=snow_use(), uses=used)
    on = date(2025, 11, 9)
    assert due(ask, new, Rule(uses=2), on) == (date(2025, 11, 9), GovernedBy.USES)
    # One more of 1 h: five days of .2; double three days, half ten.
    one = said(ask, new, Rule(uses=3), on)
    assert (one.due_early, one.due, one.due_late) == (
        date(2025, 11, 12),
        date(2025, 11, 14),
        date(2025, 11, 19),
    )
    # Half of 5 is 2.5, rounded down 2.
    eased = replace(new, duties=frozenset({DutyCode("D1")}))
    half = ((DutyCode("D1"), Fraction(1, 2)),)
    assert said(ask, eased, Rule(uses=5), on, duties=half).due == date(2025, 11, 9)


def test_uses_by_the_households_mean_from_five_on(ask: Ask) -> None:
    # Five uses of 24 min: the sixth after .4 h, two days of .2.
    used = tuple(UseFacts(day=date(2025, 11, x), seconds=1440) for x in (2, 3, 4, 5, 9))
    new = Machine(came=date(2025, 10, 31), hours=snow_use(), uses=used)
    assert due(ask, new, Rule(uses=6), date(2025, 11, 9))[0] == date(2025, 11, 11)


def nth_machine(*sharpened: date) -> Machine:
    return Machine(
        windows=(),
        came=date(2025, 1, 1),
        doings=tuple(did(day, "SHARPEN") for day in sharpened),
    )


@pytest.mark.parametrize(
    ("sharpened", "day"),
    [
        # The third one: the day it was done.
        ((date(2025, 2, 1), date(2025, 3, 1), date(2025, 4, 1)), date(2025, 4, 1)),
        # Two: with the third, due 3 months after the second.
        ((date(2025, 2, 1), date(2025, 3, 1)), date(2025, 6, 1)),
        ((date(2025, 2, 1),), None),
    ],
)
def test_every_third_sharpening(ask: Ask, sharpened: tuple[date, ...], day: date | None) -> None:
    new = nth_machine(*sharpened)
    verdict = ask(
        new.facts(
            task(Rule(nth_of=NthOf(code=TaskCode("SHARPEN"), n=3))),
            task(Rule(months=3), "SHARPEN"),
        ),
        date(2025, 4, 2),
    )
    one = said_of(verdict, "T")
    assert (one.due, one.governed_by) == (day, GovernedBy.NTH if day else GovernedBy.NONE)


def test_readings_past_the_limit(ask: Ask) -> None:
    rule = Rule(limits=(LimitCode("L1"),))
    new = Machine(windows=(), came=date(2025, 1, 1))
    first, again, last = date(2025, 2, 1), date(2025, 3, 1), date(2025, 4, 1)
    on = date(2025, 4, 2)
    past = replace(new, readings=(measured(first, 90), measured(again, 100), measured(last, 130)))
    # At most 100: on the limit is past. Due since the first of the run.
    assert due(ask, past, rule, on) == (again, GovernedBy.READING)
    # A measurement within breaks the run.
    broken = replace(new, readings=(measured(first, 130), measured(again, 99)))
    assert due(ask, broken, rule, on)[0] is None
    # The work of the day after it ends the matter; measured again after the work it does not.
    worked = replace(past, doings=(did(last),))
    assert due(ask, worked, rule, on)[0] is None
    still = replace(worked, readings=(*past.readings, measured(last, 101, after=True)))
    assert due(ask, still, rule, on)[0] == last


def test_between_takes_its_bounds_in(ask: Ask) -> None:
    rule = Rule(limits=(LimitCode("L3"),))
    new = Machine(windows=(), came=date(2025, 1, 1))
    for amount, past in ((79, True), (80, False), (100, False), (101, True)):
        day = date(2025, 3, 1)
        read = replace(new, readings=(measured(day, amount, limit="L3"),))
        assert due(ask, read, rule, date(2025, 4, 2))[0] == (day if past else None)


def test_the_plan_by_day_of_the_wear(ask: Ask) -> None:
    forecast = WearForecast(code=TaskCode("T"), limit=LimitCode("L1"), plan_by=date(2025, 9, 1))
    new = Machine(windows=(), came=date(2025, 1, 1), forecasts=(forecast,))
    rule = Rule(limits=(LimitCode("L1"),))
    assert due(ask, new, rule, date(2025, 4, 2)) == (date(2025, 9, 1), GovernedBy.READING)


def test_a_doing_counts_for_what_it_includes(ask: Ask) -> None:
    new = Machine(windows=(), came=date(2025, 1, 1), doings=(did(date(2025, 3, 1), "RENEW"),))
    verdict = ask(
        new.facts(
            task(Rule(first_seconds=5 * HOUR, run_seconds=25 * HOUR, months=6)),
            task(Rule(months=12), "LOOK", includes=(TaskCode("T"),)),
            task(Rule(months=24), "RENEW", replaces=True, includes=(TaskCode("LOOK"),)),
        ),
        date(2025, 4, 2),
    )
    one = said_of(verdict, "T")
    # By way of another, and as a replacement: the first 5 h count again.
    assert (one.anchor, one.due) == (date(2025, 3, 1), date(2025, 9, 1))
    assert one.seconds_left == 5 * HOUR


def test_a_measurement_within_is_a_doing_of_its_own_check_alone(ask: Ask) -> None:
    rule = Rule(months=6, limits=(LimitCode("L1"),))
    new = Machine(windows=(), came=date(2025, 1, 1), readings=(measured(date(2025, 3, 1), 90),))
    verdict = ask(
        new.facts(task(rule, includes=(TaskCode("RENEW"),)), task(rule, "RENEW")),
        date(2025, 4, 2),
    )
    assert said_of(verdict, "T").due == date(2025, 9, 1)
    assert said_of(verdict, "RENEW").due == date(2025, 7, 1)


# -- nothing known ----------------------------------------------------------------------------

FOUND = Machine(came=date(2025, 1, 10), past=Past.UNKNOWN)


def test_nothing_known_is_due_now_in_season(ask: Ask) -> None:
    one = said(ask, FOUND, Rule(months=12), date(2025, 2, 3))
    assert (one.state, one.governed_by) == (TaskState.NOT_KNOWN, GovernedBy.NOTHING_KNOWN)
    assert one.due == date(2025, 2, 3)


def test_nothing_known_waits_for_the_eve_of_use(ask: Ask) -> None:
    one = said(ask, FOUND, Rule(months=12), date(2025, 6, 3))
    assert (one.state, one.due) == (TaskState.NOT_KNOWN, date(2025, 10, 31))


def test_nothing_known_and_put_away_until_further_notice(ask: Ask) -> None:
    away = replace(FOUND, windows=(), storage=(StorageFacts(put_away_on=date(2025, 2, 1)),))
    one = said(ask, away, Rule(months=12), date(2025, 6, 3))
    assert (one.state, one.due) == (TaskState.NOT_KNOWN, None)
    assert one.governed_by is GovernedBy.NOTHING_KNOWN


def test_what_is_never_not_known(ask: Ask) -> None:
    on = date(2025, 2, 3)
    for rule in (Rule(each_use=True), Rule(on_sight=True), Rule(on_fault=True)):
        one = said(ask, FOUND, rule, on)
        assert (one.state, one.due) == (TaskState.CLEAR, None)
    # A storage act and nothing else takes the day it came.
    assert due(ask, FOUND, STORAGE_ACT, on) == (date(2025, 4, 21), GovernedBy.SEASON)


# -- rest -------------------------------------------------------------------------------------


def blade() -> Machine:
    """25 h spread evenly from 1 April to 28 October: reached that very day."""
    hours = HoursFacts(
        at_start=0,
        readings=(HoursReading(day=date(2025, 10, 28), seconds=25 * HOUR),),
        year_seconds=50 * HOUR,
        month_shares=EVEN,
    )
    return Machine(windows=MOWING, came=date(2025, 3, 31), hours=hours)


@pytest.mark.parametrize(
    ("on", "day", "state"),
    [
        (date(2025, 10, 30), date(2025, 10, 28), TaskState.OVERDUE),
        (date(2025, 11, 1), date(2026, 3, 31), TaskState.CLEAR),
        (date(2026, 1, 15), date(2026, 3, 31), TaskState.CLEAR),
        (date(2026, 3, 20), date(2026, 3, 31), TaskState.DUE),
        (date(2026, 4, 1), date(2026, 3, 31), TaskState.OVERDUE),
        (date(2026, 12, 1), date(2027, 3, 31), TaskState.CLEAR),
    ],
)
def test_a_blade_is_not_overdue_in_the_snow(
    ask: Ask, on: date, day: date, state: TaskState
) -> None:
    one = said(ask, blade(), Rule(run_seconds=25 * HOUR), on)
    assert (one.due, one.governed_by, one.state) == (day, GovernedBy.HOURS, state)


def test_what_ages_in_storage_does_not_rest(ask: Ask) -> None:
    rule = Rule(run_seconds=25 * HOUR, stored=True)
    assert due(ask, blade(), rule, date(2026, 1, 15))[0] == date(2025, 10, 28)


def test_nothing_to_ask_of_a_machine_asleep(ask: Ask) -> None:
    one = said(ask, NEW_2023, Rule(run_seconds=25 * HOUR), date(2025, 6, 1))
    assert (one.state, one.governed_by, one.due) == (TaskState.CLEAR, GovernedBy.ASLEEP, None)
    awake = said(ask, NEW_2023, Rule(run_seconds=25 * HOUR), date(2025, 12, 1))
    assert awake.governed_by is GovernedBy.NONE


def test_woken_in_mid_season(ask: Ask) -> None:
    # Laid up 1 December - 9 January. 15 September + 3 months falls into it: the eve of use.
    slept = Machine(
        hours=snow_use(HoursReading(day=date(2025, 11, 1), seconds=0)),
        storage=(StorageFacts(put_away_on=date(2025, 12, 1), woken_on=date(2026, 1, 10)),),
        doings=(did(date(2025, 9, 15)),),
    )
    assert due(ask, slept, Rule(months=3), date(2026, 1, 12))[0] == date(2026, 1, 9)
    # Nothing ran while it lay: 29 x .2 in November, then .5 a day from 10 January: 5.8 + 1.5.
    verdict = ask(slept.facts(task(Rule(months=3))), date(2026, 1, 12))
    assert hours_of(verdict) == (Fraction(73, 10) * HOUR, HoursBasis.ESTIMATED)


def test_an_unwoken_machine_is_not_excused_past_its_planned_day(ask: Ask) -> None:
    # Planned to sleep to 15 January and still not woken on the 20th: due was the 15th.
    slept = Machine(
        storage=(StorageFacts(put_away_on=date(2025, 12, 1), planned_last=date(2026, 1, 15)),),
        doings=(did(date(2025, 9, 15)),),
    )
    one = said(ask, slept, Rule(months=3), date(2026, 1, 20))
    assert (one.due, one.state) == (date(2026, 1, 15), TaskState.OVERDUE)


def test_put_away_until_further_notice_asks_for_nothing(ask: Ask) -> None:
    away = Machine(windows=(), storage=(StorageFacts(put_away_on=date(2025, 6, 1)),))
    away = after(date(2025, 1, 1), away)
    assert due(ask, away, Rule(months=3), date(2025, 7, 1)) == (None, GovernedBy.ASLEEP)


# -- what is said -----------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("on", "state"),
    [
        (date(2025, 7, 2), TaskState.OVERDUE),
        (date(2025, 7, 1), TaskState.DUE),
        (date(2025, 6, 17), TaskState.DUE),
        (date(2025, 6, 16), TaskState.COMING),
        (date(2025, 5, 2), TaskState.COMING),
        (date(2025, 5, 1), TaskState.CLEAR),
    ],
)
def test_states_by_the_days_left(ask: Ask, on: date, state: TaskState) -> None:
    # Due on 1 July: 14 days and 60 days before, both inside.
    always = after(date(2025, 1, 1), Machine(windows=()))
    assert said(ask, always, Rule(months=6), on).state is state


def test_of_equal_days_the_reading_comes_first(ask: Ask) -> None:
    # Everything on 1 July: a reading past, 6 months.
    always = replace(
        after(date(2025, 1, 1), Machine(windows=())), readings=(measured(date(2025, 7, 1), 130),)
    )
    rule = Rule(months=6, limits=(LimitCode("L1"),))
    assert due(ask, always, rule, date(2025, 7, 1)) == (date(2025, 7, 1), GovernedBy.READING)


def test_the_machines_own_manual_comes_first(ask: Ask) -> None:
    always = after(date(2025, 1, 1), Machine(windows=()))
    own = OwnFigure(target="T", figure="months", value=4, page="31")
    rule = Rule(months=6, run_seconds=50 * HOUR)
    with_own = replace(always, own_figures=(own,))
    assert due(ask, with_own, rule, date(2025, 1, 2))[0] == date(2025, 5, 1)
    struck = replace(always, own_figures=(replace(own, value=None),))
    assert due(ask, struck, rule, date(2025, 1, 2))[0] is None
    lower = OwnFigure(target="L1", figure="high", value=90, page="31")
    read = replace(always, own_figures=(lower,), readings=(measured(date(2025, 2, 1), 95),))
    limit = Rule(limits=(LimitCode("L1"),))
    assert due(ask, read, limit, date(2025, 3, 1))[0] == date(2025, 2, 1)


@pytest.mark.parametrize(
    ("known", "assumed", "stands"),
    [("yes", False, True), ("no", True, False), (None, True, True), (None, False, False)],
)
def test_a_feature_decides_whether_a_task_stands(
    ask: Ask, known: str | None, assumed: bool, stands: bool
) -> None:
    valve = FeatureCode("fuel_valve")
    machine = Machine(features=((valve, known),) if known else ())
    applies = (Applies(feature=valve, values=("yes",), unknown=assumed),)
    facts = machine.facts(task(Rule(months=12), applies=applies))
    assert bool(ask(facts, date(2025, 1, 1)).tasks) is stands


def test_what_is_dated_later_does_not_exist_yet(ask: Ask) -> None:
    always = Machine(
        windows=(),
        came=date(2025, 1, 1),
        doings=(did(date(2025, 3, 1)), did(date(2025, 5, 1))),
    )
    assert due(ask, always, Rule(months=6), date(2025, 4, 30))[0] == date(2025, 9, 1)
    assert due(ask, always, Rule(months=6), date(2025, 5, 1))[0] == date(2025, 11, 1)


# -- before the season ------------------------------------------------------------------------


def carried(facts: MachineFacts, on: date) -> list[tuple[TaskCode, date]]:
    """What both carry; they have to agree."""
    judging = plan.judge(facts, on=on, policy=Policy(), limits=LIMITS)
    listed = plan.pre_season(judging, precedence=())
    ours = [(one.verdict.code, one.expected) for one in listed.carried]
    plain = twin.judge_machine(facts, on=on, policy=Policy(), limits=LIMITS)
    assert ours == list(plain.carried)
    return ours


@pytest.mark.parametrize(
    ("run", "expected"),
    [
        # 30 of 50 h used on the eve is 60 %. The other 20: 18.4 to the new year, then 4 x .5.
        (30, [("T", date(2026, 1, 4))]),
        # A minute less is not.
        (Fraction(1799, 60), []),
        # 35 of 50: the other 15 after 6.0 in November and 23 days of .4.
        (35, [("T", date(2025, 12, 23))]),
    ],
)
def test_hours_that_will_not_last_the_season(
    run: Fraction, expected: list[tuple[str, date]]
) -> None:
    read = snow_use(HoursReading(day=date(2025, 4, 1), seconds=int(run * HOUR)))
    facts = Machine(hours=read).facts(task(Rule(run_seconds=50 * HOUR)))
    assert carried(facts, date(2025, 10, 1)) == expected


@pytest.mark.parametrize(
    ("done", "is_carried"),
    [
        # Twelve months from 15 February: on 31 October 258 of 365 days are used, over 60 %.
        (date(2025, 2, 15), True),
        # From 30 March: 215 of 365, 58.9 %.
        (date(2025, 3, 30), False),
    ],
)
def test_months_that_will_not_last_the_season(done: date, is_carried: bool) -> None:
    facts = after(done).facts(task(Rule(months=12)))
    assert bool(carried(facts, date(2025, 10, 1))) is is_carried


def test_small_jobs_and_season_work_stay_where_they_are() -> None:
    machine = after(date(2025, 2, 15))
    small = machine.facts(task(Rule(months=12), look_minutes=4))
    assert carried(small, date(2025, 10, 1)) == []
    middle = machine.facts(task(Rule(phases=(Phase.MIDDLE,))))
    assert carried(middle, date(2025, 10, 1)) == []


def test_a_storage_act_that_another_phase_asks_for_too_takes_its_check_along() -> None:
    """Due by the eve as *off* work, so it stands on the list, and the yearly check it includes
    (258 of 365 days used on the eve) is not asked for beside it. *End* alone stays off the list."""
    check = task(Rule(months=12), "CHECK")
    machine = replace(
        after(date(2025, 2, 15)), doings=(did(date(2025, 2, 15), code=TaskCode("CHECK")),)
    )
    both = task(Rule(phases=(Phase.OFF, Phase.END)), "T", includes=(TaskCode("CHECK"),))
    assert carried(machine.facts(both, check), date(2025, 10, 1)) == []
    end = task(Rule(phases=(Phase.END,)), "T", includes=(TaskCode("CHECK"),))
    assert carried(machine.facts(end, check), date(2025, 10, 1)) == [("CHECK", date(2026, 2, 15))]


def test_work_includes_by_way_of_work_that_nobody_asks_for() -> None:
    """RENEW is carried; the LOOK it includes is done at it and asked for by nobody, and with it
    the CHECK that LOOK includes."""
    day = date(2025, 2, 15)
    codes = ("RENEW", "CHECK")
    machine = replace(after(day), doings=tuple(did(day, code=code) for code in codes))
    renew = task(Rule(months=12), "RENEW", includes=(TaskCode("LOOK"),))
    look = task(Rule(each_use=True), "LOOK", includes=(TaskCode("CHECK"),))
    check = task(Rule(months=12), "CHECK")
    facts = machine.facts(renew, look, check)
    assert carried(facts, date(2025, 10, 1)) == [("RENEW", date(2026, 2, 15))]


# -- the machine ------------------------------------------------------------------------------

OIL = Rule(months=12)


def state(ask: Ask, machine: Machine, on: date, **more: Any) -> MachineState:
    return ask(machine.facts(task(OIL, **more)), on).state


def test_fit_and_with_care(ask: Ask) -> None:
    done = after(date(2025, 2, 1))
    assert state(ask, done, date(2025, 12, 1)) is MachineState.FIT
    assert state(ask, done, date(2026, 2, 2)) is MachineState.WITH_CARE
    put_off = FaultFacts(
        fault_id=1, text="squeals", since=date(2025, 11, 1), stops_use=False, put_off=True
    )
    limping = replace(done, faults=(put_off,))
    assert state(ask, limping, date(2025, 10, 31)) is MachineState.FIT
    assert state(ask, limping, date(2025, 12, 1)) is MachineState.WITH_CARE


def test_laid_up_until_it_is_woken(ask: Ask) -> None:
    away = replace(after(date(2025, 2, 1)), storage=(StorageFacts(put_away_on=date(2025, 4, 2)),))
    assert state(ask, away, date(2025, 4, 1)) is MachineState.FIT
    assert state(ask, away, date(2025, 12, 1)) is MachineState.LAID_UP
    woken = replace(
        away,
        storage=(StorageFacts(put_away_on=date(2025, 4, 2), woken_on=date(2025, 10, 20)),),
    )
    assert state(ask, woken, date(2025, 10, 20)) is MachineState.FIT


def test_unknown_until_the_list_is_closed(ask: Ask) -> None:
    on = date(2025, 2, 3)
    assert state(ask, FOUND, on) is MachineState.UNKNOWN
    passed = replace(FOUND, doings=(did(date(2025, 2, 1), assumed=True),))
    assert state(ask, passed, on) is MachineState.FIT
    # A safety check is not passed over.
    assert state(ask, passed, on, safety=True) is MachineState.UNKNOWN
    checked = replace(FOUND, doings=(did(date(2025, 2, 1)),))
    assert state(ask, checked, on, safety=True) is MachineState.FIT


def test_down_comes_before_all(ask: Ask) -> None:
    stops = FaultFacts(fault_id=1, text="auger turns", since=date(2025, 2, 1), stops_use=True)
    failed = CheckFailed(code=TaskCode("T"), day=date(2025, 2, 1))
    on = date(2025, 2, 3)
    assert state(ask, replace(FOUND, faults=(stops,)), on) is MachineState.DOWN
    assert state(ask, replace(FOUND, failed_checks=(failed,)), on) is MachineState.DOWN
