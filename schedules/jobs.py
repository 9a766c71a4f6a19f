"""One-offs beside the plan: due on a day, at hours, in a phase, or when something has come."""

from __future__ import annotations

from datetime import date

from schedules.almanac import Almanac
from schedules.facts import JobFacts, JobVerdict, Phase, Policy, TaskState
from schedules.grounds import day_of
from schedules.hours import Timeline
from schedules.reasons import Reason, ReasonCode, reason
from schedules.units import hours


def state_on(due: int | None, today: int, policy: Policy) -> TaskState:
    """Overdue before today, due within `due_days`, coming within `coming_days`, else clear."""
    if due is None:
        return TaskState.CLEAR
    if due < today:
        return TaskState.OVERDUE
    if due <= today + policy.due_days:
        return TaskState.DUE
    return TaskState.COMING if due <= today + policy.coming_days else TaskState.CLEAR


def judge_job(job: JobFacts, *, almanac: Almanac, timeline: Timeline) -> JobVerdict:
    """When a one-off is due: the earliest of its day, its hours and its phase; a job that only
    waits for something has no day until that has come."""
    candidates: list[tuple[int, Reason]] = []
    if job.due_on is not None:
        ground = reason(ReasonCode.JOB_ON, job=job.text, due=job.due_on)
        candidates.append((job.due_on.toordinal(), ground))
    if job.at_seconds is not None:
        day = timeline.reaches(hours(job.at_seconds).amount, job.noted_on.toordinal() - 1)
        if day is not None:
            at = hours(job.at_seconds)
            ground = reason(ReasonCode.JOB_AT_HOURS, job=job.text, due=day_of(day), at=at)
            candidates.append((day, ground))
    if job.phase is not None:
        deadline = _deadline(job.phase, job.noted_on, almanac)
        if deadline is not None:
            due = day_of(deadline)
            ground = reason(ReasonCode.JOB_PHASE, job=job.text, due=due, phase=job.phase)
            candidates.append((deadline, ground))
    if candidates:
        day, ground = min(candidates, key=lambda found: found[0])
        state = state_on(day, almanac.today, almanac.policy)
        return JobVerdict(job_id=job.job_id, state=state, due=day_of(day), reason=ground)
    if job.waits_for:
        ground = reason(ReasonCode.JOB_WAITS, job=job.text, waits_for=job.waits_for)
    else:
        ground = reason(ReasonCode.JOB_UNDATED, job=job.text)
    return JobVerdict(job_id=job.job_id, state=TaskState.CLEAR, due=None, reason=ground)


def _deadline(phase: Phase, noted_on: date, almanac: Almanac) -> int | None:
    """The deadline of the first slot of the phase that is not over on the day it was noted."""
    if not almanac.calendar.has_seasons:
        return None
    phase = Phase.BEFORE if phase is Phase.IN else phase
    noted = noted_on.toordinal()
    place = almanac.calendar.started(noted)
    for later in range(place, len(almanac.calendar.firsts) - 1):
        slot = almanac.slot(phase, later, storage_act=False)
        if slot.deadline >= noted and slot.dueable:
            return slot.deadline
    return None
