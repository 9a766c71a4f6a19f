"""Photos in the machine room: dropped, offered, opened large; what is no picture is said."""

from __future__ import annotations

import os
import sys
from datetime import date, datetime
from pathlib import Path

import pytest
from PIL import Image
from PySide6.QtCore import (
    QBuffer,
    QByteArray,
    QIODevice,
    QMimeData,
    QPoint,
    QPointF,
    QSettings,
    Qt,
    QUrl,
)
from PySide6.QtGui import QColor, QDragEnterEvent, QDropEvent, QImage
from PySide6.QtWidgets import QApplication, QFileDialog
from pytestqt.qtbot import QtBot

from app.machine.view import MachineView
from app.photos.controller import PhotoController
from app.photos.shrink import EDGE, MOST_FILE_BYTES, shrunk, shrunk_file
from app.photos.view import OfferLeaf, PhotoLeaf
from app.photos.watch import WatchedFolder
from app.pieces import look
from models.errors import Refused, RefusedCode
from models.pictures import MOST_PICTURE_BYTES, jpeg_size
from tests.screens.conftest import Shed, put
from tests.screens.test_machine_room import enter, keep


def picture(wide: int, high: int, sort: str = "JPG", colour: str = "#c33") -> bytes:
    image = QImage(wide, high, QImage.Format.Format_RGB32)
    image.fill(QColor(colour))
    for x in range(0, wide, 7):
        image.setPixelColor(x, (x * 13) % high, QColor("black"))
    made = QByteArray()
    buffer = QBuffer(made)
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    assert image.save(buffer, sort, 90)  # type: ignore[call-overload]
    return bytes(made.data())


def turned(jpeg: bytes) -> bytes:
    """The same as a phone writes it that was held upright, with where it was."""
    exif = (
        b"Exif\x00\x00MM\x00\x2a\x00\x00\x00\x08\x00\x01"
        b"\x01\x12\x00\x03\x00\x00\x00\x01\x00\x06\x00\x00\x00\x00\x00\x00"
        b"51 degrees north"
    )
    return jpeg[:2] + b"\xff\xe1" + (len(exif) + 2).to_bytes(2, "big") + exif + jpeg[2:]


