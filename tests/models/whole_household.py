"""An invented household with at least one row in every table, corrections and odd text included."""

from __future__ import annotations

import json
from dataclasses import dataclass
from datetime import date
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from models.changes import ActCode, ActLabel, Area, Changes
from models.moment import Moment
from models.tables.answers import DetailRow, DutyAnswerRow, FeatureAnswerRow, OwnFigureRow
from models.tables.fuel import FuelEventRow, VesselRow
from models.tables.hours import HoursReadingRow, InferredPointRow, MeterRow, UseRow
from models.tables.household import PolicyFigureRow, UnitChoiceRow
from models.tables.machines import FittingRow, ItemRow, MachinePlaceRow, MachineRow
from models.tables.photos import PhotoPictureRow, PhotoRow
from models.tables.places import PlaceMonthRow, PlaceRow, PlaceSeasonRow, PlaceWindowRow
from models.tables.runs import (
    LeftOffRow,
    NotYetRow,
    RunMachineRow,
    RunRow,
    RunStepRow,
    RunTimerRow,
)
from models.tables.searches import SearchRow, SearchStepRow
from models.tables.stores import PaymentRow, SheetMachineRow, SheetRow, ShelfPartRow
from models.tables.trials import TrialConditionRow, TrialRow, TrialValueRow
from models.tables.work import (
    FaultRow,
    JobRow,
    LimitReadingRow,
    StorageSpellRow,
    WorkLineRow,
    WorkRow,
)
from models.words import (
    FuelDoing,
    InferredFrom,
    LineOutcome,
    Paper,
    PaymentSort,
    RunOutcome,
    SearchDoing,
    SearchEnd,
    SheetSort,
    Side,
    StepAnswer,
    TrialSide,
)
from schedules.facts import (
    FuelSort,
    FuelUse,
    Gone,
    ItemSort,
    Look,
    Past,
    Phase,
    Shelter,
    VesselSort,
)
from schedules.sitting_facts import FuelRoute, RunSort
from schedules.units import Dimension, Unit

NAME = 'Red one "the big one" & co. <b>Größe</b> 🦌'


@dataclass(frozen=True, slots=True, kw_only=True)
class FillEverything:
    """Put something into every table, in the order an owner would."""

    def run(self, session: Session, moment: Moment) -> Changes:
        def put(row: Any) -> int:
            session.add(row)
            session.flush()
            return int(row.id)

        _settings(put)
        place = _place(put)
        machine, item, engine = _machine(put, place)
        sheet = put(
            SheetRow(
                number=4127,
                sort=SheetSort.PRESEASON,
                paper=Paper.A4,
                printed_on=date(2024, 10, 1),
                entered_on=date(2024, 10, 5),
                lines=json.dumps(
                    [{"machine_id": machine, "tasks": ["S2-05"], "job_id": None, "text": "belts"}]
                ),
            )
        )
        put(SheetMachineRow(sheet_id=sheet, machine_id=machine))
        _hours(put, machine, item, engine)
        _work(put, machine, item, sheet)
        _trial(put, machine)
        _search(put, machine)
        _run(put, machine)
        _fuel(put, machine, place)
        _answers(put, machine)
        _money(put, machine, item)
        _photos(session, put, machine)
        label = ActLabel(ActCode.IMPORT, (("machines", 1),))
        return Changes(areas=frozenset(Area), ids=frozenset(), label=label)


def _settings(put: Any) -> None:
    put(UnitChoiceRow(dimension=Dimension.LENGTH, unit=Unit.INCH))
    put(PolicyFigureRow(name="due_days", value=21))


def _place(put: Any) -> int:
    place: int = put(PlaceRow(name="Lean-to", climate="cold", shelter=Shelter.SHED, note="left"))
    put(PlaceMonthRow(place_id=place, month=1, mean_mc=-4000, low_mc=-9000))
    season = put(PlaceSeasonRow(place_id=place, kind_code="K02"))
    put(PlaceWindowRow(season_id=season, first_month=10, first_day=15, last_month=2, last_day=29))
    put(PlaceSeasonRow(place_id=place, kind_code="K15"))
    return place


