"""What to do with the time there is: by hand, and against every set there could be."""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Iterable
from dataclasses import replace
from datetime import date
from itertools import combinations

import pytest

from resources.loader import load_catalogue
from schedules import best_set as best_set_of_any
from schedules.best_set import drained
from schedules.choice import CARRIED, DUE, FAULT, Job, best_set, choosing, jobs_of, visits
from schedules.facts import (
    CarriedTask,
    FaultFacts,
    FigureMark,
    HoursFacts,
    ItemFacts,
    ItemId,
    ItemSort,
    JobFacts,
    JobId,
    KindCode,
    MachineFacts,
    MachineId,
    Mark,
    PairSort,
    Past,
    Policy,
    Precedence,
    PreSeason,
    TaskCode,
    TaskState,
)
from schedules.intervals import is_storage_act
from schedules.plan import Judging, judge, pre_season
from schedules.reasons import ReasonCode, reason
from schedules.workload import befores

CATALOGUE = load_catalogue()
ON = date(2025, 10, 20)
SET_UP = 5


def pair(before: str, after: str, sort: PairSort = PairSort.SPOILS) -> Precedence:
    mark = FigureMark(figure="order", mark=Mark.OUR_JUDGEMENT)
    return Precedence(before=TaskCode(before), after=TaskCode(after), sort=sort, why="", mark=mark)


def job(code: str, minutes: int, weight: int, machine: int = 1, part: str = "") -> Job:
    return Job(
        machine_id=MachineId(machine),
        codes=tuple(TaskCode(one) for one in code.split("+")),
        minutes=minutes,
        weight=weight,
        parts=((part, 1),) if part else (),
        walk_round="+" in code,
    )


def chosen(
    jobs: Iterable[Job],
    minutes: int,
    pairs: tuple[Precedence, ...] = (),
    shelf: dict[str, int] | None = None,
    set_up: int = SET_UP,
) -> list[str]:
    found = best_set(
        jobs, minutes=minutes, precedence=pairs, on_shelf=shelf or {}, set_up_minutes=set_up
    )
    return [f"{one.machine_id}:{'+'.join(one.codes)}" for one in found]


# -- by hand ----------------------------------------------------------------------------------


def test_getting_at_a_machine_counts_once() -> None:
    jobs = [job("a", 10, 40), job("b", 10, 40), job("c", 10, 45, machine=2)]
    assert chosen(jobs, 15) == ["2:c"]
    assert chosen(jobs, 25) == ["1:a", "1:b"]
    assert chosen(jobs, 40) == ["1:a", "1:b", "2:c"]
    assert chosen(jobs, 14) == []


def test_a_greedy_hand_would_take_the_wrong_one() -> None:
    """The heaviest a minute is the short one; together the two others weigh more."""
    jobs = [job("a", 4, 50), job("b", 10, 60), job("c", 10, 60)]
    assert chosen(jobs, 25) == ["1:b", "1:c"]


def test_of_equals_the_shorter_then_the_fewer_then_the_first() -> None:
    assert chosen([job("a", 12, 40), job("b", 10, 40)], 17) == ["1:b"]
    halves = [job("a", 5, 20), job("b", 5, 20), job("c", 10, 40)]
    assert chosen(halves, 15) == ["1:c"]
    assert chosen([job("b", 10, 40), job("a", 10, 40, machine=2)], 15) == ["2:a"]
    assert chosen([job("a", 10, 40, machine=2), job("a", 10, 40)], 15) == ["1:a"]


def test_work_that_would_be_spoilt_waits_for_what_spoils_it() -> None:
    jobs = [job("wash", 20, 10), job("grease", 5, 40)]
    pairs = (pair("wash", "grease"),)
    assert chosen(jobs, 10, pairs) == []
    assert chosen(jobs, 25, pairs) == ["1:wash"]
    assert chosen(jobs, 30, pairs) == ["1:grease", "1:wash"]
    assert chosen(jobs, 10, (pair("wash", "grease", PairSort.ORDER),)) == ["1:grease"]


