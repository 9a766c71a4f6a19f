"""The photos of the machine that is shown: dropped, picked, offered from a watched folder."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QObject, QSettings, QTimer, SignalInstance
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QFileDialog

from app.entry.desk import Desk
from app.fleet.state import RecordLine
from app.hub import Hub
from app.photos.forms import words_of
from app.photos.labels import photo_labels
from app.photos.shrink import Shrunk, picture_bytes, shrunk_file, small
from app.photos.state import PhotoCard, PhotosState
from app.photos.view import OFFER_PX, SMALL_PX, OfferLeaf, PhotoLeaf, PhotoStrip
from app.photos.watch import WatchedFolder
from app.pieces import look
from app.wording.languages import msg
from app.wording.wording import Wording
from app.worker import Worker
from models.acts.photos import AddPhoto, ChangePhoto, RemovePhoto
from models.errors import Refused, Trouble
from models.facts.photos import Photo, read_photos, read_picture
from models.writer import Act
from schedules.plan import Judging

MOST_AT_ONCE = 40
MOST_SAID = 3


class PhotoController(QObject):
    """Keeps the strip in step with one machine; pictures are shrunk beside the window's work."""

    def __init__(
        self,
        *,
        hub: Hub,
        strip: PhotoStrip,
        words: Wording,
        desk: Desk,
        settings: QSettings,
        parent: QObject,
    ) -> None:
        super().__init__(parent)
        self._hub = hub
        self._strip = strip
        self._words = words
        self._desk = desk
        self._labels = photo_labels(words)
        self._watched = WatchedFolder(settings, self)
        self._photos: tuple[Photo, ...] = ()
        self._cards: tuple[PhotoCard, ...] = ()
        self._judging: Judging | None = None
        self._records: tuple[RecordLine, ...] = ()
        self._leaf: PhotoLeaf | None = None
        self._taking: Worker | None = None
        self._waiting: list[tuple[int, tuple[Path, ...]]] = []  # for which machine
        self._unreadable: set[int] = set()
        self._left = False
        strip.speak(self._labels)
        strip.say("")
        for signal, slot in self._joined():
            signal.connect(slot)
        self._watched.changed.connect(self._show)

    def _joined(self) -> tuple[tuple[SignalInstance, Callable[..., None]], ...]:
        strip = self._strip
        return (
            (strip.addWanted, self._pick),
            (strip.dropped, self.take),
            (strip.openWanted, self.open),
            (strip.watchWanted, self._watch),
            (strip.unwatchWanted, self._unwatch),
            (strip.offerWanted, self._offer),
        )

    # -- showing -------------------------------------------------------------------------------

    def show(self, judging: Judging, records: tuple[RecordLine, ...]) -> None:
        """Show the photos of this machine. Raises Trouble."""
        other = self._judging is None or (
            self._judging.facts.machine_id != judging.facts.machine_id
        )
        self._judging, self._records = judging, records
        with self._hub.read() as session:
            self._photos = read_photos(
                session, machine_id=judging.facts.machine_id, on=self._hub.moment().today
            )
        if other:
            self._strip.say("")
            self._unreadable.clear()
            self._watched.look()
        self._show()

    def _show(self) -> None:
        if self._judging is None:
            return
        self._cards = tuple(self._card(photo) for photo in self._photos)
        fresh = len(self._watched.fresh())
        self._strip.show_photos(
            PhotosState(
                photos=self._cards,
                watched=self._watched_said(fresh),
                fresh=fresh,
                can_write=self._hub.can_write,
            )
        )
        if self._leaf is not None:
            self._leaf.show_photo(self._cards, self._leaf.photo_id, can_write=self._hub.can_write)
        QTimer.singleShot(0, self, self._next_small)

    def _card(self, photo: Photo) -> PhotoCard:
        words = self._words
        said = [words.day(photo.taken_on)]
        if photo.text:
            said.append(photo.text)
        if photo.subject is not None:
            said.append(self._subject_said(photo))
        if photo.on_paper:
            said.append(words.text(msg("chosen for its papers")))
        return PhotoCard(photo_id=photo.photo_id, said=" · ".join(said), on_paper=photo.on_paper)

    def _subject_said(self, photo: Photo) -> str:
        """What the photo belongs to, by the words of the entry itself."""
        subject = photo.subject
        if subject is None or self._judging is None:
            return ""
        areas = {"work": "work", "reading": "readings"}
        for line in self._records:
            if (line.area, line.entry_id) == (areas.get(subject.of), subject.entry_id):
                return line.text
        for fault in self._judging.facts.faults:
            if subject.of == "fault" and fault.fault_id == subject.entry_id:
                return fault.text
        return self._words.word(subject.of)

    def _watched_said(self, fresh: int) -> str:
        folder, words = self._watched.folder, self._words
        if folder is None:
            return ""
        if self._watched.is_there is None:
            said = msg("Looking into {folder}…")
        elif not self._watched.is_there:
            said = msg("The watched folder is not there now: {folder}.")
        elif fresh:
            said = msg("New pictures in {folder}: {n}.")
        else:
            said = msg("Watching {folder}; nothing new in it.")
        return words.text(said, folder=str(folder), n=fresh)

    def _next_small(self) -> None:
        """One small picture a turn, so that the window answers in between."""
        bare = [number for number in self._strip.bare() if number not in self._unreadable]
        if not bare or self._left:
            return
        edge = look.px(SMALL_PX, look.text_scale() * self._strip.devicePixelRatioF())
        image = self._image(bare[0], edge)
        if image.isNull():  # nothing to be shown: leave the words
            self._unreadable.add(bare[0])
        else:
            self._strip.small[bare[0]].show_image(image)
        QTimer.singleShot(0, self, self._next_small)

    def _image(self, photo_id: int, edge: int) -> QImage:
        try:
            with self._hub.read() as session:
                jpeg = read_picture(session, photo_id)
        except Trouble:
            return QImage()
        return QImage() if jpeg is None else small(jpeg, edge)

    def open(self, photo_id: int) -> None:
        """Open a photo large."""
        leaf = PhotoLeaf(self._labels, self._whole, self._strip.window())
        leaf.wordsWanted.connect(self._say_more)
        leaf.removeWanted.connect(self._remove)
        leaf.paperWanted.connect(self._turn_paper)
        leaf.destroyed.connect(self._leaf_gone)
        self._leaf = leaf
        leaf.show_photo(self._cards, photo_id, can_write=self._hub.can_write)
        leaf.open()
        leaf.picture.setFocus()

    def _whole(self, photo_id: int) -> QImage:
        return self._image(photo_id, 2000)

    def _leaf_gone(self) -> None:
        self._leaf = None

    # -- taking in -----------------------------------------------------------------------------

    def _pick(self) -> None:
        names, _ = QFileDialog.getOpenFileNames(
            self._strip, self._labels["add"], "", self._labels["pictures"]
        )
        if names:
            self.take(tuple(Path(name) for name in names))

    def take(self, paths: tuple[Path, ...]) -> None:
        """Shrink these and keep them; what cannot be kept is said by its name."""
        if self._judging is not None and self._hub.can_write:
            self._waiting.append((int(self._judging.facts.machine_id), paths))
            if self._taking is None:
                self._take_next()

    def _take_next(self) -> None:
        number, paths = self._waiting.pop(0)
        today = self._hub.moment().today
        chosen, found = paths[:MOST_AT_ONCE], list[tuple[Path, Shrunk | Refused | Trouble]]()

        def work() -> None:
            for path in chosen:
                try:
                    found.append((path, shrunk_file(path)))
                except (Refused, Trouble) as refused:
                    found.append((path, refused))

        def done(raised: BaseException | None) -> None:
            self._taking = None
            if self._left:  # another file is open by now
                return
            if raised is not None:
                raise raised
            acts = [
                (
                    path,
                    AddPhoto(
                        machine_id=number, jpeg=one.jpeg, taken_on=min(one.day or today, today)
                    )
                    if isinstance(one, Shrunk)
                    else one,
                )
                for path, one in found
            ]
            self._keep(acts, left=len(paths) - len(chosen))
            if self._waiting:
                self._take_next()

        self._strip.say(self._labels["busy"])
        self._taking = Worker(work, done, self)

    def _keep(self, acts: list[tuple[Path, AddPhoto | Refused | Trouble]], *, left: int) -> None:
        words = self._words
        said: list[str] = []
        for path, act in acts:
            outcome = self._hub.perform(act) if isinstance(act, AddPhoto) else act
            if isinstance(outcome, Refused):
                said.append(f"{path.name}: {words.refused(outcome)}")
            elif isinstance(outcome, Trouble):
                said.append(f"{path.name}: {words.trouble(outcome)}")
        more = len(said) - MOST_SAID
        shown = said[:MOST_SAID]
        if more > 0:
            shown.append(words.text(msg("So it was with {n} more."), n=more))
        if left:
            shown.append(
                words.text(
                    msg("{most} are taken in at once; {n} were left."), most=MOST_AT_ONCE, n=left
                )
            )
        self._strip.say("\n".join(shown))

    # -- the watched folder --------------------------------------------------------------------

    def _watch(self) -> None:
        name = QFileDialog.getExistingDirectory(self._strip, self._labels["watch"])
        if name:
            self._watched.choose(Path(name))

    def _unwatch(self) -> None:
        self._watched.choose(None)

    def _offer(self) -> None:
        """Show what is new in the folder; only what is ticked is taken."""
        fresh = self._watched.fresh()[:MOST_AT_ONCE]
        if fresh:
            leaf = OfferLeaf(self._labels, fresh, _glimpse, self._strip.window())
            leaf.answered.connect(self._offered)
            leaf.open()

    def _offered(self, chosen: tuple[Path, ...], shown: tuple[Path, ...]) -> None:
        if chosen:
            self.take(chosen)
        self._watched.settle(chosen or shown)

    # -- acts on one photo ---------------------------------------------------------------------

    def _say_more(self, photo_id: int) -> None:
        photo = next((one for one in self._photos if one.photo_id == photo_id), None)
        if photo is not None and self._judging is not None:
            if self._leaf is not None:
                self._leaf.close()
            wish = words_of(photo, self._judging, self._records, self._words)
            self._desk.open(wish, self._judging)

    def _remove(self, photo_id: int) -> None:
        self._perform(RemovePhoto(photo_id=photo_id))

    def _turn_paper(self, photo_id: int) -> None:
        on_paper = any(one.photo_id == photo_id and one.on_paper for one in self._photos)
        self._perform(ChangePhoto(photo_id=photo_id, on_paper=not on_paper))

    def _perform(self, act: Act) -> None:
        outcome = self._hub.perform(act)
        if isinstance(outcome, Refused | Trouble):
            words = self._words
            refused = isinstance(outcome, Refused)
            said = words.refused(outcome) if refused else words.trouble(outcome)
            self._show()
            if self._leaf is not None:
                self._leaf.say(said)

    def leave(self) -> None:
        """Stop listening; the file is about to be let go."""
        self._left = True
        self._watched.changed.disconnect(self._show)
        if self._leaf is not None:
            self._leaf.close()
        for signal, slot in self._joined():
            signal.disconnect(slot)


def _glimpse(path: Path) -> QImage:
    """A picture of the watched folder, small; an empty one when it cannot be shown."""
    try:
        return small(picture_bytes(path), OFFER_PX)
    except (Refused, Trouble):
        return QImage()
