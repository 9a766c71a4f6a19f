"""What people do in a shed, as deeds of the chronicle: short names for the acts."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date

from models.acts.answers import AnswerDuties, AnswerFeatures, SetDetail, SetOwnFigure
from models.acts.corrections import CorrectEntry
from models.acts.faults import CloseFault, NoteFault, PutOffFault
from models.acts.fuel import Drain, Fill, LookAtFuel, Pour, SetLevel, Stabilise
from models.acts.hours import AcceptHours, ReadHours
from models.acts.jobs import NoteJob
from models.acts.readings import Measure, Measured
from models.acts.storage import PutAway, Wake
from models.acts.stores import Pay, StockPart
from models.acts.units import AddUnit, FitUnit
from models.acts.uses import LogUse
from models.acts.work import LineGiven, RecordWork
from models.changes import Area
from models.words import InferredFrom, LineOutcome, PaymentSort, RunOutcome
from sample_db.chronicle import Make, Shed
from schedules.facts import FuelSort, Gone, ItemSort, Look, Past, Phase

HOUR = 3600
MINUTE = 60
LITRE = 1_000_000


# -- the machine ------------------------------------------------------------------------------


def features(machine: str, answers: Mapping[str, str]) -> Make:
    """What it has, feature by feature."""
    pairs = tuple(answers.items())
    return lambda shed: AnswerFeatures(machine_id=shed.machine(machine), answers=pairs)


def duties(machine: str, *codes: str) -> Make:
    """What it has to put up with."""
    pairs = tuple((code, True) for code in codes)
    return lambda shed: AnswerDuties(machine_id=shed.machine(machine), answers=pairs)


def detail(machine: str, code: str, text: str) -> Make:
    """A thing to know when standing before it."""
    return lambda shed: SetDetail(machine_id=shed.machine(machine), detail=code, text=text)


def own_figure(machine: str, target: str, figure: str, value: int, page: str) -> Make:
    """A figure of its own manual."""
    return lambda shed: SetOwnFigure(
        machine_id=shed.machine(machine), target=target, figure=figure, value=value, page=page
    )


# -- running ----------------------------------------------------------------------------------


def used(
    machine: str,
    day: date,
    minutes: int | None,
    *,
    count: int = 1,
    outcome: RunOutcome = RunOutcome.RAN,
    pins: int = 0,
    note: str = "",
) -> Make:
    """It was out; minutes in all."""
    return lambda shed: _use(shed, machine, day, minutes, count, outcome, pins, note)


def used_after_all(entry: str, machine: str, day: date, minutes: int, note: str) -> Make:
    """What was entered under that name was wrong; this is how long it was out."""

    def make(shed: Shed) -> CorrectEntry:
        right = _use(shed, machine, day, minutes, 1, RunOutcome.RAN, 0, note)
        return CorrectEntry(entry_id=shed.of(Area.USES, entry), by=right)

    return make


def _use(
    shed: Shed,
    machine: str,
    day: date,
    minutes: int | None,
    count: int,
    outcome: RunOutcome,
    pins: int,
    note: str,
) -> LogUse:
    return LogUse(
        machine_id=shed.machine(machine),
        day=day,
        run_seconds=None if minutes is None else minutes * MINUTE,
        count=count,
        outcome=outcome,
        pins_used=pins,
        note=note,
    )


def read(machine: str, day: date, tenths: int, *, note: str = "") -> Make:
    """What the hour meter showed, in tenths of an hour."""
    seconds = tenths * HOUR // 10
    return lambda shed: ReadHours(
        machine_id=shed.machine(machine), day=day, shown_seconds=seconds, note=note
    )


def reckoned(machine: str, day: date, hours: int, spread: int, *, note: str = "") -> Make:
    """A total the owner takes for true, as always, with its spread, in hours."""
    return lambda shed: AcceptHours(
        machine_id=shed.machine(machine),
        day=day,
        total_seconds=hours * HOUR,
        spread_seconds=spread * HOUR,
        inferred_from=InferredFrom.AS_ALWAYS,
        note=note,
    )


# -- work -------------------------------------------------------------------------------------


def line(
    task: str,
    outcome: LineOutcome = LineOutcome.DONE,
    *,
    part: str | None = None,
    spec: str = "",
    quantity: int = 0,
    cents: int | None = None,
    note: str = "",
) -> LineGiven:
    """A task of a record."""
    return LineGiven(
        task=task,
        outcome=outcome,
        part=part,
        part_text=spec,
        quantity=quantity,
        cents=cents,
        note=note,
    )


def work(
    machine: str,
    day: date,
    lines: Iterable[LineGiven],
    *,
    minutes: int | None = None,
    measured: Iterable[Measured] = (),
    tenths: int | None = None,
    by: str = "",
    cents: int | None = None,
    note: str = "",
) -> Make:
    """One going at a machine; `tenths` is what its meter showed, in tenths of an hour."""
    done, readings = tuple(lines), tuple(measured)
    shown = None if tenths is None else tenths * HOUR // 10

    def make(shed: Shed) -> RecordWork | None:
        if not done and not readings:
            return None
        return RecordWork(
            machine_id=shed.machine(machine),
            day=day,
            lines=done,
            measured=readings,
            minutes=minutes,
            shown_seconds=shown,
            by_whom=by,
            cents=cents,
            note=note,
        )

    return make


def measure(machine: str, day: date, measured: Measured) -> Make:
    """A measurement without other work."""
    return lambda shed: Measure(machine_id=shed.machine(machine), day=day, measured=measured)


def put_away(machine: str, day: date, *, off: str = "") -> Make:
    """It sleeps from that day on; `off` is what was left off, open or shut."""

    def make(shed: Shed) -> PutAway:
        shed.asleep.add(machine)
        return PutAway(machine_id=shed.machine(machine), on=day, off_or_open=off)

    return make


def wake(machine: str, day: date) -> Make:
    """It is in use again, if it slept."""

    def make(shed: Shed) -> Wake | None:
        if machine not in shed.asleep:
            return None
        shed.asleep.remove(machine)
        return Wake(machine_id=shed.machine(machine), on=day)

    return make


# -- fuel: cans and tanks go by one sort of name ----------------------------------------------


def fill(
    vessel: str,
    day: date,
    tenths: int,
    sort: FuelSort,
    *,
    stabilised: bool = False,
    oil_ratio: int | None = None,
    cents: int | None = None,
    note: str = "",
) -> Make:
    """Bought, in tenths of a litre."""

    def make(shed: Shed) -> Fill:
        shed.filled.add(vessel)
        return Fill(
            vessel_id=shed.of(Area.FUEL, vessel),
            day=day,
            sort=sort,
            volume_ul=tenths * LITRE // 10,
            stabilised=stabilised,
            oil_ratio=oil_ratio,
            cents=cents,
            note=note,
        )

    return make


def pour(source: str, target: str, day: date, tenths: int) -> Make:
    """From one into the other, in tenths of a litre; nothing when the one is empty."""

    def make(shed: Shed) -> Pour | None:
        if source not in shed.filled:
            return None
        shed.filled.add(target)
        return Pour(
            vessel_id=shed.of(Area.FUEL, source),
            to_vessel_id=shed.of(Area.FUEL, target),
            day=day,
            volume_ul=tenths * LITRE // 10,
        )

    return make


def level(vessel: str, day: date, tenths: int, *, note: str = "") -> Make:
    """How much is left, by eye, in tenths of a litre; nothing where nothing went in."""

    def make(shed: Shed) -> SetLevel | None:
        if vessel not in shed.filled:
            return None
        return SetLevel(
            vessel_id=shed.of(Area.FUEL, vessel),
            day=day,
            volume_ul=tenths * LITRE // 10,
            note=note,
        )

    return make


def drain(vessel: str, day: date, *, gone: Gone = Gone.DRAINED, note: str = "") -> Make:
    """All of it out, or run dry; nothing where nothing is."""

    def make(shed: Shed) -> Drain | None:
        if vessel not in shed.filled:
            return None
        shed.filled.remove(vessel)
        return Drain(vessel_id=shed.of(Area.FUEL, vessel), day=day, gone=gone, note=note)

    return make


def treat(vessel: str, day: date, dose_ml: int) -> Make:
    """Stabiliser in; nothing where no fuel is."""

    def make(shed: Shed) -> Stabilise | None:
        if vessel not in shed.filled:
            return None
        number = shed.of(Area.FUEL, vessel)
        return Stabilise(vessel_id=number, day=day, dose_ul=dose_ml * 1000)

    return make


def look_at(vessel: str, day: date, look: Look, *, note: str = "") -> Make:
    """Nose and jar."""
    return lambda shed: LookAtFuel(
        vessel_id=shed.of(Area.FUEL, vessel), day=day, look=look, note=note
    )


# -- what is wrong, what waits ----------------------------------------------------------------


def fault(machine: str, day: date, text: str, *, stops_use: bool = False, note: str = "") -> Make:
    """Something is wrong since that day."""
    return lambda shed: NoteFault(
        machine_id=shed.machine(machine), text=text, since_on=day, stops_use=stops_use, note=note
    )


def put_off(name: str, day: date) -> Make:
    """The repair of that fault waits."""
    return lambda shed: PutOffFault(fault_id=shed.of(Area.FAULTS, name), on=day)


def put_right(name: str, day: date, how: str) -> Make:
    """The fault is no more."""
    return lambda shed: CloseFault(fault_id=shed.of(Area.FAULTS, name), on=day, how=how)


def job(
    machine: str,
    day: date,
    text: str,
    *,
    due: date | None = None,
    phase: Phase | None = None,
    waits_for: str = "",
    minutes: int = 0,
    part: str = "",
    about: str = "",
) -> Make:
    """A one-off; `about` names the fault it is to put right."""
    return lambda shed: NoteJob(
        machine_id=shed.machine(machine),
        text=text,
        noted_on=day,
        due_on=due,
        phase=phase,
        waits_for=waits_for,
        minutes=minutes,
        part=part,
        fault_id=shed.of(Area.FAULTS, about) if about else None,
    )


# -- units, shelf, money ----------------------------------------------------------------------


def new_pack(machine: str, day: date, name: str) -> Make:
    """A battery pack, new with the machine."""
    return lambda shed: AddUnit(
        sort=ItemSort.PACK,
        name=name,
        came_on=day,
        past=Past.NEW,
        machine_id=shed.machine(machine),
    )


def fits_too(unit: str, machine: str, day: date) -> Make:
    """The same pack serves that machine as well."""
    return lambda shed: FitUnit(
        unit_id=shed.of(Area.UNITS, unit), machine_id=shed.machine(machine), on=day
    )


def stock(part: str, quantity: int, *, spec: str = "", spot: str = "") -> Make:
    """So many lie ready now."""
    return lambda _: StockPart(part=part, quantity=quantity, spec=spec, spot=spot)


def paid(
    day: date, sort: PaymentSort, cents: int, *, machine: str = "", shop: str = "", text: str = ""
) -> Make:
    """Money that went."""
    return lambda shed: Pay(
        day=day,
        sort=sort,
        cents=cents,
        machine_id=shed.machine(machine) if machine else None,
        shop=shop,
        text=text,
    )
