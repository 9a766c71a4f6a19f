"""Photos of a machine: added, said more of, taken out again.

The picture comes shrunk and bare; here it is only looked at whether it is one. A photo is no
entry: it proves nothing that is computed, and whoever wants it gone takes it out.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Any

from sqlalchemy import delete, func, select
from sqlalchemy.orm import Session

from models.acts.entry import hand
from models.acts.keep import KEEP, Keep, as_it_is, kept, refuse_unchanged
from models.acts.report import report
from models.acts.rows import Machine, machine_of, machines_of, row_of
from models.changes import ActCode, Area, Changes
from models.errors import Refused, RefusedCode
from models.facts.photos import Subject
from models.fields import day as checked_day
from models.fields import plain_text
from models.moment import Moment
from models.pictures import (
    LEAST_PICTURE_BYTES,
    MOST_PICTURE_BYTES,
    MOST_PICTURES_BYTES,
    jpeg_size,
)
from models.tables.photos import PhotoPictureRow, PhotoRow
from models.tables.work import FaultRow, LimitReadingRow, WorkRow
from models.words import PhotoOf

MOST_ON_PAPER = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class AddPhoto:
    """A picture of the machine on a day; `subject`: the entry it shows."""

    machine_id: int
    jpeg: bytes
    taken_on: date
    text: str = ""
    subject: Subject | None = None
    on_paper: bool = False

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused PHOTO_NOT_A_PICTURE, PHOTO_TOO_LARGE, PHOTOS_FULL, PHOTOS_ON_PAPER."""
        machine = machine_of(session, self.machine_id)
        _checked(self.jpeg)
        refuse_full(session, len(self.jpeg))
        row = PhotoRow(
            machine_id=machine.number,
            taken_on=checked_day("day", self.taken_on, today=moment.today),
            text=plain_text("text", self.text),
            on_paper=self.on_paper,
            added_by=hand(session),
            **_links(session, machine, self.subject),
        )
        session.add(row)
        session.flush()
        session.add(PhotoPictureRow(photo_id=row.id, jpeg=self.jpeg))
        session.flush()
        _refuse_many_on_paper(session, machine)
        return _report(ActCode.ADD_PHOTO, row, machine)


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangePhoto:
    """Change what is said of a photo; `subject` None: of the machine as a whole."""

    photo_id: int
    taken_on: date | Keep = KEEP
    text: str | Keep = KEEP
    subject: Subject | Keep | None = KEEP
    on_paper: bool | Keep = KEEP

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused."""
        row = row_of(session, PhotoRow, self.photo_id, "photo")
        machine = machine_of(session, row.machine_id)
        before = as_it_is(row)
        row.taken_on = checked_day("day", kept(self.taken_on, row.taken_on), today=moment.today)
        row.text = plain_text("text", kept(self.text, row.text))
        row.on_paper = kept(self.on_paper, row.on_paper)
        if not isinstance(self.subject, Keep):
            for name, number in _links(session, machine, self.subject).items():
                setattr(row, name, number)
        refuse_unchanged(row, before)
        session.flush()
        _refuse_many_on_paper(session, machine)
        return _report(ActCode.CHANGE_PHOTO, row, machine)


@dataclass(frozen=True, slots=True, kw_only=True)
class RemovePhoto:
    """Take a photo out; undo brings it back, picture and all."""

    photo_id: int

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused."""
        row = row_of(session, PhotoRow, self.photo_id, "photo")
        machine = machine_of(session, row.machine_id)
        session.execute(delete(PhotoPictureRow).where(PhotoPictureRow.photo_id == row.id))
        session.delete(row)
        session.flush()
        return _report(ActCode.REMOVE_PHOTO, row, machine)


def refuse_full(session: Session, more_bytes: int) -> None:
    """Raises Refused PHOTOS_FULL when all pictures together would be more than an export that
    can be taken in again holds."""
    held = session.scalar(select(func.sum(func.length(PhotoPictureRow.jpeg)))) or 0
    if held + more_bytes > MOST_PICTURES_BYTES:
        raise Refused(
            RefusedCode.PHOTOS_FULL, bytes=int(held) + more_bytes, most=MOST_PICTURES_BYTES
        )


def _checked(jpeg: bytes) -> None:
    if len(jpeg) > MOST_PICTURE_BYTES:
        raise Refused(RefusedCode.PHOTO_TOO_LARGE, bytes=len(jpeg), most=MOST_PICTURE_BYTES)
    if len(jpeg) < LEAST_PICTURE_BYTES:
        raise Refused(RefusedCode.PHOTO_NOT_A_PICTURE)
    try:
        jpeg_size(jpeg)
    except ValueError:
        raise Refused(RefusedCode.PHOTO_NOT_A_PICTURE) from None


def _links(session: Session, machine: Machine, subject: Subject | None) -> dict[str, Any]:
    links: dict[str, Any] = {"work_id": None, "limit_reading_id": None, "fault_id": None}
    if subject is None:
        return links
    number = subject.entry_id
    if subject.of is PhotoOf.READING:
        reading = row_of(session, LimitReadingRow, number, "reading")
        whose = machines_of(session, [reading.item_id])
        name = "limit_reading_id"
    elif subject.of is PhotoOf.WORK:
        whose = [row_of(session, WorkRow, number, "work").machine_id]
        name = "work_id"
    else:
        whose = [row_of(session, FaultRow, number, "fault").machine_id]
        name = "fault_id"
    if machine.number not in whose:
        raise Refused(RefusedCode.NOT_THERE, what=str(subject.of), id=number)
    return {**links, name: number}


def _refuse_many_on_paper(session: Session, machine: Machine) -> None:
    chosen = select(func.count(PhotoRow.id)).where(
        PhotoRow.machine_id == machine.number, PhotoRow.on_paper.is_(True)
    )
    if (session.scalar(chosen) or 0) > MOST_ON_PAPER:
        raise Refused(RefusedCode.PHOTOS_ON_PAPER, most=MOST_ON_PAPER)


def _report(code: ActCode, row: PhotoRow, machine: Machine) -> Changes:
    touched = ((Area.PHOTOS, row.id), (Area.MACHINES, machine.number))
    return report(code, *touched, name=machine.name)
