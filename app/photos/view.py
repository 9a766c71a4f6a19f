# pyright: standard
"""The photos of a machine: small ones side by side, one of them large, new ones offered.

Pictures dropped on the room land here. Widgets and intent signals only.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QEvent, QObject, QRect, QSize, Qt, QTimer, Signal
from PySide6.QtGui import (
    QDragEnterEvent,
    QDragMoveEvent,
    QDropEvent,
    QIcon,
    QImage,
    QKeyEvent,
    QPainter,
    QPaintEvent,
    QPixmap,
)
from PySide6.QtWidgets import QDialog, QHBoxLayout, QPushButton, QSizePolicy, QVBoxLayout, QWidget

from app.photos.state import PhotoCard, PhotosState
from app.pieces import look
from app.pieces.button import Button, Tick
from app.pieces.labels import plain_label
from app.pieces.leaf import Leaf
from app.pieces.room import emptied
from app.pieces.tiles import Flow

SMALL_PX = 104


class SmallPhoto(QPushButton):
    """One photo, small; pressed it opens large."""

    def __init__(self, photo_id: int, said: str) -> None:
        super().__init__()
        self.photo_id = photo_id
        self.setAccessibleName(said)
        self.setToolTip(said)
        side = look.px(SMALL_PX, look.text_scale())
        self.setIconSize(QSize(side, side))
        self.setFixedSize(QSize(side + 2 * look.GAP, side + 2 * look.GAP))

    def show_image(self, image: QImage) -> None:
        """Show the picture itself."""
        self.setIcon(QIcon(QPixmap.fromImage(image)))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.click()
        else:
            super().keyPressEvent(event)


class PhotoStrip(QWidget):
    """Signals say what is wanted: `addWanted`, `watchWanted`, `unwatchWanted`, `offerWanted`,
    `openWanted` with a photo's id, `dropped` with paths."""

    addWanted = Signal()
    watchWanted = Signal()
    unwatchWanted = Signal()
    offerWanted = Signal()
    openWanted = Signal(int)
    dropped = Signal(object)

    def __init__(self) -> None:
        super().__init__()
        self._labels: dict[str, str] = {}
        self._can_write = False
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        self.head = plain_label("", role="head")
        column.addWidget(self.head)
        self.none = plain_label("", role="second")
        column.addWidget(self.none)
        self._shelf = QWidget()
        self._flow = Flow(self._shelf)
        column.addWidget(self._shelf)
        self.note = plain_label("", role="refusal")
        column.addWidget(self.note)
        self.watched = plain_label("")
        column.addWidget(self.watched)
        row = QWidget()
        flow = Flow(row)
        self.buttons: dict[str, Button] = {}
        wanted = {
            "add": self.addWanted,
            "offer": self.offerWanted,
            "watch": self.watchWanted,
            "unwatch": self.unwatchWanted,
        }
        for name, signal in wanted.items():
            button = Button("")
            if name in ("watch", "unwatch"):
                button.setProperty("link", True)
            button.clicked.connect(signal)
            self.buttons[name] = button
            flow.addWidget(button)
        column.addWidget(row)
        self.small: dict[int, SmallPhoto] = {}

    def speak(self, labels: dict[str, str]) -> None:
        """Say the fixed words in the household's language."""
        self._labels = labels
        self.head.setText(labels["head"])
        self.none.setText(labels["none"])
        for name, button in self.buttons.items():
            button.setText(labels[name].replace("&", "&&"))

    def take_drops(self, room: QWidget) -> None:
        """Pictures dropped anywhere on the room are meant for the machine shown in it."""
        room.setAcceptDrops(True)
        room.installEventFilter(self)

    def show_photos(self, state: PhotosState) -> None:
        """Show the photos there are; their pictures follow one by one."""
        self._can_write = state.can_write
        kept = {card.photo_id: self.small.get(card.photo_id) for card in state.photos}
        icons = {number: one.icon() for number, one in kept.items() if one is not None}
        emptied(self._flow)
        self.small = {}
        for card in state.photos:
            button = SmallPhoto(card.photo_id, card.said)
            if card.photo_id in icons:
                button.setIcon(icons[card.photo_id])
            button.clicked.connect(self._pressed)
            self.small[card.photo_id] = button
            self._flow.addWidget(button)
        self._shelf.setVisible(bool(state.photos))
        self.none.setVisible(not state.photos)
        self.watched.setText(state.watched)
        self.watched.setVisible(bool(state.watched))
        self.buttons["offer"].setVisible(state.fresh > 0)
        self.buttons["unwatch"].setVisible(bool(state.watched))
        self.buttons["watch"].setVisible(not state.watched)
        self.buttons["add"].setEnabled(state.can_write)
        self.buttons["offer"].setEnabled(state.can_write)

    def say(self, text: str) -> None:
        """Say what happened to pictures that were to be kept."""
        self.note.setText(text)
        self.note.setVisible(bool(text))

    def bare(self) -> tuple[int, ...]:
        """The photos whose pictures are not shown yet."""
        return tuple(number for number, one in self.small.items() if one.icon().isNull())

    def _pressed(self) -> None:
        button = self.sender()
        if isinstance(button, SmallPhoto):
            self.openWanted.emit(button.photo_id)

    def eventFilter(self, _room: QObject, event: QEvent) -> bool:
        """Let go of files over the room: they are taken as photos."""
        if isinstance(event, QDragEnterEvent | QDragMoveEvent | QDropEvent):
            paths = tuple(
                Path(url.toLocalFile()) for url in event.mimeData().urls() if url.isLocalFile()
            )
            if not paths or not self._can_write:
                return False
            event.setDropAction(Qt.DropAction.CopyAction)
            event.accept()
            if event.type() == QEvent.Type.Drop:
                self.dropped.emit(paths)
            return True
        return False