def _machine(put: Any, place: int) -> tuple[int, int, int]:
    item = put(
        ItemRow(
            sort=ItemSort.MACHINE,
            name=NAME,
            came_on=date(2019, 12, 24),
            past=Past.UNKNOWN,
            note="line one\nline two\ttab",
            plate_model="TT-24",
            plate_serial="000123",
        )
    )
    engine = put(
        ItemRow(
            sort=ItemSort.ENGINE,
            name="its engine",
            came_on=date(2019, 12, 24),
            past=Past.NEW,
            start_seconds=0,
            plate_code="EX-208",
        )
    )
    pack = put(
        ItemRow(
            sort=ItemSort.PACK,
            name="pack",
            came_on=date(2020, 1, 1),
            past=Past.NEW,
            retired_on=date(2024, 1, 1),
            retired_why="swollen",
        )
    )
    machine = put(MachineRow(item_id=item, kind_code="K02"))
    put(
        MachinePlaceRow(
            machine_id=machine, place_id=place, from_on=date(2019, 12, 24), spot="by the door"
        )
    )
    put(FittingRow(item_id=engine, machine_id=machine, from_on=date(2019, 12, 24)))
    put(
        FittingRow(
            item_id=pack, machine_id=machine, from_on=date(2020, 1, 1), off_on=date(2024, 1, 1)
        )
    )
    return machine, item, engine


def _hours(put: Any, machine: int, item: int, engine: int) -> None:
    old = put(
        MeterRow(
            item_id=engine,
            from_on=date(2019, 12, 24),
            start_seconds=0,
            modulus_seconds=35_999_640,
            ended_on=date(2023, 1, 1),
            end_seconds=147_600,
        )
    )
    put(MeterRow(item_id=engine, from_on=date(2023, 1, 1), start_seconds=0))
    put(
        HoursReadingRow(
            meter_id=old,
            happened_on=date(2022, 3, 1),
            shown_seconds=100_800,
            typed_text="28 h",
            typed_amount="28",
            typed_unit=Unit.HOUR.value,
            entered_by="Ida",
        )
    )
    put(
        InferredPointRow(
            item_id=item,
            happened_on=date(2024, 3, 1),
            total_seconds=144_000,
            spread_seconds=7200,
            inferred_from=InferredFrom.SNOW,
            accepted_on=date(2024, 3, 2),
        )
    )
    use = put(
        UseRow(
            machine_id=machine,
            happened_on=date(2024, 1, 10),
            run_seconds=2400,
            outcome=RunOutcome.BADLY,
            pins_used=1,
        )
    )
    put(
        UseRow(
            machine_id=machine,
            happened_on=date(2024, 1, 11),
            run_seconds=None,
            count=2,
            outcome=RunOutcome.RAN,
            corrects_id=use,
        )
    )
    put(
        UseRow(
            machine_id=machine,
            happened_on=date(2024, 1, 11),
            count=2,
            outcome=RunOutcome.RAN,
            corrects_id=use + 1,
            struck=True,
        )
    )


def _work(put: Any, machine: int, item: int, sheet: int) -> None:
    fault = put(
        FaultRow(
            machine_id=machine,
            text="squeals when wet",
            since_on=date(2024, 1, 10),
            put_off_on=date(2024, 1, 12),
        )
    )
    job = put(
        JobRow(
            machine_id=machine,
            fault_id=fault,
            text="re-check the belt",
            noted_on=date(2024, 1, 12),
            at_seconds=18_000,
            phase=Phase.BEFORE,
            minutes=10,
        )
    )
    work = put(
        WorkRow(
            machine_id=machine,
            sheet_id=sheet,
            happened_on=date(2024, 10, 4),
            by_whom="Ida",
            minutes=55,
            cents=0,
            note="done",
        )
    )
    put(
        WorkLineRow(
            work_id=work,
            item_id=item,
            task_code="S2-05",
            outcome=LineOutcome.REPLACED,
            part_code="scraper-bar",
            part_text="scraper bar 24 in",
            quantity=1,
            cents=3499,
        )
    )
    put(WorkLineRow(work_id=work, item_id=item, job_id=job, outcome=LineOutcome.DONE))
    put(
        LimitReadingRow(
            item_id=item,
            work_id=work,
            task_code="S2-04",
            limit_code="L16",
            amount=1588,
            side=Side.LEFT,
            happened_on=date(2024, 10, 4),
            typed_text="1/16",
            typed_amount="1/16",
            typed_unit=Unit.INCH.value,
        )
    )
    put(
        LimitReadingRow(
            item_id=item,
            task_code="E4-09",
            limit_code="L52",
            seen=False,
            happened_on=date(2024, 10, 4),
        )
    )
    put(
        StorageSpellRow(
            machine_id=machine,
            put_away_on=date(2024, 4, 2),
            planned_last=date(2024, 10, 31),
            woken_on=date(2024, 10, 5),
            off_or_open="plug lead off, key on hook 3",
        )
    )


