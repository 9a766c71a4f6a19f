"""A year of the fuel in the made-up shed: twelve month-ends of twelve cans and tanks, as text.

Kept in `tests/golden/fuel_year.txt`, to be read as somebody would who has kept such a shed for
years; after a change on purpose: pytest --update-golden.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import date, timedelta
from pathlib import Path
from shutil import copyfile

from models.facts.fleet import read_cans, read_fleet
from models.file import open_household
from resources.loader import load_catalogue
from sample_db.chronicle import moment_of
from schedules.facts import VesselFacts, VesselSort
from schedules.fuel import judge_vessel
from schedules.rations import Way, way_out

GOLDEN = Path(__file__).parents[1] / "golden" / "fuel_year.txt"
ON = date(2026, 10, 27)
VESSELS = (
    "Red can A, garage",
    "Red can B, shed",
    "Mix 1:50, blue can",
    "Can by the door",
    "Big thrower",
    "Paddle thrower",
    "Lawn tractor",
    "Push mower",
    "Trimmer",
    "Father's saw",
    "Generator",
    "Pressure washer",
)
WAYS = {
    Way.KEEP: "keep it",
    Way.USE_FIRST: "use it before opening fresh",
    Way.BURN_NOW: "burn it now in a running machine",
    Way.OTHER_ENGINE: "for another engine",
    Way.LOOK: "look and smell first",
    Way.COLLECTION: "take it to the collection",
}


def month_ends() -> Iterator[date]:
    for month in range(10, 22):
        year, index = divmod(month, 12)
        yield date(2025 + year, index + 1, 1) - timedelta(days=1)


def line(vessel: VesselFacts, on: date) -> str:
    verdict = judge_vessel(vessel, on=on)
    if not verdict.volume_ul:
        return f"  {on:%Y-%m-%d}  empty"
    litres = f"{verdict.volume_ul / 10**6:.1f} L"
    lost = verdict.light_ends
    figures = f"gum {float(verdict.gum_index):.2f}"
    figures += " " * 9 if lost is None else f", air {float(lost):.2f}"
    end = verdict.next_band_on
    until = "" if end is None else f", so until {end.isoformat()}"
    return (
        f"  {on:%Y-%m-%d}  {litres}  {verdict.band.value:10}  {verdict.governed_by.value:10}"
        f"  {figures}  {WAYS[way_out(verdict)]}{until}."
    )


def told(path: Path) -> str:
    catalogue = load_catalogue()
    lines: dict[str, list[str]] = {name: [] for name in VESSELS}
    with open_household(path, moment=moment_of(ON), write=False) as household:
        for on in month_ends():
            with household.read() as session:
                cans = read_cans(session, on=on, catalogue=catalogue)
                fleet = read_fleet(session, on=on, catalogue=catalogue)
            found = [*cans, *(vessel for one in fleet for vessel in one.vessels)]
            for vessel in found:
                if vessel.name in lines and vessel.sort is not VesselSort.BOWL:
                    lines[vessel.name].append(line(vessel, on))
    return "\n".join(part for name in VESSELS for part in (name, *lines[name])) + "\n"


def test_a_year_of_fuel_reads_as_it_was_kept(
    tmp_path: Path, made_up: Callable[[date], Path], update_golden: bool
) -> None:
    path = tmp_path / "shed.firstpull"
    copyfile(made_up(ON), path)
    text = told(path)
    if update_golden:
        GOLDEN.write_text(text, encoding="utf-8")
    assert text == GOLDEN.read_text(encoding="utf-8")
