# pyright: standard
"""The look: every colour, size and gap of the window stands here and nowhere else.

Contrast is at least 7:1 for text and 3:1 for marks on each of the four grounds (computed in the
tests). No state is told by colour alone: a shape and a word always stand beside it.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from importlib.resources import files

from PySide6.QtCore import QByteArray, QSize, Qt
from PySide6.QtGui import (
    QColor,
    QFont,
    QFontDatabase,
    QGuiApplication,
    QIcon,
    QPainter,
    QPalette,
    QPixmap,
)
from PySide6.QtSvg import QSvgRenderer
from PySide6.QtWidgets import QApplication

from schedules.states import Severity

FAMILY = "IBM Plex Sans"
BODY_PX = 16
TARGET = 44
GAP = 8
MARGIN = 24
GUTTER = 36
RING = 3
BAR = 6
"""Width of the bar at the edge of the chosen row."""
LINE = 1.6
STOP = 2.4
"""Strength of drawn lines, and of the line of today."""
STEP = 13
"""How far the line of the year steps up for a season."""
PEG = 11
ROW = 52
"""Height of a machine's row; higher only where a name or place needs more."""
SECOND = 14.5
"""Size of a row's second line, of the 16 pixels of the body."""
NAME_WIDTH = 340
STATE_WIDTH = 330
YEAR_WIDTH = 420
"""Least width of the columns of the list."""
SEARCH_WIDTH = 130
PANE_WIDTH = 420
BESIDE_WIDTH = 1360


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """One set of colours. Grounds: paper, sheet, ledge, wash; the rest is ink on them."""

    name: str
    paper: str
    sheet: str
    ledge: str
    wash: str
    hair: str
    rule: str
    ink: str
    pencil: str
    blue: str
    spruce: str
    ochre: str
    madder: str

    def colour(self, token: str) -> QColor:
        """The colour of a token. Raises AttributeError for one there is not."""
        return QColor(getattr(self, token))


LIGHT = Look(
    name="light",
    paper="#F3F4EF",
    sheet="#FBFBF8",
    ledge="#E8EAE4",
    wash="#E0E5DF",
    hair="#CBCFC7",
    rule="#6C736F",
    ink="#1A2125",
    pencil="#3D454A",
    blue="#123F73",
    spruce="#0D4B41",
    ochre="#633D00",
    madder="#8A0F42",
)
DARK = Look(
    name="dark",
    paper="#14191C",
    sheet="#1B2226",
    ledge="#242C31",
    wash="#232D2B",
    hair="#3B454A",
    rule="#8A9598",
    ink="#EDEBE4",
    pencil="#BFC4C2",
    blue="#9CC8F5",
    spruce="#7FC4AE",
    ochre="#E9BE55",
    madder="#FFA9C0",
)
# Ground and ink of the caution panel, and of nothing else.
SAFETY = {
    Severity.DANGER: ("#AE1119", "#FFFFFF"),
    Severity.WARNING: ("#F58220", "#000000"),
    Severity.CAUTION: ("#FFCF01", "#000000"),
    Severity.NOTICE: ("#0B4EA2", "#FFFFFF"),
}
# For those who need more of it: black on white or white on black, and deeper colours.
STARK = Look(
    name="stark",
    paper="#FFFFFF",
    sheet="#FFFFFF",
    ledge="#FFFFFF",
    wash="#E8E8E8",
    hair="#000000",
    rule="#000000",
    ink="#000000",
    pencil="#000000",
    blue="#00308F",
    spruce="#003D33",
    ochre="#5C3A00",
    madder="#75003A",
)
STARK_DARK = Look(
    name="stark-dark",
    paper="#000000",
    sheet="#000000",
    ledge="#000000",
    wash="#2A2A2A",
    hair="#C8C8C8",
    rule="#C8C8C8",
    ink="#FFFFFF",
    pencil="#FFFFFF",
    blue="#A9D1FF",
    spruce="#9FE8D0",
    ochre="#FFD36B",
    madder="#FFB3C9",
)
LOOKS = {look.name: look for look in (LIGHT, DARK, STARK, STARK_DARK)}

