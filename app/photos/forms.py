"""What is said of a photo: a line of text, the day, and what it belongs to."""

from __future__ import annotations

from collections.abc import Mapping

from app.entry.questions import Questions, Wish
from app.fleet.state import RecordLine
from app.pieces.asked import choice, day, text
from app.pieces.form import FieldSort
from app.wording.languages import msg
from app.wording.wording import Wording
from models.acts.photos import ChangePhoto
from models.changes import Area
from models.facts.photos import Photo, Subject
from models.words import PhotoOf
from schedules.plan import Judging

MOST_SUBJECTS = 60
_AREAS = {str(Area.WORK): PhotoOf.WORK, str(Area.READINGS): PhotoOf.READING}


def words_of(
    photo: Photo, judging: Judging, records: tuple[RecordLine, ...], words: Wording
) -> Wish:
    """The form of one photo."""
    ask = Questions(words)
    chosen = "" if photo.subject is None else f"{photo.subject.of}-{photo.subject.entry_id}"
    choices = [("", words.text(msg("the machine as a whole")))]
    choices += [
        (f"{PhotoOf.FAULT}-{fault.fault_id}", f"{words.day(fault.since)}: {fault.text}")
        for fault in judging.facts.faults
    ]
    entries = [
        (f"{_AREAS[line.area]}-{line.entry_id}", f"{line.day_text}: {line.text}")
        for line in records
        if line.area in _AREAS and not line.struck
    ]
    choices += entries[:MOST_SUBJECTS]
    if chosen not in {value for value, _ in choices}:
        choices.append((chosen, words.text(msg("what it belonged to until now"))))
    page = ask.page(
        "photo",
        msg("What this photo shows"),
        (
            ask.field("text", msg("In a line"), FieldSort.TEXT, default=photo.text),
            ask.day(photo.taken_on),
            ask.field(
                "subject",
                msg("What it belongs to"),
                FieldSort.CHOICE,
                choices=tuple(choices),
                default=chosen,
            ),
        ),
    )

    def make(answers: Mapping[str, object]) -> ChangePhoto:
        of, _, number = choice(answers, "subject").partition("-")
        return ChangePhoto(
            photo_id=photo.photo_id,
            taken_on=day(answers, "day"),
            text=text(answers, "text"),
            subject=Subject(of=PhotoOf(of), entry_id=int(number)) if number else None,
        )

    return Wish(page, make)
