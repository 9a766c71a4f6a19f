"""Laws of the due engine that hold whatever the machine."""

from __future__ import annotations

import random
from dataclasses import dataclass, replace
from datetime import date, timedelta
from fractions import Fraction

from hypothesis import assume, given, note
from hypothesis import strategies as st

from schedules import plan, workload
from schedules.facts import (
    Doing,
    FigureMark,
    ItemFacts,
    LimitReading,
    MachineFacts,
    MachineVerdict,
    Mark,
    PairSort,
    Phase,
    Policy,
    Precedence,
    Rule,
    TaskCode,
    TaskFacts,
    TaskState,
    TaskVerdict,
)
from tests.twin import engine as twin
from tests.twin.compare import differences
from tests.twin.machines import LIMITS, random_machine, random_policy
from tests.twin.pasted import pasted

NEVER = date.max
ONE = timedelta(days=1)


@dataclass(frozen=True)
class Case:
    """A machine by chance, the day asked about, and the chance that made it."""

    facts: MachineFacts
    on: date
    chance: random.Random


@st.composite
def cases(draw: st.DrawFn) -> Case:
    number = draw(st.integers(min_value=0, max_value=2**40))
    chance = random.Random(number)
    facts, on, _ = random_machine(chance)
    note(f"on={pasted(on)}, facts={pasted(facts)}")
    return Case(facts, on, chance)


def judge(facts: MachineFacts, on: date) -> MachineVerdict:
    return plan.judge_machine(facts, on=on, policy=Policy(), limits=LIMITS)


def by_code(verdict: MachineVerdict) -> dict[TaskCode, TaskVerdict]:
    return {task.code: task for task in verdict.tasks}


def day_of(due: date | None) -> date:
    return NEVER if due is None else due


def with_items(facts: MachineFacts, items: list[ItemFacts]) -> MachineFacts:
    return replace(facts, items=tuple(items))


def without_forecasts(facts: MachineFacts) -> MachineFacts:
    return with_items(facts, [replace(item, forecasts=()) for item in facts.items])


def with_doing(facts: MachineFacts, place: int, doing: Doing) -> MachineFacts:
    items = list(facts.items)
    items[place] = replace(items[place], doings=(*items[place].doings, doing))
    return with_items(facts, items)


def one_task(case: Case) -> tuple[int, TaskFacts]:
    """A task of the machine by chance, and the place of its item."""
    return case.chance.choice(
        [(place, task) for place, item in enumerate(case.facts.items) for task in item.tasks]
    )


def is_off_repeat(rule: Rule) -> bool:
    return Phase.OFF in rule.phases and rule.months is not None and rule.months < 12


@given(cases())
def test_later_work_never_makes_a_task_due_earlier(case: Case) -> None:
    facts = without_forecasts(case.facts)
    place, task = one_task(case)
    before = by_code(judge(facts, case.on)).get(task.code)
    assume(before is not None and before.anchor is not None)
    assert before is not None
    assert before.anchor is not None
    # A purchase or a replacement has first hours of its own, and so has the new doing.
    assume(task.rule.first_seconds is None and not facts.own_figures)
    day = before.anchor + timedelta(days=case.chance.randint(0, (case.on - before.anchor).days))
    later = with_doing(facts, place, Doing(code=task.code, day=day))
    after = by_code(judge(later, case.on))[task.code]
    # Every few months off season is put 20 days into the next summer when it falls in season, so
    # that work from which it falls on the summer's first days is asked for up to 20 days sooner.
    slack = timedelta(days=Policy().end_days - 1) if is_off_repeat(task.rule) else timedelta(0)
    if before.due is not None:
        assert day_of(after.due) >= before.due - slack
        assert day_of(after.due_late) >= day_of(before.due_late) - slack
    else:
        assert after.due is None


@given(cases(), st.sampled_from([Fraction(11, 10), Fraction(2), Fraction(7)]))
def test_more_use_never_makes_a_task_due_later(case: Case, times: Fraction) -> None:
    # With later readings the hours between are shared out anew, so the start is the only point.
    items = [
        replace(item, hours=replace(item.hours, readings=(), inferred=()))
        for item in case.facts.items
    ]
    more = [
        replace(
            item,
            hours=replace(item.hours, year_seconds=int(item.hours.year_seconds * times)),
        )
        for item in items
    ]
    less_used = by_code(judge(with_items(case.facts, items), case.on))
    more_used = by_code(judge(with_items(case.facts, more), case.on))
    for code, task in less_used.items():
        assert day_of(more_used[code].due) <= day_of(task.due)


@given(cases())
def test_double_comes_before_once_before_half(case: Case) -> None:
    for task in judge(case.facts, case.on).tasks:
        assert day_of(task.due_early) <= day_of(task.due) <= day_of(task.due_late)


@given(cases())
def test_done_today_is_not_overdue_tomorrow(case: Case) -> None:
    place, task = one_task(case)
    # A measurement after the work can ask again, and so can a task that goes with another.
    assume(task.rule.nth_of is None or task.rule.nth_of.n > 1)
    items = [replace(item, forecasts=(), readings=()) for item in case.facts.items]
    done = with_doing(with_items(case.facts, items), place, Doing(code=task.code, day=case.on))
    after = by_code(judge(done, case.on + ONE)).get(task.code)
    assume(after is not None)
    assert after is not None
    assert after.state not in (TaskState.OVERDUE, TaskState.NOT_KNOWN)