_ROLES = {
    QPalette.ColorRole.Window: "paper",
    QPalette.ColorRole.Base: "sheet",
    QPalette.ColorRole.Button: "sheet",
    QPalette.ColorRole.AlternateBase: "paper",
    QPalette.ColorRole.Mid: "rule",
    QPalette.ColorRole.Dark: "rule",
    QPalette.ColorRole.Midlight: "hair",
    QPalette.ColorRole.Light: "sheet",
    QPalette.ColorRole.Highlight: "wash",
    QPalette.ColorRole.HighlightedText: "ink",
    QPalette.ColorRole.Text: "ink",
    QPalette.ColorRole.WindowText: "ink",
    QPalette.ColorRole.ButtonText: "ink",
    QPalette.ColorRole.PlaceholderText: "pencil",
    QPalette.ColorRole.Link: "blue",
    QPalette.ColorRole.ToolTipBase: "ink",
    QPalette.ColorRole.ToolTipText: "sheet",
    QPalette.ColorRole.BrightText: "madder",
}

_SHEET = """
* {{ font-family: "{family}"; }}
QMenuBar {{ background: {ledge}; padding: 2px 16px; }}
QMenuBar::item {{ padding: 8px 12px; background: transparent; }}
QMenuBar::item:selected {{ background: {sheet}; color: {blue}; }}
QMenu {{ background: {sheet}; border: 1px solid {rule}; padding: 4px 0; }}
QMenu::item {{ padding: 9px 28px 9px 20px; }}
QMenu::item:selected {{ background: {wash}; color: {ink}; }}
QMenu::item:disabled {{ color: {pencil}; }}
QPushButton {{ background: {sheet}; border: 1px solid {rule}; border-radius: 2px;
  min-height: {target}px; padding: 0 14px; }}
QPushButton:hover {{ background: {wash}; }}
QPushButton:disabled {{ color: {pencil}; border-style: dashed; }}
QPushButton:focus {{ padding: 0 12px; }}
QPushButton[main="true"] {{ background: {ink}; color: {sheet}; border-color: {ink}; }}
QPushButton[link="true"] {{ background: transparent; border-color: transparent; padding: 0 4px;
  text-decoration: underline; color: {blue}; }}
QPushButton:focus, QComboBox:focus, QLineEdit:focus, QDateEdit:focus, QPlainTextEdit:focus,
QCheckBox:focus, QTableView:focus, QListWidget:focus, QScrollArea:focus {{
  border: 3px solid {blue}; }}
QLineEdit, QComboBox, QDateEdit, QPlainTextEdit {{ background: {sheet}; border: 1px solid {rule};
  border-radius: 2px; min-height: {field}px; padding: 0 8px; selection-background-color: {blue};
  selection-color: {sheet}; }}
QAbstractSpinBox QLineEdit, QComboBox QLineEdit {{ border: none; min-height: 0; padding: 0; }}
QDateEdit::up-button, QDateEdit::down-button {{ width: 0; border: none; }}
QListWidget::item {{ min-height: 36px; }}
QComboBox::drop-down {{ border: none; width: 28px; }}
QComboBox QAbstractItemView {{ background: {sheet}; border: 1px solid {rule};
  selection-background-color: {wash}; selection-color: {ink}; }}
QCheckBox {{ spacing: 10px; min-height: {target}px; border: 3px solid transparent; }}
QCheckBox::indicator {{ width: 26px; height: 24px; }}
QTableView, QListWidget {{ background: {paper}; border: 3px solid transparent;
  gridline-color: {hair}; outline: none; }}
QHeaderView::section {{ background: {paper}; border: none; border-bottom: 1px solid {ink};
  padding: 6px 8px; font-weight: 400; color: {pencil}; }}
QScrollArea {{ border: 3px solid transparent; background: {paper}; }}
QScrollBar:vertical {{ background: {ledge}; width: 16px; margin: 0; }}
QScrollBar:horizontal {{ background: {ledge}; height: 16px; margin: 0; }}
QScrollBar::handle {{ background: {rule}; min-height: 44px; min-width: 44px; margin: 3px; }}
QScrollBar::add-line, QScrollBar::sub-line {{ width: 0; height: 0; }}
QSplitter::handle {{ background: {hair}; }}
QLabel[role="head"] {{ font-size: {head}px; font-weight: 600; }}
QLabel[role="name"] {{ font-size: {title}px; font-weight: 600; }}
QLabel[role="lead"] {{ font-size: {lead}px; }}
QLabel[role="second"] {{ color: {pencil}; }}
QLabel[role="refusal"] {{ color: {madder}; font-weight: 600; }}
QToolTip {{ background: {ink}; color: {sheet}; border: none; padding: 6px; }}
"""


