"""What mows: the inherited lawn tractor at the parents', the push mower beside it, the trimmer."""

from __future__ import annotations

from datetime import date, timedelta

from models.acts.machines import AddMachine, EngineGiven
from models.acts.plate import Plate
from models.acts.readings import Measured
from models.words import PaymentSort
from sample_db.chronicle import Chronicle
from sample_db.deeds import (
    drain,
    fault,
    features,
    job,
    level,
    measure,
    own_figure,
    paid,
    pour,
    put_off,
    read,
    reckoned,
    treat,
    used,
)
from sample_db.fuel import MIX_CAN, SHED_CAN
from sample_db.house import ADA, HOME, PARENTS, TOMAS, arrive, at
from sample_db.upkeep import Upkeep, Year, look_after
from schedules.facts import Gone, Past, Phase

MOWING = (4, 5, 6, 7, 8, 9, 10)
TRACTOR, PUSH, TRIMMER = "Lawn tractor", "Push mower", "Trimmer"
HOUR = 3600
NOON = 12
_TRACTOR_HAS = {
    "fuel-valve": "no",
    "bowl-drain": "none",
    "air-filter": "both",
    "oil-drain": "plug",
    "oil-filter": "yes",
    "fuel-filter": "yes",
    "tank": "plastic",
    "starter": "battery",
    "air-tyres": "yes",
    "grease-points": "yes",
}
_PUSH_HAS = {
    "fuel-valve": "no",
    "bowl-drain": "reachable",
    "primer-bulb": "yes",
    "air-filter": "paper",
    "oil-drain": "none",
    "oil-filter": "no",
    "fuel-filter": "no",
    "tank": "plastic",
    "starter": "cord",
    "self-propelled": "yes",
}
_TRIMMER_HAS = {"primer-bulb": "yes", "metal-blade": "no", "flexible-shaft": "yes"}


def tell(story: Chronicle) -> None:
    """All three, from the day each came."""
    _tractor_comes(story)
    _tractor_works(story)
    _tractor_drinks(story)
    _push_comes(story)
    _push_works(story)
    _trimmer(story)


# -- the lawn tractor -------------------------------------------------------------------------


def _tractor_shown(day: date) -> int:
    """What its meter shows, in tenths of an hour: six hours each month from April to October."""
    months = 0
    for year in range(2000, day.year + 1):
        last = 12 if year < day.year else day.month
        months += sum(1 for month in range(4, 11) if month <= last)
    return months * 60


def _tractor_comes(story: Chronicle) -> None:
    came = story.begun
    start = 1184 * HOUR // 10
    arrive(
        story,
        TRACTOR,
        came,
        lambda shed: AddMachine(
            name=TRACTOR,
            kind="K05",
            place_id=at(shed, PARENTS),
            spot="shed, in front",
            came_on=came,
            past=Past.UNKNOWN,
            start_seconds=start,
            shown_seconds=start,
            battery=True,
            tank_ul=7_500_000,
            engine=EngineGiven(plate=Plate(model="one cylinder, 11 kW", serial="E 90-3316")),
            plate=Plate(model="side discharge, 97 cm", serial="T-77120"),
            note="The manual lies under the seat, in a bag.",
        ),
        card=(
            ("oil", "10W-30, 1.4 L with filter"),
            ("plug", "gap 0.75 mm, socket 21 mm"),
            ("belt", "deck belt: nail 2 in the shed"),
            ("tyres", "front 1.0 bar, rear 0.8 bar"),
            ("key_hangs", "in the kitchen at the parents'"),
        ),
    )
    story.add(came, features(TRACTOR, _TRACTOR_HAS))
    story.add(came, own_figure(TRACTOR, "E4-02", "run_seconds", 100 * HOUR, "page 31"))
    story.add(came, own_figure(TRACTOR, "RD-03", "run_seconds", 50 * HOUR, "page 36"))


def _tractor_works(story: Chronicle) -> None:
    base = _tractor_shown(story.begun)

    def shown(day: date) -> int:
        return 1184 + _tractor_shown(day) - base

    gone_over = date(story.begun.year, 11, 4)
    look_after(
        story,
        TRACTOR,
        Upkeep(kind="K05", features=_TRACTOR_HAS, left=frozenset({"LA-01"})),
        Year(
            before=(3, 24),
            middle=((6, 12), (8, 10)),
            after=(11, 4),
            off=(1, 25),
            hours_between=25,
            left_off="battery lead off · key to the kitchen · deck down",
            by=TOMAS,
            tenths=shown,
        ),
        since=story.begun,
        going_over=gone_over,
    )
    for day in story.monthly(28, (4, 5, 7, 9, 10)):
        story.add(day, read(TRACTOR, day, shown(day)))
    for count, day in enumerate(story.monthly(25, (1, 3, 6, 11))):
        at_rest = Measured(task="LA-01", limit="L41", amount=12_780 - 20 * count)
        story.add(day, measure(TRACTOR, day, at_rest))
    put_off_on = story.last(6, 13)
    story.add(
        put_off_on,
        fault(TRACTOR, put_off_on, "Left front tyre loses air over a week"),
        name="slow tyre",
    )
    story.add(put_off_on, put_off("slow tyre", put_off_on))
    story.add(
        put_off_on,
        job(
            TRACTOR,
            put_off_on,
            "Seal the left front tyre or fit a tube",
            phase=Phase.OFF,
            minutes=45,
            part="tyre-valve",
            about="slow tyre",
        ),
    )