def _search(put: Any, machine: int) -> None:
    search = put(
        SearchRow(
            machine_id=machine,
            symptom_code="S1F",
            begun_on=date(2024, 10, 24),
            closed_on=date(2024, 11, 2),
            ending=SearchEnd.CURED,
            cause_code="F4",
            teaches=True,
            stop_minutes=120,
            stop_cents=4500,
            note="the jet, at last",
        )
    )
    put(
        SearchStepRow(
            search_id=search,
            doing=SearchDoing.TESTED,
            done_on=date(2024, 10, 24),
            subject_code="gate",
            answer_code="ok",
            minutes=3,
            withdrawn=True,
        )
    )
    put(
        SearchStepRow(
            search_id=search,
            doing=SearchDoing.LEFT_OFF,
            done_on=date(2024, 10, 25),
            text="governor spring, hole 2",
        )
    )


def _trial(put: Any, machine: int) -> None:
    job = put(
        JobRow(
            machine_id=machine,
            text="throw again after the work",
            noted_on=date(2024, 1, 20),
            waits_for="the same snow",
        )
    )
    trial = put(
        TrialRow(
            machine_id=machine,
            job_id=job,
            protocol_code="throw",
            begun_on=date(2024, 1, 20),
            rough=True,
            work="flaps on the impeller",
            reference="the neighbour's",
        )
    )
    put(
        TrialConditionRow(
            trial_id=trial, side=TrialSide.BEFORE, condition_code="snow", answer="packs"
        )
    )
    value = put(
        TrialValueRow(
            trial_id=trial,
            side=TrialSide.BEFORE,
            happened_on=date(2024, 1, 20),
            amount=5_486_400,
            typed_text="18 ft",
            typed_amount="18",
            typed_unit=Unit.FOOT.value,
        )
    )
    put(
        TrialValueRow(
            trial_id=trial,
            side=TrialSide.BEFORE,
            of_reference=True,
            happened_on=date(2024, 1, 20),
            amount=5_000_000,
            corrects_id=value,
            struck=True,
        )
    )


def _run(put: Any, machine: int) -> None:
    run = put(
        RunRow(
            sort=RunSort.PUTTING_AWAY,
            begun_on=date(2024, 4, 2),
            begun_by="Ada",
            left_on=date(2024, 4, 3),
            waits_for="a bottle of oil",
        )
    )
    put(RunMachineRow(run_id=run, machine_id=machine, route=FuelRoute.FULL_TREATED))
    put(
        RunStepRow(
            run_id=run,
            machine_id=machine,
            place=0,
            step_code="P-03",
            minutes=1,
            leaves="plug-lead key-out",
            answer=StepAnswer.DONE,
            answered_on=date(2024, 4, 2),
            answered_by="Ada",
        )
    )
    put(
        RunStepRow(
            run_id=run,
            machine_id=machine,
            place=1,
            step_code="P-35",
            minutes=2,
            wait_minutes=10,
            tasks="E4-12",
        )
    )
    put(RunTimerRow(run_id=run, place=1, minutes=10))
    put(
        LeftOffRow(
            machine_id=machine,
            run_id=run,
            left_code="plug-lead",
            since_on=date(2024, 4, 2),
            kept="tied to the handle",
        )
    )
    put(NotYetRow(machine_id=machine, said_on=date(2024, 3, 20)))