def px(size: float, scale: float) -> int:
    """A size of the 16-pixel body, at this text scale."""
    return round(size * scale)


@lru_cache(maxsize=1)
def load_fonts() -> None:
    """Make the bundled letters known, once. Raises RuntimeError when one cannot be read."""
    for entry in files("resources").joinpath("fonts").iterdir():
        if not entry.name.endswith(".ttf"):
            continue
        if QFontDatabase.addApplicationFontFromData(QByteArray(entry.read_bytes())) < 0:
            raise RuntimeError(f"cannot read the letters in {entry.name}")


def apply(app: QApplication, look: Look, *, scale: float = 1.0) -> None:
    """Put the look on the whole program at a text scale (1.0 is 16 pixels)."""
    load_fonts()
    app.setProperty("textScale", scale)
    app.setProperty("look", look.name)
    app.setStyle("Fusion")
    font = QFont(FAMILY)
    font.setPixelSize(px(BODY_PX, scale))
    app.setFont(font)
    palette = QPalette()
    for role, token in _ROLES.items():
        palette.setColor(role, look.colour(token))
    for role in (QPalette.ColorRole.Text, QPalette.ColorRole.ButtonText):
        palette.setColor(QPalette.ColorGroup.Disabled, role, look.colour("pencil"))
    app.setPalette(palette)
    tokens = {ink: getattr(look, ink) for ink in Look.__slots__ if ink != "name"}
    app.setStyleSheet(
        _SHEET.format(
            family=FAMILY,
            target=TARGET - 2,
            field=TARGET - 4,
            head=px(17, scale),
            title=px(28, scale),
            lead=px(22, scale),
            **tokens,
        )
    )


def program() -> QApplication:
    """The program that runs. Raises RuntimeError when there is none."""
    app = QApplication.instance()
    if not isinstance(app, QApplication):
        raise RuntimeError("there is no program to draw for")  # noqa: TRY004  (a fault of the caller)
    return app


def of_the_computer() -> Look:
    """The look that goes with the computer's own: light or dark."""
    dark = QGuiApplication.styleHints().colorScheme() is Qt.ColorScheme.Dark
    return DARK if dark else LIGHT


def current() -> Look:
    """The look in force."""
    return LOOKS[program().property("look") or LIGHT.name]


@lru_cache(maxsize=256)
def icon(name: str, size: int, colour: str, ratio: float = 1.0) -> QPixmap:
    """One of our line icons in a colour, at a size in pixels. A name we have not: nothing drawn."""
    pixmap = QPixmap(QSize(round(size * ratio), round(size * ratio)))
    pixmap.setDevicePixelRatio(ratio)
    pixmap.fill(Qt.GlobalColor.transparent)
    source = files("resources").joinpath("icons", f"{name}.svg")
    if source.is_file():
        svg = source.read_text("utf-8").replace("currentColor", colour)
        painter = QPainter(pixmap)
        QSvgRenderer(QByteArray(svg.encode())).render(painter)
        painter.end()
    return pixmap


def text_scale() -> float:
    """How large the body text is against the usual 16 pixels."""
    return program().property("textScale") or 1.0


def window_icon(look: Look) -> QIcon:
    """The program's own icon."""
    return QIcon(icon("k02", 64, look.ink))
