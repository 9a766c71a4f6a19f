"""Photos of a machine as they are shown: words first, pictures fetched one by one."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from models.tables.photos import PhotoPictureRow, PhotoRow
from models.tables.work import LimitReadingRow, WorkRow
from models.words import PhotoOf


@dataclass(frozen=True, slots=True, kw_only=True)
class Subject:
    """One entry that a photo belongs to: its sort and its id."""

    of: PhotoOf
    entry_id: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Photo:
    """What is said of one photo. `subject`: the entry it belongs to, as it stands now; None: the
    machine as a whole."""

    photo_id: int
    machine_id: int
    taken_on: date
    text: str
    on_paper: bool
    added_by: str
    subject: Subject | None


def read_photos(session: Session, *, machine_id: int, on: date) -> tuple[Photo, ...]:
    """Taken up to the day, newest first; no picture is touched.

    One query, and one for each turn of corrections of what they belong to.
    """
    rows = session.scalars(
        select(PhotoRow)
        .where(PhotoRow.machine_id == machine_id, PhotoRow.taken_on <= on)
        .order_by(PhotoRow.taken_on.desc(), PhotoRow.id.desc())
    ).all()
    work = _as_corrected(session, WorkRow, {row.work_id for row in rows} - {None})
    readings = _as_corrected(
        session, LimitReadingRow, {row.limit_reading_id for row in rows} - {None}
    )
    return tuple(
        Photo(
            photo_id=row.id,
            machine_id=row.machine_id,
            taken_on=row.taken_on,
            text=row.text,
            on_paper=row.on_paper,
            added_by=row.added_by,
            subject=_subject(row, work, readings),
        )
        for row in rows
    )


def read_picture(session: Session, photo_id: int) -> bytes | None:
    """The picture of one photo; None when it is not there any more."""
    return session.scalar(select(PhotoPictureRow.jpeg).where(PhotoPictureRow.photo_id == photo_id))


def read_paper_pictures(
    session: Session, *, machine_id: int, on: date
) -> tuple[tuple[str, date, bytes], ...]:
    """Text, day and picture of the photos that go on paper, oldest first."""
    found = session.execute(
        select(PhotoRow.text, PhotoRow.taken_on, PhotoPictureRow.jpeg)
        .join(PhotoPictureRow, PhotoPictureRow.photo_id == PhotoRow.id)
        .where(
            PhotoRow.machine_id == machine_id,
            PhotoRow.on_paper.is_(True),
            PhotoRow.taken_on <= on,
        )
        .order_by(PhotoRow.taken_on, PhotoRow.id)
    )
    return tuple((text, day, jpeg) for text, day, jpeg in found)


def _subject(row: PhotoRow, work: Mapping[int, int], readings: Mapping[int, int]) -> Subject | None:
    if row.work_id is not None:
        return Subject(of=PhotoOf.WORK, entry_id=work[row.work_id])
    if row.limit_reading_id is not None:
        return Subject(of=PhotoOf.READING, entry_id=readings[row.limit_reading_id])
    if row.fault_id is not None:
        return Subject(of=PhotoOf.FAULT, entry_id=row.fault_id)
    return None


def _as_corrected(session: Session, table: type[Any], wanted: Collection[Any]) -> dict[int, int]:
    """Each entry's id to that of the correction that stands in its place, or its own."""
    now = {int(number): int(number) for number in wanted}
    asked = set(now)
    while asked:
        found = session.execute(
            select(table.corrects_id, table.id).where(
                table.corrects_id.in_(sorted(asked)), table.struck.is_(False)
            )
        ).all()
        later = {int(old): int(new) for old, new in found}
        now = {first: later.get(last, last) for first, last in now.items()}
        asked = set(later.values())
    return now