LEAST_PX = 240
OFFER_PX = 150
WIDE, HIGH = 1100, 860


class LargePicture(QWidget):
    """A picture as large as there is room, whole."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self._image = QImage()
        self.setMinimumSize(QSize(LEAST_PX, LEAST_PX))
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)

    def show_image(self, image: QImage, said: str) -> None:
        """Show another one; `said` is its name for readers."""
        self._image = image
        self.setAccessibleName(said)
        self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:
        if self._image.isNull():
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
        size = self._image.size()
        if size.width() > self.width() or size.height() > self.height():
            size = size.scaled(self.size(), Qt.AspectRatioMode.KeepAspectRatio)
        at = QRect((self.width() - size.width()) // 2, (self.height() - size.height()) // 2, 0, 0)
        painter.drawImage(QRect(at.topLeft(), size), self._image)


class PhotoLeaf(QDialog):
    """One photo large. Left and right lead to the others, Home and End to first and last."""

    wordsWanted = Signal(int)
    removeWanted = Signal(int)
    paperWanted = Signal(int)

    def __init__(
        self, labels: dict[str, str], image_of: Callable[[int], QImage], parent: QWidget
    ) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle(labels["head"])
        self._image_of = image_of
        self._cards: tuple[PhotoCard, ...] = ()
        self._at = 0
        column = QVBoxLayout(self)
        column.setContentsMargins(look.MARGIN, look.GAP, look.MARGIN, look.GAP)
        self.picture = LargePicture(self)
        column.addWidget(self.picture, 1)
        self.said = plain_label("", role="head")
        column.addWidget(self.said)
        self.note = plain_label("", role="refusal")
        column.addWidget(self.note)
        self.paper = Tick(labels["paper"])
        self.paper.clicked.connect(self._paper_pressed)
        column.addWidget(self.paper)
        row = QHBoxLayout()
        self.buttons: dict[str, Button] = {}
        for name, slot in (
            ("before", self._before),
            ("after", self._after),
            ("words", self._words_pressed),
            ("remove", self._remove_pressed),
            ("close", self.close),
        ):
            button = self.buttons[name] = Button(labels[name])
            button.setAutoDefault(False)
            button.clicked.connect(slot)
            row.addWidget(button)
            if name == "remove":
                row.addStretch(1)
        column.addLayout(row)
        scale = look.text_scale()
        self.resize(look.px(WIDE, scale), look.px(HIGH, scale))
        self.resize(self.size().boundedTo(self.screen().availableGeometry().size() * 0.95))

    def show_photo(self, cards: tuple[PhotoCard, ...], photo_id: int, *, can_write: bool) -> None:
        """Show that one of these; the nearest when it is gone."""
        if not cards:
            self.close()
            return
        numbers = [card.photo_id for card in cards]
        self._at = numbers.index(photo_id) if photo_id in numbers else min(self._at, len(cards) - 1)
        self._cards = cards
        for name in ("words", "remove"):
            self.buttons[name].setEnabled(can_write)
        self.paper.setEnabled(can_write)
        self._show()

    @property
    def photo_id(self) -> int:
        """The photo that is shown."""
        return self._cards[self._at].photo_id if self._cards else 0

    def _show(self) -> None:
        card = self._cards[self._at]
        self.say("")
        self.picture.show_image(self._image_of(card.photo_id), card.said)
        self.said.setText(f"{self._at + 1}/{len(self._cards)} · {card.said}")
        self.paper.setChecked(card.on_paper)
        self.buttons["before"].setEnabled(self._at > 0)
        self.buttons["after"].setEnabled(self._at < len(self._cards) - 1)

    def say(self, text: str) -> None:
        """Say why something was not done."""
        self.note.setText(text)
        self.note.setVisible(bool(text))

    def _go(self, place: int) -> None:
        self._at = min(max(place, 0), len(self._cards) - 1)
        self._show()

    def _before(self) -> None:
        self._go(self._at - 1)

    def _after(self) -> None:
        self._go(self._at + 1)

    def _words_pressed(self) -> None:
        self.wordsWanted.emit(self.photo_id)

    def _remove_pressed(self) -> None:
        self.removeWanted.emit(self.photo_id)

    def _paper_pressed(self) -> None:
        self.paperWanted.emit(self.photo_id)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        match event.key():
            case Qt.Key.Key_Left | Qt.Key.Key_PageUp:
                self._go(self._at - 1)
            case Qt.Key.Key_Right | Qt.Key.Key_PageDown:
                self._go(self._at + 1)
            case Qt.Key.Key_Home:
                self._go(0)
            case Qt.Key.Key_End:
                self._go(len(self._cards) - 1)
            case _:
                super().keyPressEvent(event)


class OfferLeaf(Leaf):
    """Pictures that came into the watched folder, each with a box to tick. `answered`: those to
    keep and all that were shown."""

    answered = Signal(object, object)

    def __init__(
        self,
        labels: dict[str, str],
        paths: tuple[Path, ...],
        image_of: Callable[[Path], QImage],
        parent: QWidget,
    ) -> None:
        super().__init__(labels["offered"], labels["close"], parent)
        self._paths = paths
        self._image_of = image_of
        self.ticks: dict[Path, Tick] = {}
        self._shown: dict[Path, QWidget] = {}
        shelf = QWidget()
        flow = Flow(shelf)
        side = look.px(OFFER_PX, look.text_scale())
        for path in paths:
            cell = QWidget()
            column = QVBoxLayout(cell)
            column.setContentsMargins(0, 0, 0, 0)
            picture = plain_label("")
            picture.setFixedSize(QSize(side, side))
            self._shown[path] = picture
            tick = self.ticks[path] = Tick(path.name[:24])
            tick.setAccessibleName(path.name)
            column.addWidget(picture)
            column.addWidget(tick)
            flow.addWidget(cell)
        self.column.addWidget(shelf)
        row = QWidget()
        answers = Flow(row)
        self.keep_button, self.refuse_button = Button(labels["keep"]), Button(labels["refuse"])
        self.keep_button.clicked.connect(self._keep_pressed)
        self.refuse_button.clicked.connect(self._refuse_pressed)
        answers.addWidget(self.keep_button)
        answers.addWidget(self.refuse_button)
        self.column.addWidget(row)
        self.column.addStretch(1)
        self._left = list(paths)
        QTimer.singleShot(0, self, self._next_picture)

    def _next_picture(self) -> None:
        """One picture a turn, so that the window answers in between."""
        if not self._left:
            return
        path = self._left.pop(0)
        image = self._image_of(path)
        label = self._shown[path]
        if not image.isNull():
            label.setPixmap(QPixmap.fromImage(image))  # type: ignore[attr-defined]  # a label
        QTimer.singleShot(0, self, self._next_picture)

    def _keep_pressed(self) -> None:
        chosen = tuple(path for path, tick in self.ticks.items() if tick.isChecked())
        if chosen:
            self.answered.emit(chosen, self._paths)
            self.close()

    def _refuse_pressed(self) -> None:
        self.answered.emit((), self._paths)
        self.close()
