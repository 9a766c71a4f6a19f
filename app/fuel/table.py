"""The lists of the fuel room: vessels, fills, entries; cells of two lines, said whole aloud."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QPersistentModelIndex, Qt
from PySide6.QtWidgets import QWidget

from app.fleet.table import ICON_ROLE, SECOND_ROLE, STATE_ROLE, TOKEN_ROLE
from app.fuel.state import EntryLine, LotLine, VesselLine
from schedules.facts import Band

Index = QModelIndex | QPersistentModelIndex
TOKENS = {
    Band.GOOD: "spruce",
    Band.USE_FIRST: "ochre",
    Band.BURN: "ochre",
    Band.LOOK_FIRST: "ink",
    Band.DRAIN: "madder",
    Band.NOT_FOR_THIS: "madder",
}


@dataclass(frozen=True, slots=True)
class Cell:
    """Two lines of text, the first in that ink."""

    first: str
    second: str = ""
    ink: str = "ink"


Cells = tuple[Cell, ...]


def vessel_cells(vessel: VesselLine) -> Cells:
    """Which vessel, how it is, and how that comes."""
    because = " · ".join(part for part in (vessel.because, vessel.until) if part)
    details = " · ".join(part for part in (vessel.ethanol, vessel.stabiliser) if part)
    token = "pencil" if vessel.band is None else TOKENS[vessel.band]
    return (
        Cell(vessel.name, vessel.second),
        Cell(vessel.band_text, because, token),
        Cell(vessel.age, details),
    )


def lot_cells(lot: LotLine) -> Cells:
    """A fill: when it was bought, how much of it is left, how old it really is."""
    return (
        Cell(lot.bought, lot.sort),
        Cell(lot.amount, lot.treated),
        Cell(lot.age, lot.how),
    )


def entry_cells(entry: EntryLine) -> Cells:
    """What was entered, and when."""
    return (
        Cell(entry.day),
        Cell(entry.text, entry.second, "ink" if entry.counts else "pencil"),
    )


class CellsModel(QAbstractTableModel):
    """A table over frozen cells."""

    def __init__(self, heads: tuple[str, ...], parent: QWidget) -> None:
        super().__init__(parent)
        self._heads = heads
        self.cells: tuple[Cells, ...] = ()

    def show_cells(self, cells: Sequence[Cells]) -> None:
        """Show other rows."""
        self.beginResetModel()
        self.cells = tuple(cells)
        self.endResetModel()

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        """How many rows; a table has no rows beneath its rows."""
        return 0 if parent.isValid() else len(self.cells)

    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        """How many columns."""
        return 0 if parent.isValid() else len(self._heads)

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> Any:
        """The words on top of a column."""
        across = orientation is Qt.Orientation.Horizontal
        return self._heads[section] if across and role == Qt.ItemDataRole.DisplayRole else None

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """What a cell shows, and what is said of it aloud."""
        cell = self.cells[index.row()][index.column()]
        match role:
            case Qt.ItemDataRole.DisplayRole:
                return cell.first
            case _ if role == SECOND_ROLE:
                return cell.second
            case _ if role == TOKEN_ROLE:
                return cell.ink
            case _ if role in (ICON_ROLE, STATE_ROLE):
                return ""
            case Qt.ItemDataRole.AccessibleTextRole:
                return ", ".join(part for part in (cell.first, cell.second) if part)
            case _:
                return None
