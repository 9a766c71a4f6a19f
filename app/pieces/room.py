# pyright: standard
"""What every room with forms has in common: its pages, a form in their place, columns by width."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QFrame, QLayout, QScrollArea, QStackedWidget, QWidget

from app.pieces import look
from app.pieces.form import Form, FormPage


class RoomView(QWidget):
    """A room whose pages give way to a form. `answered` and `formLeft` are the form's own."""

    answered = Signal(str, object)
    formLeft = Signal()

    def __init__(self, language: str) -> None:
        super().__init__()
        self._language = language
        self._form: Form | None = None
        self._pages = QStackedWidget(self)

    @property
    def form(self) -> Form | None:
        """The form that is open."""
        return self._form

    def show_form(self, page: FormPage) -> Form:
        """Put a form in the place of the room; whose it is stays in sight above."""
        self.close_form()
        form = Form(replace(page, about=""), self._language)
        form.answered.connect(self.answered)
        form.left.connect(self.formLeft)
        self._form = form
        self._pages.addWidget(form)
        self._pages.setCurrentWidget(form)
        form.focus_first()
        return form

    def close_form(self) -> None:
        """Put the form away, if there is one."""
        if self._form is None:
            return
        form, self._form = self._form, None
        self.after_form()
        self._pages.removeWidget(form)
        form.setParent(None)
        form.deleteLater()

    def after_form(self) -> None:
        """Back to what the form stood in front of."""
        self._pages.setCurrentIndex(0)

    def task_codes(self) -> tuple[str, ...]:
        """The tasks that are chosen, to start a form with: in most rooms there are none."""
        return ()


def columns(width: int, *, wide: int, middle: int) -> int:
    """Three columns, two or one: both bounds are for text at 100 %."""
    scale = look.text_scale()
    if width >= wide * scale:
        return 3
    return 2 if width >= middle * scale else 1


def scrolled(body: QWidget) -> QScrollArea:
    """A body that scrolls up and down only, without a frame."""
    area = QScrollArea()
    area.setWidgetResizable(True)
    area.setFrameShape(QFrame.Shape.NoFrame)
    area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
    area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
    area.setWidget(body)
    return area


def emptied(layout: QLayout) -> None:
    """Take everything out of a layout that is filled anew, and what stands in it further down."""
    while (item := layout.takeAt(0)) is not None:
        widget, inner = item.widget(), item.layout()
        if inner is not None:
            emptied(inner)
        if widget is not None:
            widget.setParent(None)
            widget.deleteLater()
