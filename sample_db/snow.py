"""The two snow throwers: the big inherited one with an hour meter, the small one bought new."""

from __future__ import annotations

from datetime import date, timedelta

from models.acts.machines import AddMachine, FuelLeft
from models.acts.plate import Plate
from models.acts.readings import Measured
from models.words import LineOutcome, PaymentSort, RunOutcome
from sample_db.chronicle import Chronicle
from sample_db.deeds import (
    drain,
    duties,
    fault,
    features,
    fill,
    job,
    level,
    line,
    measure,
    own_figure,
    paid,
    pour,
    put_off,
    put_right,
    read,
    treat,
    used,
    used_after_all,
    work,
)
from sample_db.fuel import CAN
from sample_db.house import ADA, HOME, TOMAS, arrive, at
from sample_db.upkeep import Upkeep, Year, look_after
from sample_db.weather import Storm, storms
from schedules.facts import FuelSort, Gone, Past, Phase

BIG, SMALL = "Big thrower", "Paddle thrower"
HOUR = 3600
NOON = 12
DAY = timedelta(days=1)
_BIG_HAS = {
    "fuel-valve": "yes",
    "bowl-drain": "reachable",
    "primer-bulb": "yes",
    "air-filter": "none",
    "oil-drain": "plug",
    "oil-filter": "no",
    "fuel-filter": "no",
    "tank": "steel",
    "starter": "mains",
    "compression-release": "no",
    "shear-pins": "yes",
    "air-tyres": "yes",
    "tracks": "no",
    "safety-key": "yes",
    "grease-points": "yes",
}
_SMALL_HAS = {
    "fuel-valve": "no",
    "bowl-drain": "reachable",
    "primer-bulb": "yes",
    "air-filter": "none",
    "oil-drain": "plug",
    "oil-filter": "no",
    "fuel-filter": "no",
    "tank": "plastic",
    "starter": "cord",
}


def tell(story: Chronicle) -> None:
    """Both throwers, from the day each came."""
    _big_comes(story)
    _big_works(story)
    _big_breaks(story)
    _big_drinks(story)
    _small_comes(story)
    _small_works(story)
    _small_wears(story)
    _small_drinks(story)


# -- the big one ------------------------------------------------------------------------------


def _big_comes(story: Chronicle) -> None:
    came = story.begun
    arrive(
        story,
        BIG,
        came,
        lambda shed: AddMachine(
            name=BIG,
            kind="K02",
            place_id=at(shed, HOME),
            spot="garage, left",
            came_on=came,
            past=Past.UNKNOWN,
            tank_ul=3_000_000,
            last_ran_on=came,
            fuel_left=FuelLeft.NO,
            plate=Plate(model="two stages, 61 cm", serial="H-20417"),
            note="From the parents' place. Nobody knows when its oil was last changed.",
        ),
        card=(
            ("oil", "5W-30, 0.6 L, drain plug 10 mm"),
            ("plug", "gap 0.75 mm, socket 21 mm"),
            ("pins", "hook 3, the soft ones; never a bolt"),
            ("belt", "nail 6, above the bench"),
            ("tyres", "1.2 bar, both alike"),
            ("key_hangs", "board, hook 3"),
            ("cord_hangs", "nail beside the freezer"),
            ("ring", "Tomas, across the yard"),
            ("plough", "the farm at the bend"),
        ),
    )
    story.add(came, features(BIG, _BIG_HAS))
    story.add(came, duties(BIG, "rough-ground"))
    story.add(came, own_figure(BIG, "E4-02", "run_seconds", 50 * HOUR, "page 14"))


def _big_works(story: Chronicle) -> None:
    snow = storms(story)

    def shown(day: date) -> int:
        """The meter was put on in the first autumn; each storm takes seven tenths of an hour."""
        return 2 + 7 * sum(1 for storm in snow if storm.day <= day)

    look_after(
        story,
        BIG,
        Upkeep(kind="K02", features=_BIG_HAS),
        Year(
            before=(10, 28),
            middle=((1, 18),),
            after=(4, 8),
            off=(7, 12),
            left_off="plug lead off · key on the board, hook 3 · fuel valve shut",
            last_words="Squeals when wet; left tyre was soft.",
            by=TOMAS,
            tenths=shown,
        ),
        since=story.begun,
        going_over=date(story.begun.year, 10, 28),
    )
    for storm in snow:
        if storm.place % 3 == 2:
            story.add(storm.day, read(BIG, storm.day, shown(storm.day)))