def test_a_photo_becomes_small_upright_and_bare():
    made = shrunk(turned(picture(2400, 1200)))
    assert jpeg_size(made) == (EDGE // 2, EDGE)
    assert b"degrees" not in made
    assert b"Exif" not in made
    assert jpeg_size(shrunk(picture(300, 200, "PNG"))) == (300, 200)
    assert len(made) < MOST_PICTURE_BYTES


@pytest.mark.parametrize(
    ("data", "code"),
    [
        (b"", RefusedCode.PHOTO_EMPTY),
        (b"a letter, not a picture" * 20, RefusedCode.PHOTO_NOT_A_PICTURE),
        (picture(800, 600)[:3000], RefusedCode.PHOTO_BROKEN),
        (turned(picture(800, 600))[:3000], RefusedCode.PHOTO_BROKEN),
        (picture(800, 600, "PNG")[:-40], RefusedCode.PHOTO_BROKEN),
        (picture(30_000, 8, "PNG"), RefusedCode.PHOTO_TOO_WIDE),
    ],
)
def test_what_is_no_picture_is_said(data: bytes, code: RefusedCode):
    with pytest.raises(Refused) as refused:
        shrunk(data)
    assert refused.value.code is code


def drop(shed: Shed, room: MachineView, *paths: Path) -> None:
    data = QMimeData()
    data.setUrls([QUrl.fromLocalFile(str(path)) for path in paths])
    held = (Qt.DropAction.CopyAction, data, Qt.MouseButton.LeftButton)
    no_key = Qt.KeyboardModifier.NoModifier
    over = QDragEnterEvent(QPoint(10, 10), *held, no_key)
    QApplication.sendEvent(room, over)
    assert over.isAccepted()
    QApplication.sendEvent(room, QDropEvent(QPointF(10, 10), *held, no_key))
    settled(shed, room)


def settled(shed: Shed, room: MachineView) -> None:
    """Until every picture is in and shown, or said no to."""
    strip = room.photos
    shed.bot.waitUntil(
        lambda: "Taking in" not in strip.note.text() and not strip.bare(), timeout=20_000
    )


@pytest.fixture
def files(tmp_path: Path) -> Path:
    folder = tmp_path / "camera"
    folder.mkdir()
    (folder / "one.jpg").write_bytes(picture(1200, 900))
    (folder / "two.png").write_bytes(picture(400, 700, "PNG", "#3a5"))
    (folder / "letter.jpg").write_bytes(b"no picture at all" * 9)
    return folder


def large(room: MachineView) -> PhotoLeaf:
    return room.window().findChildren(PhotoLeaf)[-1]


def test_pictures_dropped_on_the_room_are_kept(shed: Shed, files: Path):
    room = enter(shed)
    assert "Drop pictures" in room.photos.none.text()
    drop(shed, room, files / "one.jpg", files / "letter.jpg", files / "two.png")
    assert len(room.photos.small) == 2
    assert "letter.jpg: This file is no picture" in room.photos.note.text()
    assert (files / "one.jpg").exists()
    for button in room.photos.small.values():
        assert button.accessibleName()
        assert min(button.width(), button.height()) >= look.TARGET
    shed.window.actions_by_name["undo"].trigger()
    assert len(room.photos.small) == 1


def test_a_file_as_large_as_a_film_is_not_even_read(shed: Shed, files: Path):
    room = enter(shed)
    with (files / "film.jpg").open("wb") as film:
        film.truncate(MOST_FILE_BYTES + 40_000_000)
    drop(shed, room, files / "film.jpg", files / "gone.jpg")
    assert "too large (100 MB; 60 MB at most)" in room.photos.note.text().replace("\u00a0", " ")
    assert "gone.jpg: " in room.photos.note.text()
    assert room.photos.small == {}


def test_a_photo_opens_large_and_keys_lead_to_the_others(shed: Shed, files: Path):
    room = enter(shed)
    drop(shed, room, files / "one.jpg", files / "two.png")
    first, second = room.photos.small
    room.photos.small[first].click()
    leaf = large(room)
    assert leaf.picture.accessibleName()
    assert leaf.photo_id == first
    shed.bot.keyClick(leaf.picture, Qt.Key.Key_Right)
    assert leaf.photo_id == second
    shed.bot.keyClick(leaf.picture, Qt.Key.Key_Right)
    assert leaf.photo_id == second
    shed.bot.keyClick(leaf.picture, Qt.Key.Key_Home)
    assert leaf.photo_id == first
    shed.bot.mouseClick(leaf.buttons["remove"], Qt.MouseButton.LeftButton)
    assert leaf.photo_id == second
    assert list(room.photos.small) == [second]
    leaf.close()


def test_a_photo_is_said_more_of_and_belongs_to_what_is_wrong(shed: Shed, files: Path):
    room = enter(shed)
    room.actWanted.emit("note_fault")
    assert room.form is not None
    put(shed.bot, room.form.widget("text"), "belt squeals")
    assert keep(shed, room) == ""
    drop(shed, room, files / "one.jpg")
    (number,) = room.photos.small
    room.photos.small[number].click()
    shed.bot.mouseClick(large(room).buttons["words"], Qt.MouseButton.LeftButton)
    assert room.form is not None
    put(shed.bot, room.form.widget("text"), "left side")
    put(shed.bot, room.form.widget("subject"), "fault-1")
    assert keep(shed, room) == ""
    said = room.photos.small[number].accessibleName()
    assert "left side" in said
    assert "belt squeals" in said


def test_no_fifth_goes_on_paper(shed: Shed, files: Path):
    room, said, ticked = enter(shed), "", True
    for name in "abcde":
        (files / f"{name}.jpg").write_bytes(picture(100, 100))
    drop(shed, room, *(files / f"{name}.jpg" for name in "abcde"))
    for number in tuple(room.photos.small):
        room.photos.small[number].click()
        leaf = large(room)
        leaf.paper.click()
        said, ticked = leaf.note.text(), leaf.paper.isChecked()
        leaf.close()
        QApplication.processEvents()
    assert "More than 4 photos" in said
    assert not ticked


def test_new_pictures_of_a_watched_folder_are_offered_and_taken_only_with_a_yes(
    shed: Shed, files: Path, monkeypatch: pytest.MonkeyPatch
):
    room = enter(shed)
    strip = room.photos
    monkeypatch.setattr(QFileDialog, "getExistingDirectory", lambda *_: str(files))
    strip.watchWanted.emit()
    shed.bot.waitUntil(lambda: "nothing new" in strip.watched.text(), timeout=20_000)
    assert strip.buttons["offer"].isHidden()
    (files / "three.jpg").write_bytes(picture(500, 500))
    (files / "four.jpg").write_bytes(picture(500, 400))
    shed.bot.waitUntil(lambda: ": 2." in strip.watched.text(), timeout=20_000)
    assert strip.small == {}
    strip.offerWanted.emit()
    leaf = room.window().findChild(OfferLeaf)
    assert leaf is not None
    assert {path.name for path in leaf.ticks} == {"three.jpg", "four.jpg"}
    leaf.keep_button.click()
    assert strip.small == {}
    leaf.ticks[files / "four.jpg"].setChecked(True)
    leaf.keep_button.click()
    settled(shed, room)
    shed.bot.waitUntil(lambda: len(strip.small) == 1, timeout=20_000)
    assert ": 1." in strip.watched.text()
    strip.offerWanted.emit()
    again = room.window().findChildren(OfferLeaf)[-1]
    again.refuse_button.click()
    assert "nothing new" in strip.watched.text()
    assert len(strip.small) == 1
    strip.unwatchWanted.emit()
    assert strip.watched.isHidden()


def test_photos_are_those_of_the_machine_shown(shed: Shed, files: Path):
    room = enter(shed)
    drop(shed, room, files / "one.jpg")
    assert len(room.photos.small) == 1
    room = enter(shed, name="Another")
    assert room.photos.small == {}
    assert room.photos.none.isVisibleTo(room)
    assert room.window().findChildren(PhotoController)


def told(jpeg: bytes, day: str) -> bytes:
    """The same with the day that a camera writes."""
    exif = Image.Exif()
    exif.get_ifd(0x8769)[0x9003] = f"{day} 10:11:12"
    said = exif.tobytes()
    return jpeg[:2] + b"\xff\xe1" + (len(said) + 2).to_bytes(2, "big") + said + jpeg[2:]


def test_the_day_of_a_photo_is_the_cameras_else_the_files(tmp_path: Path):
    path = tmp_path / "seized.jpg"
    path.write_bytes(told(picture(80, 60), "2019:10:31"))
    assert shrunk_file(path).day == date(2019, 10, 31)
    noon = datetime(2024, 2, 29, 12).timestamp()
    for said in (picture(80, 60), told(picture(80, 60), "0000:00:00"), picture(80, 60, "PNG")):
        path.write_bytes(said)
        os.utime(path, (noon, noon))
        assert shrunk_file(path).day == date(2024, 2, 29)


def test_a_picture_with_more_dots_than_its_day_is_read_from_is_kept(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    monkeypatch.setattr(Image, "MAX_IMAGE_PIXELS", 1000)
    path = tmp_path / "large.jpg"
    path.write_bytes(told(picture(80, 60), "2024:05:06"))
    assert jpeg_size(shrunk_file(path).jpeg) == (80, 60)


def test_what_only_looks_like_a_picture_is_refused_at_once(tmp_path: Path):
    (tmp_path / "folder.jpg").mkdir()
    names = ["folder", "drawing"]
    if sys.platform != "win32":
        os.mkfifo(tmp_path / "pipe.jpg")
        names.append("pipe")
    (tmp_path / "drawing.jpg").write_text(
        '<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"><rect width="9"/></svg>'
    )
    for name in names:
        with pytest.raises(Refused) as refused:
            shrunk_file(tmp_path / f"{name}.jpg")
        assert refused.value.code is RefusedCode.PHOTO_NOT_A_PICTURE


def test_whole_pictures_with_odd_but_lawful_ends_are_taken():
    jpeg, png = picture(80, 60), picture(80, 60, "PNG")
    assert jpeg_size(shrunk(jpeg[:2] + b"\xff\xff" + jpeg[2:])) == (80, 60)
    assert jpeg_size(shrunk(png + bytes(300))) == (80, 60)


def test_a_stick_that_is_pulled_out_and_put_back_is_watched_again(
    qtbot: QtBot, qapp: QApplication, tmp_path: Path
):
    stick = tmp_path / "stick"
    stick.mkdir()
    (stick / "old.jpg").write_bytes(b"seen")
    (stick / "nowhere.jpg").symlink_to(tmp_path / "gone")
    (stick / "folder.jpg").mkdir()
    settings = QSettings(str(tmp_path / "kept.ini"), QSettings.Format.IniFormat)
    watched = WatchedFolder(settings, qapp)
    watched.choose(stick)
    qtbot.waitUntil(lambda: watched.is_there is True)
    assert watched.fresh() == ()
    (stick / "new.jpg").write_bytes(b"new")
    qtbot.waitUntil(lambda: watched.fresh() == (stick / "new.jpg",))
    stick.rename(tmp_path / "pocket")
    qtbot.waitUntil(lambda: watched.is_there is False)
    watched.settle((stick / "new.jpg",))
    (tmp_path / "pocket" / "newer.jpg").write_bytes(b"newer")
    (tmp_path / "pocket").rename(stick)
    qtbot.waitUntil(lambda: watched.is_there is True)
    assert {path.name for path in watched.fresh()} == {"new.jpg", "newer.jpg"}
    watched.settle(watched.fresh())
    settings.sync()
    again = WatchedFolder(
        QSettings(str(tmp_path / "kept.ini"), QSettings.Format.IniFormat), watched
    )
    qtbot.waitUntil(lambda: again.is_there is True)
    assert again.fresh() == ()
    (stick / "newest.jpg").write_bytes(b"newest")
    qtbot.waitUntil(lambda: again.fresh() == (stick / "newest.jpg",))
