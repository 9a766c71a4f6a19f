"""Verdicts as data for other programs. The shapes are held by the schemas in resources/schemas."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from fractions import Fraction

from app.wording.numbers import decimal
from app.wording.wording import Wording
from schedules.facts import (
    JobVerdict,
    LotVerdict,
    MachineFacts,
    SourceId,
    TaskFacts,
    TaskVerdict,
    VesselVerdict,
)
from schedules.grounds import sources_of
from schedules.plan import Judging
from schedules.reasons import Reason, Value
from schedules.units import Quantity

SCHEMA = 1
HOUR = 3600
LITRE = 1_000_000

Data = dict[str, object]


def due_data(fleet: Iterable[Judging], *, on: date, wording: Wording) -> Data:
    """What `due --json` says."""
    machines = [machine_data(judging, wording) for judging in fleet]
    return {"schema": SCHEMA, "on": on.isoformat(), "machines": machines}


def fuel_data(vessels: Iterable[VesselVerdict], *, on: date, wording: Wording) -> Data:
    """What `fuel --json` says."""
    said = [vessel_data(vessel, wording) for vessel in vessels]
    return {"schema": SCHEMA, "on": on.isoformat(), "vessels": said}


def machine_data(judging: Judging, wording: Wording) -> Data:
    """One machine with its tasks, jobs and fuel."""
    facts, verdict = judging.facts, judging.verdict
    return {
        "id": int(verdict.machine_id),
        "name": facts.name,
        "kind": str(facts.kind.code),
        "state": verdict.state.value,
        "hours": {"value": _hours(verdict.hours.seconds), "basis": verdict.hours.basis.value},
        "tasks": [task_data(task, judging.task(task.code), wording) for task in verdict.tasks],
        "jobs": [job_data(job, facts, wording) for job in verdict.jobs],
        "fuel": [vessel_data(vessel, wording) for vessel in verdict.fuel],
    }


def task_data(verdict: TaskVerdict, task: TaskFacts, wording: Wording) -> Data:
    """One task as judged. `hours_left` to a hundredth, null where hours do not count."""
    return {
        "code": str(verdict.code),
        "name": wording.task(verdict.code),
        "state": verdict.state.value,
        "due": _day(verdict.due),
        "governed_by": verdict.governed_by.value,
        "hours_left": _hours(verdict.seconds_left),
        "days_left": verdict.days_left,
        "safety": verdict.safety,
        "reason": reason_data(verdict.reason, wording),
        "sources": _sources(verdict.reason, task),
    }


def job_data(verdict: JobVerdict, facts: MachineFacts, wording: Wording) -> Data:
    """A one-off as judged."""
    job = next(job for job in facts.jobs if job.job_id == verdict.job_id)
    return {
        "id": int(verdict.job_id),
        "name": job.text,
        "state": verdict.state.value,
        "due": _day(verdict.due),
        "safety": job.safety,
        "reason": reason_data(verdict.reason, wording),
    }


def vessel_data(verdict: VesselVerdict, wording: Wording) -> Data:
    """The fuel of one can, tank or bowl. Shares of one and ages to a thousandth."""
    return {
        "id": int(verdict.vessel_id),
        "name": verdict.name,
        "sort": verdict.sort.value,
        "litres": _litres(verdict.volume_ul),
        "capacity": _litres(verdict.capacity_ul),
        "lots": [lot_data(lot) for lot in verdict.lots],
        "stale_share": _share(verdict.stale_share),
        "spoilt_share": _share(verdict.spoilt_share),
        "gum_index": _share(verdict.gum_index),
        "ethanol": _share(verdict.ethanol),
        "band": verdict.band.value,
        "governed_by": verdict.governed_by.value,
        "next_band_on": _day(verdict.next_band_on),
        "reason": reason_data(verdict.reason, wording),
    }


def lot_data(lot: LotVerdict) -> Data:
    """Fuel bought in one go. `ethanol` null where nobody knows what the pump had."""
    return {
        "bought": _day(lot.bought_on),
        "litres": _litres(lot.volume_ul),
        "ethanol": _share(lot.ethanol),
        "age_days": lot.age_days,
        "ageing": _share(lot.ageing),
        "stabilised": _day(lot.stabilised_on),
        "sort": lot.sort.value,
        "light_ends": _share(lot.light_ends),
    }


def reason_data(ground: Reason, wording: Wording) -> Data:
    """A ground with its sentence and the grounds beneath."""
    return {
        "code": ground.code.value,
        "values": {name: value_data(value) for name, value in ground.values},
        "source": ground.source,
        "text": wording.reason(ground),
        "children": [reason_data(child, wording) for child in ground.children],
    }


def value_data(value: Value) -> object:
    """A value of a ground: days in ISO form, quantities with their unit, codes as they are."""
    match value:
        case Quantity():
            return {"amount": _number(value.amount, 3), "unit": value.unit.value}
        case date():
            return value.isoformat()
        case str():
            return str(value)
        case _:
            return value


def _sources(ground: Reason, task: TaskFacts) -> list[str]:
    """What the verdict rests on first, then what the task as a whole rests on."""
    marked: list[SourceId] = [source for mark in task.marks for source in mark.sources]
    return list(dict.fromkeys([*sources_of(ground), *map(str, marked)]))


def _number(amount: Fraction, places: int) -> int | float:
    return amount.numerator if amount.denominator == 1 else float(decimal(amount, places))


def _hours(seconds: Fraction | None) -> float | None:
    return None if seconds is None else float(decimal(seconds / HOUR, 2))


def _litres(volume_ul: int) -> float:
    return float(decimal(Fraction(volume_ul, LITRE), 3))


def _share(share: Fraction | None) -> float | None:
    return None if share is None else float(decimal(share, 3))


def _day(day: date | None) -> str | None:
    return None if day is None else day.isoformat()