def _fuel(put: Any, machine: int, place: int) -> None:
    can = put(
        VesselRow(
            sort=VesselSort.CAN,
            name="the can by the door",
            place_id=place,
            capacity_ul=10_000_000,
            burns=FuelUse.FOUR_STROKE,
            came_on=date(2020, 1, 1),
        )
    )
    tank = put(
        VesselRow(
            sort=VesselSort.TANK,
            name="tank",
            machine_id=machine,
            capacity_ul=3_100_000,
            burns=FuelUse.FOUR_STROKE,
            came_on=date(2019, 12, 24),
        )
    )
    put(
        FuelEventRow(
            vessel_id=can,
            doing=FuelDoing.BOUGHT,
            happened_on=date(2024, 10, 2),
            volume_ul=9_463_529,
            fuel_sort=FuelSort.E5,
            bought_on=date(2024, 10, 2),
            ethanol_permille=50,
            stabilised_on=date(2024, 10, 2),
            dose_ul=30_000,
            cents=1790,
            typed_text="2.5 US gal",
            typed_amount="5/2",
            typed_unit=Unit.US_GALLON.value,
        )
    )
    put(
        FuelEventRow(
            vessel_id=can,
            to_vessel_id=tank,
            doing=FuelDoing.POURED,
            happened_on=date(2024, 10, 5),
            volume_ul=2_900_000,
            to_brim=True,
        )
    )
    put(
        FuelEventRow(
            vessel_id=tank,
            doing=FuelDoing.LOOKED,
            happened_on=date(2024, 10, 6),
            look=Look.SHARP_CLEAR,
        )
    )
    put(
        FuelEventRow(
            vessel_id=can,
            doing=FuelDoing.OILED,
            happened_on=date(2024, 10, 7),
            volume_ul=29_574,
            typed_text="1 fl oz",
            typed_amount="1",
            typed_unit=Unit.US_FLUID_OUNCE.value,
        )
    )
    for doing in (FuelDoing.SPILLED, FuelDoing.DISPOSED):
        put(
            FuelEventRow(
                vessel_id=can, doing=doing, happened_on=date(2024, 10, 8), volume_ul=100_000
            )
        )
    put(
        FuelEventRow(
            vessel_id=can,
            doing=FuelDoing.LEVEL,
            happened_on=date(2024, 10, 9),
            volume_ul=4_000_000,
            gone=Gone.LOST,
        )
    )


def _answers(put: Any, machine: int) -> None:
    day = date(2024, 10, 1)
    put(
        FeatureAnswerRow(
            machine_id=machine, feature_code="fuel_valve", answer="yes", answered_on=day
        )
    )
    put(DutyAnswerRow(machine_id=machine, duty_code="gravel", applies=True, answered_on=day))
    put(OwnFigureRow(machine_id=machine, target="E4-02", figure="months", value=6, page="12"))
    put(OwnFigureRow(machine_id=machine, target="E4-06", figure="run_seconds", page="13"))
    put(DetailRow(machine_id=machine, detail_code="oil_grade", text="5W-30"))


def _money(put: Any, machine: int, item: int) -> None:
    put(
        PaymentRow(
            machine_id=machine,
            item_id=item,
            sort=PaymentSort.BOUGHT,
            happened_on=date(2019, 12, 24),
            cents=25_000,
            shop="the neighbour",
        )
    )
    put(ShelfPartRow(part_code="shear-pin", name="shear pin", spec="1/4 x 1-3/4", quantity=4))


def _photos(session: Session, put: Any, machine: int) -> None:
    reading = session.scalars(select(LimitReadingRow.id).order_by(LimitReadingRow.id)).first()
    of_reading = put(
        PhotoRow(
            machine_id=machine,
            limit_reading_id=reading,
            taken_on=date(2024, 10, 2),
            text="the gap, with the ruler",
            on_paper=True,
            added_by="Ada",
        )
    )
    put(PhotoPictureRow(photo_id=of_reading, jpeg=bare_jpeg(640, 480)))
    whole = put(PhotoRow(machine_id=machine, taken_on=date(2019, 12, 24)))
    put(PhotoPictureRow(photo_id=whole, jpeg=bare_jpeg(3, 4)))


def bare_jpeg(wide: int, high: int, more_bytes: int = 100) -> bytes:
    """The head of a JPEG of that size, and what might be its picture."""
    size = high.to_bytes(2, "big") + wide.to_bytes(2, "big")
    frame = b"\xff\xc0\x00\x0b\x08" + size + b"\x01\x01\x11\x00"
    scan = b"\xff\xda\x00\x08\x01\x01\x00\x00\x3f\x00"
    return b"\xff\xd8" + frame + scan + bytes(more_bytes) + b"\xff\xd9"
