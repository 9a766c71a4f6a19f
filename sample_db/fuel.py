"""The cans: what was bought when, and the one by the door that nobody knows anything about."""

from __future__ import annotations

from models.acts.fuel import AddVessel, Fill
from models.changes import Area
from sample_db.chronicle import Chronicle
from sample_db.deeds import LITRE, drain, fill, look_at
from sample_db.house import HOME, PARENTS, at
from schedules.facts import FuelSort, FuelUse, Gone, Look, VesselSort

CAN, SHED_CAN, MIX_CAN, OLD_CAN = (
    "Red can A, garage",
    "Red can B, shed",
    "Mix 1:50, blue can",
    "Can by the door",
)
FORENOON = 10
# When the cans are emptied into the car and filled again: month, day, tenths of a litre, treated.
_HOME = ((1, 10, 90, True), (4, 5, 80, False), (6, 20, 60, False), (10, 25, 95, True))
_SHED = (
    (3, 20, 80, False),
    (5, 5, 80, False),
    (6, 20, 95, False),
    (8, 5, 95, False),
    (9, 12, 80, True),
)
_MIX = ((4, 10, 25), (10, 2, 20))


def tell(story: Chronicle) -> None:
    """Every can and what went into it."""
    _stand(story)
    for can, bought in ((CAN, _HOME), (SHED_CAN, _SHED)):
        for month, day_of_month, tenths, treated in bought:
            for day in story.yearly(month, day_of_month):
                story.add(day, drain(can, day, note="the rest into the car"), hour=FORENOON - 1)
                cents = tenths * 17
                buy = fill(can, day, tenths, FuelSort.E5, stabilised=treated, cents=cents)
                story.add(day, buy, hour=FORENOON)
    for month, day_of_month, tenths in _MIX:
        for day in story.yearly(month, day_of_month):
            story.add(day, drain(MIX_CAN, day, gone=Gone.DISPOSED), hour=FORENOON - 1)
            mix = fill(MIX_CAN, day, tenths, FuelSort.PREMIX, oil_ratio=50)
            story.add(day, mix, hour=FORENOON)


def _stand(story: Chronicle) -> None:
    day = story.begun
    for name, place, litres, burns in (
        (CAN, HOME, 10, FuelUse.FOUR_STROKE),
        (SHED_CAN, PARENTS, 10, FuelUse.FOUR_STROKE),
        (MIX_CAN, HOME, 5, FuelUse.TWO_STROKE),
        (OLD_CAN, PARENTS, 10, FuelUse.FOUR_STROKE),
    ):
        story.add(
            day,
            lambda shed, name=name, place=place, litres=litres, burns=burns: AddVessel(
                name=name,
                sort=VesselSort.CAN,
                capacity_ul=litres * LITRE,
                came_on=day,
                burns=burns,
                place_id=at(shed, place),
            ),
            name=name,
            hour=FORENOON,
        )
    story.add(
        day,
        lambda shed: Fill(
            vessel_id=shed.of(Area.FUEL, OLD_CAN),
            day=day,
            sort=FuelSort.UNKNOWN,
            volume_ul=4 * LITRE,
            age_known=False,
            note="Half full when we came. Nobody knows of what.",
        ),
        hour=FORENOON + 1,
    )
    looked = story.ago(40)
    if looked > day:
        story.add(looked, look_at(OLD_CAN, looked, Look.SOUR_OR_DARK, note="Smells of varnish."))
