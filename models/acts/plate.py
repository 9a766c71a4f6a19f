"""A type plate as it reads, on its way in."""

from __future__ import annotations

from dataclasses import dataclass, fields

from models.fields import plain_text
from models.tables.machines import ItemRow


@dataclass(frozen=True, slots=True, kw_only=True)
class Plate:
    """What stands on a type plate; empty where nothing can be read."""

    maker: str = ""
    model: str = ""
    type: str = ""
    serial: str = ""
    code: str = ""
    built: str = ""


NOTHING_READ = Plate()


def put_plate(item: ItemRow, plate: Plate) -> None:
    """Put what the plate says into the row. Raises Refused."""
    for field in fields(Plate):
        name = f"plate_{field.name}"
        text = plain_text(name, getattr(plate, field.name))
        if getattr(item, name) != text:
            setattr(item, name, text)
