"""The battery mower and the leaf blower, which share one pack."""

from __future__ import annotations

from datetime import date, timedelta

from models.acts.machines import AddMachine
from models.acts.plate import Plate
from models.acts.readings import Measured
from models.words import PaymentSort
from sample_db.chronicle import Chronicle
from sample_db.deeds import features, fits_too, line, measure, new_pack, paid, used, work
from sample_db.house import ADA, HOME, arrive, at
from sample_db.upkeep import Upkeep, Year, look_after
from schedules.facts import Past

MOWING = (4, 5, 6, 7, 8, 9, 10)
MOWER, BLOWER, PACK = "Battery mower", "Leaf blower", "Pack 1, 5 Ah"
_BLOWER_HAS = {"supply": "battery", "tool": "blower", "vacuum": "no"}


def tell(story: Chronicle) -> None:
    """Both and their pack."""
    _mower(story)
    _blower(story)
    _pack(story)


def _mower(story: Chronicle) -> None:
    came = date(story.on.year - 2, 5, 3)
    arrive(
        story,
        MOWER,
        came,
        lambda shed: AddMachine(
            name=MOWER,
            kind="K06",
            place_id=at(shed, HOME),
            spot="garage wall, folded",
            came_on=came,
            past=Past.NEW,
            plate=Plate(model="36 V, 38 cm", serial="BM38-77031"),
        ),
        card=(("key_hangs", "beside the charger"),),
    )
    story.add(came, new_pack(MOWER, came, PACK), name=PACK)
    story.add(came, paid(came, PaymentSort.BOUGHT, 41_900, machine=MOWER, text="with pack"))
    look_after(
        story,
        MOWER,
        Upkeep(kind="K06", left=frozenset({"LI-03"})),
        Year(
            before=(3, 29),
            middle=((6, 28), (8, 26)),
            after=(11, 2),
            hours_between=10,
            left_off="key out, pack indoors at half charge",
            by=ADA,
        ),
        since=came,
    )
    for place, first in enumerate(story.monthly(9, MOWING, since=came)):
        for later in (0, 13):
            day = first + timedelta(days=later + place % 2)
            story.add(day, used(MOWER, day, 70 + place % 3 * 5, count=2))


def _blower(story: Chronicle) -> None:
    came = date(story.on.year - 2, 9, 14)
    arrive(
        story,
        BLOWER,
        came,
        lambda shed: AddMachine(
            name=BLOWER,
            kind="K10",
            place_id=at(shed, HOME),
            spot="garage wall, hook 10",
            came_on=came,
            past=Past.NEW,
            plate=Plate(model="36 V, bare tool", serial="BB-10264"),
        ),
    )
    story.add(came, features(BLOWER, _BLOWER_HAS))
    story.add(came, fits_too(PACK, BLOWER, came))
    for day in story.yearly(10, 15, since=came):
        for later in (0, 6, 13):
            when = day + timedelta(days=later)
            story.add(when, used(BLOWER, when, 20))


def _pack(story: Chronicle) -> None:
    """Its charge is looked at in the cold months, its run time once a year."""
    came = date(story.on.year - 2, 5, 3)
    charge = [line("LI-03")]
    for day in story.monthly(20, (1, 3), since=came):
        story.add(day, work(MOWER, day, charge, minutes=2, by=ADA))
        kept = Measured(task="LI-03", limit="L47", amount=480)
        story.add(day, measure(MOWER, day, kept))
    for count, day in enumerate(story.yearly(3, 29, since=came)):
        left = Measured(task="LI-04", limit="L50", amount=960 - 70 * count, after_work=True)
        story.add(day, measure(MOWER, day, left))
