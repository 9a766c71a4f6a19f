"""Asked before a backup takes the place of what stands there."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QWidget

from app.pieces.button import Button
from app.pieces.leaf import Leaf
from app.wording.languages import msg
from app.wording.tongue import Tongue


class PutBackLeaf(Leaf):
    """`agreed`: put it back. How many machines each of the two holds; None: nobody can tell."""

    agreed = Signal()

    def __init__(
        self, tongue: Tongue, parent: QWidget, *, backup: Path, held: int | None, here: int | None
    ) -> None:
        leave = tongue.text(msg("Leave everything as it is"))
        super().__init__(tongue.text(msg("Put this backup back?")), leave, parent)
        self.say(backup.name)
        for said, count in (
            (msg("In the backup: {machines}."), held),
            (msg("Here now: {machines}."), here),
        ):
            if count is not None:
                machines = tongue.count(msg("{n} machine"), msg("{n} machines"), count)
                self.say(tongue.text(said, machines=machines))
        self.say(
            tongue.text(
                msg(
                    "It takes the place of all that stands here now. That is kept as a backup, "
                    "too, and can be put back in the same way."
                )
            )
        )
        self.agree_button = Button(tongue.text(msg("Put it back")), self)
        self.agree_button.clicked.connect(self._agreed)
        self.column.addWidget(self.agree_button, alignment=Qt.AlignmentFlag.AlignLeft)
        self.column.addStretch(1)

    def _agreed(self) -> None:
        self.close()
        self.agreed.emit()
