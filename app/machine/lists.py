"""The lists of the machine room: whole rows, as high as their text, moved through by keys."""

from __future__ import annotations

from PySide6.QtCore import QAbstractTableModel, QItemSelectionModel, Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QAbstractItemView, QFrame, QTableView

from app.fleet.table import TwoLines
from app.pieces import look

FEW = 200
_SELECT = QItemSelectionModel.SelectionFlag.ClearAndSelect | QItemSelectionModel.SelectionFlag.Rows


class WorkList(QTableView):
    """A list of rows; each is as high as its text at the width there is."""

    def __init__(self, model: QAbstractTableModel, name: str, shares: tuple[int, ...]) -> None:
        super().__init__()
        self._shares = shares
        self.setModel(model)
        self.setItemDelegate(TwoLines(self))
        self.setAccessibleName(name)
        self.setShowGrid(False)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setTabKeyNavigation(False)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.verticalHeader().hide()
        header = self.horizontalHeader()
        header.setHighlightSections(False)
        header.setSectionsClickable(False)
        header.setMinimumSectionSize(look.TARGET)
        header.setStretchLastSection(True)
        model.modelReset.connect(self.fit)

    def choose(self, row: int) -> None:
        """Let a row be the one that is meant."""
        if 0 <= row < self.model().rowCount():
            self.selectionModel().setCurrentIndex(self.model().index(row, 0), _SELECT)
        self.fit()

    def fit(self) -> None:
        """Make rows as high as their text; of very many only those of usual height."""
        if self.model().rowCount() <= FEW:
            self.resizeRowsToContents()
        else:
            self.verticalHeader().setDefaultSectionSize(look.TARGET + 20)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Another width, other heights."""
        super().resizeEvent(event)
        self._share()
        self.fit()

    def _share(self) -> None:
        """Give each column its part of the width."""
        shares = self._shares
        room = self.viewport().width()
        for column, share in enumerate(shares[:-1]):
            self.setColumnWidth(column, room * share // sum(shares))