def test_it_waits_even_for_work_whose_part_is_not_here() -> None:
    jobs = [job("belt", 20, 10, part="belt"), job("cable", 5, 40)]
    assert chosen(jobs, 60, (pair("belt", "cable"),)) == []
    assert chosen(jobs, 60, (pair("belt", "cable"),), {"belt": 1}) == ["1:belt", "1:cable"]


def test_the_spoiler_of_another_machine_is_no_matter() -> None:
    jobs = [job("wash", 20, 10), job("grease", 5, 40, machine=2)]
    assert chosen(jobs, 10, (pair("wash", "grease"),)) == ["2:grease"]


def test_a_piece_on_the_shelf_goes_to_the_heavier_job() -> None:
    jobs = [job("a", 5, 10, part="plug"), job("b", 5, 40, machine=2, part="plug")]
    assert chosen(jobs, 60, shelf={"plug": 1}) == ["2:b"]
    assert chosen(jobs, 60, shelf={"plug": 2}) == ["1:a", "2:b"]
    assert chosen(jobs, 60) == []


def test_a_piece_is_not_kept_for_a_job_there_is_no_time_for() -> None:
    jobs = [job("a", 5, 10, part="plug"), job("b", 90, 40, machine=2, part="plug")]
    assert chosen(jobs, 60, shelf={"plug": 1}) == ["1:a"]
    assert chosen(jobs, 95, shelf={"plug": 1}) == ["2:b"]


def test_a_piece_goes_where_the_whole_set_weighs_most() -> None:
    """The heavier job fits by itself, but leaves no time for what the lighter one goes with."""
    jobs = [
        job("a", 50, 40, part="plug"),
        job("b", 20, 30, machine=2, part="plug"),
        job("c", 30, 30, machine=2),
    ]
    assert chosen(jobs, 55, shelf={"plug": 1}) == ["2:b", "2:c"]


