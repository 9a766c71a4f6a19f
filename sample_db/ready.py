"""The generator that has to start when the lights go out, and the washer whose hose bulges."""

from __future__ import annotations

from datetime import date

from models.acts.machines import AddMachine
from models.acts.plate import Plate
from models.acts.readings import Measured
from models.words import PaymentSort
from sample_db.chronicle import Chronicle
from sample_db.deeds import (
    drain,
    duties,
    fault,
    features,
    fill,
    job,
    line,
    measure,
    paid,
    used,
    work,
)
from sample_db.house import ADA, HOME, TOMAS, arrive, at
from sample_db.upkeep import Upkeep, Year, look_after, minutes
from schedules.facts import FuelSort, Gone, Past, Phase

GENERATOR, WASHER = "Generator", "Pressure washer"
NOON = 12
_GENERATOR_HAS = {
    "fuel-valve": "yes",
    "bowl-drain": "reachable",
    "air-filter": "foam",
    "oil-drain": "plug",
    "oil-filter": "no",
    "fuel-filter": "yes",
    "tank": "steel",
    "starter": "cord",
}
_WASHER_HAS = {
    "fuel-valve": "yes",
    "bowl-drain": "reachable",
    "air-filter": "foam",
    "oil-drain": "plug",
    "oil-filter": "no",
    "fuel-filter": "no",
    "tank": "plastic",
    "starter": "cord",
    "power": "petrol",
    "pump-oil": "sealed",
}


def tell(story: Chronicle) -> None:
    """Both, from the day each came."""
    _generator_comes(story)
    _generator_kept_ready(story)
    _washer(story)


def _generator_comes(story: Chronicle) -> None:
    came = date(story.begun.year, 9, 21)
    arrive(
        story,
        GENERATOR,
        came,
        lambda shed: AddMachine(
            name=GENERATOR,
            kind="K15",
            place_id=at(shed, HOME),
            spot="lean-to, on its trolley",
            came_on=came,
            past=Past.NEW,
            shown_seconds=0,
            tank_ul=12_000_000,
            plate=Plate(model="3 kW, open frame", serial="G3-004417"),
        ),
        card=(
            ("oil", "10W-30, 0.6 L"),
            ("fuel", "fresh and treated, changed each quarter"),
            ("cord_hangs", "orange, behind it"),
            ("ring", "Tomas, whoever is there"),
        ),
    )
    story.add(came, features(GENERATOR, _GENERATOR_HAS))
    story.add(came, duties(GENERATOR, "outage"))
    story.add(came, paid(came, PaymentSort.BOUGHT, 79_900, machine=GENERATOR, shop="by post"))
    story.add(came, fill(GENERATOR, came, 60, FuelSort.E5, stabilised=True))


def _generator_kept_ready(story: Chronicle) -> None:
    """Run each month, gone through each September, fuel changed each quarter."""
    upkeep = Upkeep(kind="K15", features=_GENERATOR_HAS)
    came = date(story.begun.year, 9, 21)
    tenths = 0
    monthly = [line("GN-01"), line("GN-02"), line("GN-06")]
    for day in story.monthly(6, since=came):
        tenths += 5
        story.add(day, work(GENERATOR, day, monthly, minutes=40, tenths=tenths, by=ADA))
    for day in story.yearly(9, 10, since=came):
        lines = upkeep.at(Phase.BEFORE, Phase.END, year=day.year, besides={"GN-04"})
        spent = minutes(lines, "K15")
        story.add(
            day, work(GENERATOR, day, lines, minutes=spent, by=TOMAS, note="The yearly round.")
        )
    for day in story.monthly(7, (3, 6, 9, 12), since=came):
        story.add(day, drain(GENERATOR, day, note="into the car"), hour=NOON)
        story.add(day, fill(GENERATOR, day, 60, FuelSort.E5, stabilised=True, cents=1020))


def _washer(story: Chronicle) -> None:
    came = date(story.on.year - 2, 5, 2)
    arrive(
        story,
        WASHER,
        came,
        lambda shed: AddMachine(
            name=WASHER,
            kind="K14",
            place_id=at(shed, HOME),
            spot="garage, right",
            came_on=came,
            past=Past.NEW,
            tank_ul=2_500_000,
            plate=Plate(model="petrol, 180 bar", serial="PW180-2291"),
        ),
        card=(("oil", "10W-30, 0.5 L"), ("plug", "gap 0.75 mm")),
    )
    story.add(came, features(WASHER, _WASHER_HAS))
    look_after(
        story,
        WASHER,
        Upkeep(kind="K14", features=_WASHER_HAS, left=frozenset({"PW-03"})),
        Year(before=(3, 12), middle=((7, 18),), after=(11, 8), by=TOMAS),
        since=came,
    )
    for day in story.monthly(16, (4, 6, 8), since=came):
        story.add(day, used(WASHER, day, 75))
    for count, day in enumerate(story.yearly(3, 12, since=came)):
        lost = Measured(task="PW-03", limit="L51", amount=30 + 25 * count)
        story.add(day, measure(WASHER, day, lost))
    for day in story.yearly(4, 15, since=came):
        story.add(day, fill(WASHER, day, 20, FuelSort.E5))
    for day in story.yearly(11, 8, since=came):
        story.add(day, drain(WASHER, day, gone=Gone.BURNT, note="run dry, water on"), hour=NOON)
    seen = story.ago(12)
    story.add(
        seen,
        fault(WASHER, seen, "High-pressure hose bulges near the gun", stops_use=True),
        name="hose",
    )
    story.add(
        seen,
        job(
            WASHER,
            seen,
            "Fit a new high-pressure hose",
            waits_for="the hose, ordered",
            minutes=15,
            part="high-pressure-hose",
            about="hose",
        ),
    )
