"""Photos: kept, said more of, taken out; what is no picture is refused; corrections lead on."""

from __future__ import annotations

from datetime import date, timedelta
from io import BytesIO

import pytest
from PIL import Image

from models.acts.corrections import StrikeEntry
from models.acts.faults import NoteFault
from models.acts.machines import RemoveMachine
from models.acts.photos import (
    MOST_ON_PAPER,
    AddPhoto,
    ChangePhoto,
    RemovePhoto,
)
from models.acts.readings import Measure, Measured
from models.changes import Area
from models.errors import RefusedCode
from models.facts.photos import Subject, read_paper_pictures, read_photos, read_picture
from models.pictures import MOST_PICTURE_BYTES, jpeg_size
from models.words import PhotoOf
from tests.models.acts.shed import Shed
from tests.models.whole_household import bare_jpeg

PICTURE = bare_jpeg(640, 480)


def with_segment(marker: int, said: bytes) -> bytes:
    """The picture with something more in its head."""
    head = bytes((0xFF, marker)) + (len(said) + 2).to_bytes(2, "big")
    return PICTURE[:2] + head + said + PICTURE[2:]


def photo(shed: Shed, **more: object) -> AddPhoto:
    given: dict[str, object] = {"machine_id": 1, "jpeg": PICTURE, "taken_on": shed.today}
    return AddPhoto(**{**given, **more})  # type: ignore[arg-type]


def shown(shed: Shed):
    with shed.household.read() as session:
        return read_photos(session, machine_id=1, on=shed.today)


def test_a_photo_is_kept_and_comes_back_as_it_was(shed: Shed):
    shed.run(photo(shed, text="  as it came "))
    (found,) = shown(shed)
    assert (found.text, found.taken_on, found.subject) == ("as it came", shed.today, None)
    with shed.household.read() as session:
        assert read_picture(session, found.photo_id) == PICTURE
        assert read_picture(session, 99) is None
    shed.run(RemovePhoto(photo_id=found.photo_id))
    assert shown(shed) == ()
    shed.household.need_writer().undo(moment=shed.moment)
    with shed.household.read() as session:
        assert read_picture(session, found.photo_id) == PICTURE


@pytest.mark.parametrize(
    "jpeg",
    [
        b"",
        b"\x89PNG\r\n\x1a\n" + bytes(200),
        PICTURE[:-1],
        PICTURE[:60],
        bare_jpeg(0, 10),
        bare_jpeg(30_000, 10),
        b"\xff\xd8\xff\xe1\x00\x20Exif\x00\x00" + bytes(200) + b"\xff\xd9",
        b"\xff\xd8\xff" + bytes(200) + b"\xff\xd9",
        PICTURE + b"\x00 the key is under the mat" + b"\xff\xd9",
        with_segment(0xFE, b"51 degrees north"),
        with_segment(0xEF, b"51 degrees north"),
        with_segment(0xEE, b"51 degrees north"),
        with_segment(0xE0, b"JFIF\x00\x01\x02\x00\x00\x01\x00\x01\x02\x02" + bytes(12)),
    ],
)
def test_what_is_no_bare_picture_is_refused(standing: Shed, jpeg: bytes):
    standing.refuses(photo(standing, jpeg=jpeg), RefusedCode.PHOTO_NOT_A_PICTURE)


def test_a_picture_may_be_so_large_and_no_larger(standing: Shed):
    large = bare_jpeg(9, 9, MOST_PICTURE_BYTES)
    standing.refuses(photo(standing, jpeg=large), RefusedCode.PHOTO_TOO_LARGE)


def test_all_of_them_stay_within_what_can_be_taken_in(shed: Shed, monkeypatch: pytest.MonkeyPatch):
    shed.run(photo(shed))
    monkeypatch.setattr("models.acts.photos.MOST_PICTURES_BYTES", 2 * len(PICTURE) - 1)
    shed.refuses(photo(shed), RefusedCode.PHOTOS_FULL)


def test_a_photo_belongs_to_one_entry_of_its_machine(shed: Shed):
    fault = shed.run(NoteFault(machine_id=1, text="leaks", since_on=shed.today))
    number = next(one for area, one in fault.ids if area is Area.FAULTS)
    subject = Subject(of=PhotoOf.FAULT, entry_id=number)
    shed.run(photo(shed, subject=subject))
    assert shown(shed)[0].subject == subject
    other = shed.add_machine(name="Another")
    shed.refuses(photo(shed, machine_id=other, subject=subject), RefusedCode.NOT_THERE)
    shed.run(ChangePhoto(photo_id=1, subject=None))
    assert shown(shed)[0].subject is None


def test_a_photo_goes_with_the_correction_of_its_entry(shed: Shed):
    measure = Measure(
        machine_id=1,
        day=shed.today,
        measured=Measured(task="S2-10", limit="L13", amount=9000),
    )
    made = shed.run(measure)
    number = next(one for area, one in made.ids if area is Area.READINGS)
    shed.run(photo(shed, subject=Subject(of=PhotoOf.READING, entry_id=number)))
    shed.run(StrikeEntry(area=Area.READINGS, entry_id=number))
    (found,) = shown(shed)
    assert found.subject == Subject(of=PhotoOf.READING, entry_id=number)


def test_words_of_a_photo_change_and_the_step_carries_no_picture(shed: Shed):
    shed.run(photo(shed))
    shed.run(ChangePhoto(photo_id=1, text="left side", taken_on=date(2019, 5, 1)))
    (found,) = shown(shed)
    assert (found.text, found.taken_on) == ("left side", date(2019, 5, 1))
    shed.refuses(ChangePhoto(photo_id=1, text="left side"), RefusedCode.NOTHING_CHANGED)
    shed.refuses(
        ChangePhoto(photo_id=1, taken_on=shed.today + timedelta(days=1)), RefusedCode.DAY_AHEAD
    )
    shed.refuses(ChangePhoto(photo_id=7, text="x"), RefusedCode.NOT_THERE)
    shed.refuses(ChangePhoto(photo_id=1, text="x" * 201), RefusedCode.TOO_LONG)


def test_four_go_on_paper_and_no_fifth(shed: Shed):
    for number in range(MOST_ON_PAPER):
        shed.run(photo(shed, on_paper=True, text=str(number)))
    shed.refuses(photo(shed, on_paper=True), RefusedCode.PHOTOS_ON_PAPER)
    shed.run(photo(shed))
    shed.refuses(ChangePhoto(photo_id=5, on_paper=True), RefusedCode.PHOTOS_ON_PAPER)
    with shed.household.read() as session:
        found = read_paper_pictures(session, machine_id=1, on=shed.today)
    assert [text for text, _, _ in found] == ["0", "1", "2", "3"]


def test_a_machine_with_a_photo_has_a_past(shed: Shed):
    shed.run(photo(shed))
    shed.refuses(RemoveMachine(machine_id=1), RefusedCode.HAS_RECORDS)


def test_the_size_is_read_from_the_picture():
    assert jpeg_size(PICTURE) == (640, 480)


@pytest.mark.parametrize("progressive", [False, True])
def test_the_size_of_whole_pictures_is_what_another_library_says(progressive: bool):
    drawn = Image.effect_noise((301, 77), 90).convert("RGB")
    made = BytesIO()
    drawn.save(made, "JPEG", progressive=progressive, restart_marker_blocks=3)
    with Image.open(BytesIO(made.getvalue())) as again:
        assert jpeg_size(made.getvalue()) == again.size == (301, 77)
    for cut in (1, 2, 3, 400):
        with pytest.raises(ValueError, match=r"marker|breaks off"):
            jpeg_size(made.getvalue()[:-cut])