def _big_breaks(story: Chronicle) -> None:
    broke = date(story.on.year - 1, 1, 13)
    story.add(
        broke, fault(BIG, broke, "Auger stands still, belt torn", stops_use=True), name="belt torn"
    )
    mended = broke + 2 * DAY
    belt = line(
        "S2-08", LineOutcome.REPLACED, part="auger-belt", spec="nail 6", quantity=1, cents=2450
    )
    story.add(
        mended,
        work(BIG, mended, [belt], minutes=70, by=TOMAS, note="Photograph before the guard is off."),
    )
    story.add(mended, put_right("belt torn", mended, "new auger belt from nail 6"))
    story.add(
        mended + DAY,
        paid(
            mended + DAY, PaymentSort.PART, 2690, machine=BIG, text="auger belt, for nail 6 again"
        ),
    )
    cold = [storm.day for storm in storms(story)][-2]
    story.add(
        cold,
        fault(BIG, cold, "Squeals when wet, left tyre loses air", note="Works all the same."),
        name="squeals",
    )
    story.add(cold, put_off("squeals", cold))
    story.add(
        cold,
        job(
            BIG,
            cold,
            "New inner tube for the left tyre",
            phase=Phase.OFF,
            minutes=40,
            part="tyre-valve",
            about="squeals",
        ),
    )


def _big_drinks(story: Chronicle) -> None:
    for day in story.yearly(10, 28):
        story.add(day, drain(BIG, day, note="into the car"), hour=NOON)
        story.add(day, pour(CAN, BIG, day, 25))
    for storm in storms(story):
        if storm.place in (3, 6, 9):
            _top_up(story, BIG, storm, left=5, poured=22)
    for day in story.yearly(4, 8):
        story.add(day, level(BIG, day, 6), hour=NOON)
        story.add(day, pour(CAN, BIG, day, 22))
        story.add(day, treat(BIG, day, 9))


def _top_up(story: Chronicle, machine: str, storm: Storm, *, left: int, poured: int) -> None:
    """So much is left by eye, so much goes in, in tenths of a litre."""
    story.add(storm.day, level(machine, storm.day, left))
    story.add(storm.day, pour(CAN, machine, storm.day, poured))


# -- the small one ----------------------------------------------------------------------------


def _small_comes(story: Chronicle) -> None:
    came = date(story.begun.year, 11, 12)
    arrive(
        story,
        SMALL,
        came,
        lambda shed: AddMachine(
            name=SMALL,
            kind="K01",
            place_id=at(shed, HOME),
            spot="lean-to",
            came_on=came,
            past=Past.NEW,
            tank_ul=1_500_000,
            plate=Plate(model="single stage, 53 cm", serial="P 118-0352"),
        ),
        card=(("oil", "5W-30, 0.5 L"), ("plug", "gap 0.75 mm"), ("belt", "nail 7")),
    )
    story.add(came, features(SMALL, _SMALL_HAS))
    story.add(
        came,
        paid(came, PaymentSort.BOUGHT, 64_900, machine=SMALL, shop="the mill shop", text="new"),
    )


def _small_works(story: Chronicle) -> None:
    came = date(story.begun.year, 11, 12)
    look_after(
        story,
        SMALL,
        Upkeep(kind="K01", features=_SMALL_HAS, left=frozenset({"S1-02"})),
        Year(before=(10, 18), middle=((1, 20),), after=(4, 6), off=(7, 12), by=ADA),
        since=came,
    )
    for storm in storms(story):
        if storm.day < came:
            continue
        minutes = 24 + storm.place * 7 % 20
        badly = storm.place == 10
        outcome = RunOutcome.BADLY if badly else RunOutcome.RAN
        said = "Coughed under load until it was warm." if badly else ""
        if storm.day.year == story.on.year - 1 and storm.place == 8:
            story.add(storm.day, used(SMALL, storm.day, minutes * 10), name="one nought too many")
            right = "A nought too many: it was out for half an hour, not for five."
            next_day = storm.day + DAY
            story.add(
                next_day, used_after_all("one nought too many", SMALL, storm.day, minutes, right)
            )
        else:
            story.add(storm.day, used(SMALL, storm.day, minutes, outcome=outcome, note=said))


def _small_wears(story: Chronicle) -> None:
    """The scraper bar is measured at every visit; at the last one it was worn."""
    came = date(story.begun.year, 11, 12)
    days = sorted([*story.yearly(1, 20, since=came), *story.yearly(10, 18, since=came)])
    for before_last, day in enumerate(reversed(days)):
        left_um = 1500 + 450 * before_last
        measured = Measured(task="S1-02", limit="L14", amount=left_um)
        story.add(day, measure(SMALL, day, measured))
    story.add(
        days[-1],
        job(
            SMALL,
            days[-1],
            "Fit the new scraper bar",
            waits_for="the scraper bar, ordered",
            minutes=15,
            part="scraper-bar",
        ),
    )


def _small_drinks(story: Chronicle) -> None:
    came = date(story.begun.year, 11, 12)
    for day in story.yearly(10, 27, since=came):
        story.add(day, pour(CAN, SMALL, day, 12))
    story.add(came, fill(SMALL, came, 12, FuelSort.E5))
    for storm in storms(story):
        if storm.place in (1, 4, 7, 10):
            _top_up(story, SMALL, storm, left=2, poured=12)
    for day in story.yearly(4, 6):
        story.add(day, drain(SMALL, day, gone=Gone.BURNT, note="run dry"), hour=NOON)
