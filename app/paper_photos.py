"""The photos that were ticked for paper, with their words; no window."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from app.services import Services
from app.sheets.photos import PaperPhoto
from models.facts.photos import read_paper_pictures
from models.pictures import jpeg_size
from schedules.facts import MachineId


def photos_of(
    services: Services, machines: Sequence[MachineId], *, on: date
) -> dict[MachineId, tuple[PaperPhoto, ...]]:
    """Those of each machine, oldest first. One query a machine. Raises Trouble from the file."""
    with services.household.read() as session:
        found = {
            number: read_paper_pictures(session, machine_id=int(number), on=on)
            for number in machines
        }
    return {
        number: tuple(_photo(*one, services=services) for one in pictures)
        for number, pictures in found.items()
    }


def _photo(text: str, day: date, jpeg: bytes, *, services: Services) -> PaperPhoto:
    wide, high = jpeg_size(jpeg)
    said = " · ".join(part for part in (services.wording.day(day), text) if part)
    return PaperPhoto(jpeg=jpeg, said=said, shape=wide / high)
