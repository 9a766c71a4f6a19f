"""Builds the made-up household's file for any day.

Two people took over a shed: some machines are new and looked after, some came with the shed and
are known to nobody. All of it is invented. Everything goes through the acts, in the order of time,
so that the file is what it would be if the two had used the program all along.
"""

from __future__ import annotations

from datetime import date
from pathlib import Path

from models.file import create_household
from sample_db import battery, fuel, house, lawn, ready, rescue, shelf, snow, wood
from sample_db.chronicle import Chronicle, moment_of


def build_sample(path: Path, *, on: date) -> None:
    """Make the file as it stands on that day. The same day gives the same household.

    Raises Trouble when there is such a file already or it cannot be written.
    """
    story = Chronicle(on)
    house.furnish(story)
    for part in (fuel, snow, rescue, lawn, wood, ready, battery, shelf):
        part.tell(story)
    moment = moment_of(story.begun, house.FIRST_THING)
    with create_household(path, name=house.NAME, moment=moment) as household:
        story.enter(household.need_writer())