def shuffled_by_day(
    readings: tuple[LimitReading, ...], chance: random.Random
) -> tuple[LimitReading, ...]:
    """Days in any order; within a day as they were taken."""
    order = {day: chance.random() for day in {reading.day for reading in readings}}
    return tuple(sorted(readings, key=lambda reading: order[reading.day]))


@given(cases())
def test_the_order_of_entries_says_nothing(case: Case) -> None:
    chance = case.chance
    items: list[ItemFacts] = []
    for item in case.facts.items:
        doings, read = list(item.doings), list(item.hours.readings)
        chance.shuffle(doings)
        chance.shuffle(read)
        hours = replace(item.hours, readings=tuple(read), inferred=item.hours.inferred[::-1])
        readings = shuffled_by_day(item.readings, chance)
        items.append(replace(item, doings=tuple(doings), hours=hours, readings=readings))
    other = replace(
        case.facts,
        items=tuple(items),
        uses=case.facts.uses[::-1],
        storage=case.facts.storage[::-1],
        features=case.facts.features[::-1],
    )
    assert judge(other, case.on) == judge(case.facts, case.on)


@given(cases())
def test_the_order_of_the_catalogue_says_nothing(case: Case) -> None:
    items: list[ItemFacts] = []
    for item in case.facts.items:
        tasks = list(item.tasks)
        case.chance.shuffle(tasks)
        items.append(replace(item, tasks=tuple(tasks)))
    windows = case.facts.kind.windows[::-1]
    other = replace(case.facts, items=tuple(items), kind=replace(case.facts.kind, windows=windows))
    ours, theirs = judge(case.facts, case.on), judge(other, case.on)
    assert by_code(ours) == by_code(theirs)
    assert (ours.state, ours.hours) == (theirs.state, theirs.hours)


@given(cases())
def test_what_comes_later_does_not_exist_yet(case: Case) -> None:
    on = case.on
    items = [
        replace(
            item,
            doings=tuple(x for x in item.doings if x.day <= on),
            readings=tuple(x for x in item.readings if x.day <= on),
            hours=replace(
                item.hours,
                readings=tuple(x for x in item.hours.readings if x.day <= on),
                inferred=tuple(x for x in item.hours.inferred if x.accepted_on <= on),
            ),
        )
        for item in case.facts.items
    ]
    storage = tuple(
        replace(x, woken_on=x.woken_on if x.woken_on and x.woken_on <= on else None)
        for x in case.facts.storage
        if x.put_away_on <= on
    )
    only_past = replace(
        case.facts,
        items=tuple(items),
        storage=storage,
        uses=tuple(x for x in case.facts.uses if x.day <= on),
        faults=tuple(x for x in case.facts.faults if x.since <= on),
        failed_checks=tuple(x for x in case.facts.failed_checks if x.day <= on),
    )
    assert judge(only_past, on) == judge(case.facts, on)


@given(cases())
def test_days_left_and_state_follow_from_the_day(case: Case) -> None:
    for task in judge(case.facts, case.on).tasks:
        if task.due is None:
            assert task.days_left is None
            continue
        assert task.days_left == (task.due - case.on).days
        if task.state is not TaskState.NOT_KNOWN:
            assert (task.state is TaskState.OVERDUE) == (task.due < case.on)


@given(cases())
def test_the_engine_and_its_twin_agree(case: Case) -> None:
    assert differences(case.facts, case.on, LIMITS, random_policy(case.chance)) == []


# -- order of work ----------------------------------------------------------------------------


@st.composite
def pairs(draw: st.DrawFn, codes: list[TaskCode]) -> tuple[Precedence, ...]:
    """Pairs without a circle: always the earlier in some order before the later."""
    order = draw(st.permutations(codes))
    places = st.integers(min_value=0, max_value=len(codes) - 1)
    mark = FigureMark(figure="pair", mark=Mark.OUR_JUDGEMENT)
    return tuple(
        Precedence(
            before=order[min(a, b)], after=order[max(a, b)], sort=PairSort.ORDER, why="", mark=mark
        )
        for a, b in draw(st.lists(st.tuples(places, places), max_size=10))
        if a != b
    )


@given(cases(), st.data())
def test_the_order_of_work(case: Case, data: st.DataObject) -> None:
    tasks = {task.code: task for item in case.facts.items for task in item.tasks}
    codes = sorted(tasks)
    precedence = data.draw(pairs(codes))
    listed = data.draw(st.lists(st.sampled_from(codes), unique=True))
    minutes = {code: data.draw(st.sampled_from((2, 5, 10))) for code in listed}
    ours = workload.order_of_work(listed, tasks=tasks, minutes=minutes, precedence=precedence)
    assert list(ours) == twin.order_of_work(listed, tasks, precedence, minutes)
    assert sorted(ours) == sorted(listed)
    for pair in precedence:
        if pair.before in ours and pair.after in ours:
            assert ours.index(pair.before) < ours.index(pair.after)
