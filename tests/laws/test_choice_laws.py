"""Laws of the choice of work that hold whatever there is to do."""

from __future__ import annotations

import random

from hypothesis import given
from hypothesis import strategies as st

from schedules.choice import Job, best_set
from tests.schedules.test_choice import SET_UP, random_jobs

numbers = st.integers(min_value=0, max_value=2**40)
times = st.integers(min_value=0, max_value=300)


def chosen(number: int, minutes: int, *, shuffled: int | None = None) -> tuple[Job, ...]:
    jobs, pairs, shelf = random_jobs(random.Random(number))
    if shuffled is not None:
        jobs = random.Random(shuffled).sample(jobs, len(jobs))
    return best_set(jobs, minutes=minutes, precedence=pairs, on_shelf=shelf, set_up_minutes=SET_UP)


def weight(jobs: tuple[Job, ...]) -> int:
    return sum(job.weight for job in jobs)


@given(numbers, times, times)
def test_more_time_is_never_a_worse_set(number: int, one: int, other: int) -> None:
    less, more = sorted((one, other))
    assert weight(chosen(number, less)) <= weight(chosen(number, more))


@given(numbers, times)
def test_it_is_never_over_the_time(number: int, minutes: int) -> None:
    jobs = chosen(number, minutes)
    used = sum(job.minutes for job in jobs) + SET_UP * len({job.machine_id for job in jobs})
    assert used <= minutes


@given(numbers, times, numbers)
def test_the_order_of_the_jobs_does_not_matter(number: int, minutes: int, chance: int) -> None:
    assert chosen(number, minutes) == chosen(number, minutes, shuffled=chance)
