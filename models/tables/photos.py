"""Photos of machines: what is said of each, and apart from it the picture itself.

The picture stands in a table of its own, so that neither a list of photos nor the undo step of a
changed word ever carries it.
"""

from __future__ import annotations

from datetime import date, datetime
from typing import ClassVar

from sqlalchemy.orm import Mapped

from models.pictures import JPEG_BEGINS, LEAST_PICTURE_BYTES, MOST_PICTURE_BYTES
from models.tables.base import Base, Guards, day, instant, link, picture, plain_text, yes


class PhotoRow(Base):
    """A photo of a machine. It may belong to one entry: work done, a measurement, or what was
    wrong. `on_paper`: it is printed for whoever reads the machine's record or buys it."""

    __tablename__ = "photo"
    guards: ClassVar[Guards] = (
        (
            "of_one",
            "(work_id IS NOT NULL) + (limit_reading_id IS NOT NULL) + (fault_id IS NOT NULL) <= 1",
        ),
    )

    machine_id: Mapped[int] = link("machine", "RESTRICT")
    work_id: Mapped[int | None] = link("work", "RESTRICT", null=True)
    limit_reading_id: Mapped[int | None] = link("limit_reading", "RESTRICT", null=True)
    fault_id: Mapped[int | None] = link("fault", "RESTRICT", null=True)
    taken_on: Mapped[date] = day()
    text: Mapped[str] = plain_text()
    on_paper: Mapped[bool] = yes()
    added_at: Mapped[datetime] = instant()
    added_by: Mapped[str] = plain_text()


class PhotoPictureRow(Base):
    """The picture of a photo: a JPEG."""

    __tablename__ = "photo_picture"

    photo_id: Mapped[int] = link("photo", "CASCADE", unique=True)
    jpeg: Mapped[bytes] = picture(LEAST_PICTURE_BYTES, MOST_PICTURE_BYTES, JPEG_BEGINS)