def _tractor_drinks(story: Chronicle) -> None:
    for day in story.yearly(3, 25):
        story.add(day, drain(TRACTOR, day, note="into the car"), hour=NOON)
        story.add(day, pour(SHED_CAN, TRACTOR, day, 55))
    for month, day_of_month in ((5, 6), (6, 21), (8, 6), (9, 14)):
        for day in story.yearly(month, day_of_month, since=date(story.begun.year + 1, 1, 1)):
            story.add(day, drain(TRACTOR, day, gone=Gone.BURNT), hour=NOON)
            story.add(day, pour(SHED_CAN, TRACTOR, day, 60))
    for day in story.yearly(11, 4):
        story.add(day, treat(TRACTOR, day, 20))


# -- the push mower ---------------------------------------------------------------------------


def _push_comes(story: Chronicle) -> None:
    came = date(story.on.year - 2, 4, 20)
    arrive(
        story,
        PUSH,
        came,
        lambda shed: AddMachine(
            name=PUSH,
            kind="K04",
            place_id=at(shed, PARENTS),
            spot="shed, behind the door",
            came_on=came,
            past=Past.NEW,
            tank_ul=1_000_000,
            plate=Plate(model="46 cm, driven", serial="46-0098123"),
        ),
        card=(("oil", "SAE 30, 0.6 L, by tipping"), ("plug", "gap 0.75 mm, socket 21 mm")),
    )
    story.add(came, features(PUSH, _PUSH_HAS))
    story.add(
        came, paid(came, PaymentSort.BOUGHT, 52_900, machine=PUSH, shop="the mill shop", text="new")
    )


def _push_works(story: Chronicle) -> None:
    came = date(story.on.year - 2, 4, 20)
    look_after(
        story,
        PUSH,
        Upkeep(kind="K04", features=_PUSH_HAS, left=frozenset({"MW-02"})),
        Year(
            before=(3, 30),
            middle=((6, 30), (8, 31)),
            after=(11, 4),
            off=(1, 25),
            hours_between=25,
            left_off="plug lead off, tank dry",
            by=ADA,
        ),
        since=came,
    )
    for place, first in enumerate(story.monthly(6, MOWING, since=came)):
        for later in (0, 14):
            day = first + timedelta(days=later + place % 3)
            story.add(day, used(PUSH, day, 100 - later, count=2))
    for count, day in enumerate(story.yearly(3, 30, since=came)):
        lost = Measured(task="MW-02", limit="L30", amount=2500 + 2800 * count)
        story.add(day, measure(PUSH, day, lost))
    for month, day_of_month in ((5, 7), (6, 22), (8, 7), (9, 13)):
        for day in story.yearly(month, day_of_month, since=came):
            story.add(day, drain(PUSH, day, gone=Gone.BURNT), hour=NOON)
            story.add(day, pour(SHED_CAN, PUSH, day, 8))
    for day in story.yearly(11, 4):
        story.add(day, drain(PUSH, day, gone=Gone.BURNT, note="run dry"), hour=NOON)


# -- the trimmer ------------------------------------------------------------------------------


def _trimmer(story: Chronicle) -> None:
    """Nobody writes down when it was out; once a year the owner says how much it was."""
    came = date(story.on.year - 2, 4, 18)
    arrive(
        story,
        TRIMMER,
        came,
        lambda shed: AddMachine(
            name=TRIMMER,
            kind="K07",
            place_id=at(shed, HOME),
            spot="garage wall, hook 9",
            came_on=came,
            past=Past.NEW,
            tank_ul=500_000,
            plate=Plate(model="bent shaft, 26 cc", serial="LT26-5508"),
        ),
        card=(("fuel", "mix 1:50, blue can"), ("plug", "gap 0.65 mm")),
    )
    story.add(came, features(TRIMMER, _TRIMMER_HAS))
    look_after(
        story,
        TRIMMER,
        Upkeep(kind="K07", features=_TRIMMER_HAS, left=frozenset({"E2-12", "E2-13"})),
        Year(
            before=(4, 12), middle=((7, 5),), after=(10, 20), off=(1, 25), hours_between=10, by=ADA
        ),
        since=came,
    )
    for count, day in enumerate(story.yearly(10, 20, since=came)):
        total = 7 * (count + 1)
        story.add(
            day, reckoned(TRIMMER, day, total, 2, note="As every year, about a tank a month.")
        )
    for day in story.yearly(4, 19, since=came):
        story.add(day, drain(TRIMMER, day, note="stale, to the tip"), hour=NOON)
        story.add(day, pour(MIX_CAN, TRIMMER, day, 4))
    for day in story.yearly(7, 6, since=came):
        story.add(day, level(TRIMMER, day, 1), hour=NOON)
        story.add(day, pour(MIX_CAN, TRIMMER, day, 3))