def test_more_scarce_parts_than_can_be_shared_out_still_give_a_set_that_holds(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    parts = [f"part-{number}" for number in range(9)]
    jobs = [job(part, 5, 10 + place, place, part=part) for part in parts for place in (1, 2)]
    monkeypatch.setattr("schedules.choice.MOST_SPLITS", 12)
    found = chosen(jobs, 600, shelf=dict.fromkeys(parts, 1))
    assert found == [f"2:{part}" for part in parts]


def test_a_circle_through_the_walk_round_is_taken_whole_or_not() -> None:
    jobs = [job("a+z", 4, 30), job("m", 10, 40)]
    pairs = (pair("a", "m"), pair("m", "z"))
    assert chosen(jobs, 18, pairs) == []
    assert chosen(jobs, 19, pairs) == ["1:a+z", "1:m"]


def test_no_time_is_no_work_and_less_than_none_is_refused() -> None:
    assert chosen([job("a", 0, 40)], 0) == []
    assert chosen([job("a", 0, 40)], 0, set_up=0) == ["1:a"]
    with pytest.raises(ValueError, match="negative"):
        chosen([], -1)


# -- against every set ------------------------------------------------------------------------


def plain_best(
    jobs: list[Job], minutes: int, pairs: tuple[Precedence, ...], shelf: dict[str, int]
) -> list[Job]:
    """Every set of jobs, looked at one by one."""
    found: list[tuple[tuple[object, ...], tuple[Job, ...]]] = []
    for size in range(len(jobs) + 1):
        for some in combinations(sorted(jobs, key=lambda one: one.key), size):
            pieces = Counter(part for one in some for part, n in one.parts for _ in range(n))
            if any(taken > shelf.get(part, 0) for part, taken in pieces.items()):
                continue
            used = sum(one.minutes for one in some) + SET_UP * len({o.machine_id for o in some})
            if used <= minutes and not any(_spoilt(one, some, jobs, pairs) for one in some):
                rank = (-sum(o.weight for o in some), used, size, [o.key for o in some])
                found.append((rank, some))
    return list(min(found)[1])


def _spoilt(
    one: Job, some: tuple[Job, ...], jobs: list[Job], pairs: tuple[Precedence, ...]
) -> bool:
    return any(
        other not in some and other != one and other.machine_id == one.machine_id
        for pair in pairs
        if pair.sort is PairSort.SPOILS and pair.after in one.codes
        for other in jobs
        if pair.before in other.codes
    )


def random_jobs(chance: random.Random) -> tuple[list[Job], tuple[Precedence, ...], dict[str, int]]:
    letters = "abcdefgh"
    jobs: list[Job] = []
    for machine in range(1, chance.randint(1, 4) + 1):
        codes = list(chance.sample(letters, chance.randint(1, 5)))
        if len(codes) > 2 and chance.random() < 0.5:
            codes = [f"{codes[0]}+{codes[1]}", *codes[2:]]
        for code in codes:
            part = chance.choice(["", "", "plug", "belt"])
            # Few different figures, so that ties are common.
            minutes, weight = chance.choice([0, 5, 5, 10, 20]), chance.choice([8, 25, 25, 40])
            jobs.append(job(code, minutes, weight, machine, part))
    jobs = chance.sample(jobs, min(12, len(jobs)))
    order = chance.sample(letters, len(letters))
    pairs = tuple(
        pair(order[a], order[b], chance.choice(list(PairSort)))
        for a, b in (sorted(chance.sample(range(8), 2)) for _ in range(chance.randint(0, 6)))
    )
    return jobs, pairs, {"plug": chance.randint(0, 2), "belt": chance.randint(0, 2)}


@pytest.mark.parametrize("few", [1, 2, best_set_of_any.FEW])
@pytest.mark.parametrize("number", range(120))
def test_nothing_better_can_be_found_by_looking_at_every_set(
    number: int, few: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Whatever is left out beforehand, because it cannot be part of a best set."""
    monkeypatch.setattr(best_set_of_any, "FEW", few)
    chance = random.Random(number)
    jobs, pairs, shelf = random_jobs(chance)
    for minutes in (0, 15, 24, 33, 60):
        found = best_set(
            chance.sample(jobs, len(jobs)),
            minutes=minutes,
            precedence=pairs,
            on_shelf=shelf,
            set_up_minutes=SET_UP,
        )
        assert list(found) == plain_best(jobs, minutes, pairs, shelf), minutes


# -- the jobs of a machine --------------------------------------------------------------------


def thrower(on: date = ON, **more: object) -> Judging:
    kind = CATALOGUE.kinds[KindCode("K01")]
    item = ItemFacts(
        item_id=ItemId(1),
        sort=ItemSort.MACHINE,
        came_on=date(2024, 9, 1),
        past=Past.NEW,
        hours=HoursFacts(
            at_start=0,
            year_seconds=kind.year_seconds,
            month_shares=CATALOGUE.shapes[kind.shape, ""],
        ),
        tasks=kind.tasks,
    )
    facts = MachineFacts(
        machine_id=MachineId(1),
        name="Red one",
        kind=kind,
        place="shed",
        south=False,
        came_on=item.came_on,
        past=item.past,
        items=(item,),
        **more,  # type: ignore[arg-type]  # what a test says
    )
    return judge(facts, on=on, policy=Policy(), limits=CATALOGUE.limits)


def jobs_at(judging: Judging) -> tuple[Job, ...]:
    return jobs_of(judging, pre_season(judging, precedence=CATALOGUE.precedence))


def test_everything_due_is_a_job_once_and_the_looks_are_one() -> None:
    judging = thrower()
    jobs = jobs_at(judging)
    codes = [code for one in jobs for code in one.codes]
    assert len(codes) == len(set(codes))
    season = pre_season(judging, precedence=CATALOGUE.precedence)
    wanted = {
        task.code
        for task in judging.verdict.tasks
        if task.due is not None and task.state is not TaskState.CLEAR
    } & listed(season)
    assert wanted
    assert wanted <= set(codes)
    (walk,) = [one for one in jobs if one.walk_round]
    by_code = {task.code: task for task in judging.verdict.tasks}
    assert walk.minutes == sum(by_code[code].minutes for code in walk.codes)
    assert len(walk.codes) > 1


def test_weights_grow_towards_the_season() -> None:
    """20 October, snow from 1 November: 12 days to go, 180 - 12 ninetieths."""
    fault = FaultFacts(fault_id=7, text="auger stands", since=ON, stops_use=True)
    (found,) = [one for one in jobs_at(thrower(faults=(fault,))) if one.fault_id == 7]
    season = pre_season(thrower(), precedence=CATALOGUE.precedence).season
    assert season is not None
    assert found.weight == FAULT * (180 - (season.first - ON).days)
    (in_season,) = [
        one for one in jobs_at(thrower(on=date(2025, 12, 20), faults=(fault,))) if one.fault_id == 7
    ]
    assert in_season.weight == FAULT * 180


def test_one_offs_stand_beside_the_tasks() -> None:
    noted = JobFacts(
        job_id=JobId(3), text="new grip", noted_on=ON, due_on=ON, minutes=10, part="grip"
    )
    waits = JobFacts(job_id=JobId(4), text="repaint", noted_on=ON, waits_for="spring", minutes=60)
    jobs = [one for one in jobs_at(thrower(jobs=(noted, waits))) if one.job_id is not None]
    assert [(one.job_id, one.parts, one.weight // (180 - 12)) for one in jobs] == [
        (3, (("grip", 1),), DUE)
    ]


def test_what_will_not_last_the_season_weighs_as_brought_forward() -> None:
    """1 July: 123 days to 1 November, too far to count; what is brought forward weighs 12."""
    judging = thrower(on=date(2025, 7, 1))
    season = pre_season(judging, precedence=CATALOGUE.precedence)
    clear = next(
        task
        for task in judging.verdict.tasks
        if task.due is not None and task.state is TaskState.CLEAR and task.minutes > 10
    )
    ground = reason(ReasonCode.CARRIED, task=clear.code, expected=clear.due, percent=80)
    carried = CarriedTask(verdict=clear, expected=clear.due or ON, reason=ground)
    assert clear.code not in {code for one in jobs_of(judging, season) for code in one.codes}
    (found,) = [
        one
        for one in jobs_of(judging, replace(season, carried=(carried,)))
        if clear.code in one.codes
    ]
    assert found.weight == CARRIED * 90


def test_storage_acts_are_not_asked_for_on_the_eve_of_use() -> None:
    """The tank that nobody emptied in spring is about to be filled again."""
    acts = {
        code
        for one in jobs_at(thrower(on=date(2025, 7, 1)))
        for code in one.codes
        if is_storage_act(thrower().task(code).rule)
    }
    assert acts
    assert not acts & {code for one in jobs_at(thrower()) for code in one.codes}


def listed(season: PreSeason) -> set[TaskCode]:
    return {code for line in season.lines for code in line.codes}


def test_a_visit_is_in_working_order() -> None:
    judging = thrower()
    jobs = best_set(
        jobs_at(judging),
        minutes=240,
        precedence=CATALOGUE.precedence,
        on_shelf={},
        set_up_minutes=SET_UP,
    )
    (visit,) = visits(
        jobs, {MachineId(1): judging}, precedence=CATALOGUE.precedence, set_up_minutes=SET_UP
    )
    assert visit.minutes == SET_UP + sum(line.minutes for line in visit.lines) <= 240
    codes = [line.code for line in visit.lines if line.code is not None]
    before = befores(CATALOGUE.precedence)
    assert all(
        later not in before.get(code, frozenset())
        for place, code in enumerate(codes)
        for later in codes[place + 1 :]
    )


def test_a_thousand_machines_are_chosen_from_in_small_steps() -> None:
    chance = random.Random(4)
    jobs = [
        job(code, chance.choice([5, 10, 15, 20]), chance.choice([8, 25, 40]) * 90, machine)
        for machine in range(1, 1001)
        for code in "abcdef"
    ]
    steps = choosing(jobs, minutes=240, precedence=(), on_shelf={}, set_up_minutes=SET_UP)
    found = drained(steps)
    used = sum(o.minutes for o in found) + SET_UP * len({one.machine_id for one in found})
    assert used <= 240
    assert sum(one.weight for one in found) >= 40 * 90 * 20


def test_of_machines_alike_as_many_are_visited_as_there_is_time_for() -> None:
    jobs = [job("a", 10, 40, number) for number in range(9, 0, -1)]
    assert chosen(jobs, 50) == ["1:a", "2:a", "3:a"]
