"""The father's saw, which works, and two machines that came along and do not: tiller, splitter."""

from __future__ import annotations

from datetime import date

from models.acts.machines import AddMachine, FuelLeft
from models.acts.plate import Plate
from models.acts.readings import Measured
from models.words import LineOutcome
from sample_db.chronicle import Chronicle
from sample_db.deeds import (
    drain,
    fault,
    features,
    fill,
    job,
    line,
    look_at,
    put_away,
    used,
    work,
)
from sample_db.house import HOME, PARENTS, TOMAS, arrive, at
from sample_db.upkeep import Upkeep, Year, look_after
from schedules.facts import FuelSort, Gone, Look, Past

SAW, TILLER, SPLITTER = "Father's saw", "Tiller", "Log splitter"
NOON = 12
_SAW_HAS = {"primer-bulb": "no", "compression-release": "no", "nose-hole": "yes"}


def tell(story: Chronicle) -> None:
    """All three, from the day the shed was taken over."""
    _saw_comes(story)
    _saw_works(story)
    _tiller(story)
    _splitter_comes(story)
    _splitter_is_tried(story)


def _saw_comes(story: Chronicle) -> None:
    came = story.begun
    arrive(
        story,
        SAW,
        came,
        lambda shed: AddMachine(
            name=SAW,
            kind="K09",
            place_id=at(shed, HOME),
            spot="garage, top shelf",
            came_on=came,
            past=Past.UNKNOWN,
            tank_ul=400_000,
            fuel_left=FuelLeft.NO,
            last_ran_on=came,
            plate=Plate(model="bar 40 cm, 50 cc", serial="S 4-1180"),
            note="He filed it himself, by eye, and well.",
        ),
        card=(
            ("fuel", "bottled mix 1:50; chain oil, grey can"),
            ("plug", "gap 0.5 mm, socket 19 mm"),
        ),
    )
    story.add(came, features(SAW, _SAW_HAS))


def _saw_works(story: Chronicle) -> None:
    look_after(
        story,
        SAW,
        Upkeep(kind="K09", features=_SAW_HAS),
        Year(
            before=(9, 24),
            middle=((1, 9),),
            after=(4, 3),
            off=(7, 12),
            hours_between=10,
            left_off="chain guard on, both tanks empty",
            by=TOMAS,
        ),
        since=story.begun,
        going_over=date(story.begun.year, 9, 24),
    )
    for place, day in enumerate(story.monthly(17, (10, 11, 12, 1, 2, 3))):
        story.add(day, used(SAW, day, 90, count=3))
        if place % 2:
            done = [line("CS-02"), *(line(task) for task in ("CS-03", "CS-04") if place % 4 == 3)]
            left = Measured(task="CS-17", limit="L37", amount=max(4300, 7200 - 160 * place))
            story.add(day, work(SAW, day, done, measured=[left], minutes=20, by=TOMAS))
    for day in story.monthly(5, (10, 1)):
        story.add(day, drain(SAW, day, gone=Gone.BURNT), hour=NOON)
        bottle = fill(SAW, day, 3, FuelSort.PREMIX_ALKYLATE, oil_ratio=50, note="from the bottle")
        story.add(day, bottle)


def _tiller(story: Chronicle) -> None:
    """Nobody got round to it yet: everything about it is unknown."""
    came = story.begun
    arrive(
        story,
        TILLER,
        came,
        lambda shed: AddMachine(
            name=TILLER,
            kind="K13",
            place_id=at(shed, PARENTS),
            spot="shed, back corner, under a sheet",
            came_on=came,
            past=Past.UNKNOWN,
            tank_ul=3_000_000,
            fuel_left=FuelLeft.DONT_KNOW,
            plate=Plate(model="rear tines", serial="cannot be read"),
            note="Mother says it ran when it was parked, about six years ago.",
        ),
    )
    story.add(came, put_away(TILLER, came, off="as it was found"))
    looked = story.last(5, 6)
    story.add(
        looked, look_at(TILLER, looked, Look.SOUR_OR_DARK, note="Brown, smells of old paint.")
    )
    story.add(looked, job(TILLER, looked, "Look for a nest before anybody pulls it", minutes=10))
    story.add(
        looked,
        job(TILLER, looked, "Oil into the cylinder, leave it two days, turn by hand", minutes=15),
    )


def _splitter_comes(story: Chronicle) -> None:
    came = story.begun
    arrive(
        story,
        SPLITTER,
        came,
        lambda shed: AddMachine(
            name=SPLITTER,
            kind="K16",
            place_id=at(shed, PARENTS),
            spot="under the eaves",
            came_on=came,
            past=Past.UNKNOWN,
            tank_ul=4_000_000,
            fuel_left=FuelLeft.YES,
            plate=Plate(model="upright, 7 t", serial="LS-3071"),
        ),
    )
    story.add(came, put_away(SPLITTER, came, off="as it was found"))


def _splitter_is_tried(story: Chronicle) -> None:
    """It does not start: out of order."""
    tried = story.last(3, 28)
    story.add(
        tried,
        fault(
            SPLITTER,
            tried,
            "Does not start: spark is there, no fuel comes out of the bowl",
            stops_use=True,
            note="Fires once when a spoon of petrol goes into the cylinder, then dies.",
        ),
        name="no start",
    )
    tasks = [
        line("E4-23", note="An old nest under the shroud, wetted down and taken out."),
        line("E4-17", LineOutcome.NOT_DONE, note="Rust flakes at the bottom. Next time."),
    ]
    story.add(tried, work(SPLITTER, tried, tasks, minutes=50, by=TOMAS))
    story.add(
        tried, look_at(SPLITTER, tried, Look.LAYERS, note="Water under the petrol, in a jar.")
    )
    story.add(
        tried,
        job(
            SPLITTER,
            tried,
            "Clean the carburettor: main jet and needle",
            due=tried.replace(month=9, day=10),
            minutes=90,
            about="no start",
        ),
    )
    story.add(
        tried,
        job(
            SPLITTER,
            tried,
            "Photograph springs and links before anything comes off",
            minutes=5,
            about="no start",
        ),
    )
