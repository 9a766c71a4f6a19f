"""A binding that loses references to None passes short tests and aborts in a long sitting."""

import sys

import pytest
from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QLabel

pytestmark = [
    pytest.mark.skipif(sys.version_info >= (3, 12), reason="None and True are immortal there"),
    pytest.mark.usefixtures("qapp"),
]

CALLS = 2_000
NOISE = 50


class Bell(QObject):
    rung = Signal()


def test_calls_that_return_nothing_leave_none_alone():
    label = QLabel()
    before = sys.getrefcount(None)
    for number in range(CALLS):
        label.setText(str(number))
    assert abs(sys.getrefcount(None) - before) <= NOISE


def test_calls_that_return_yes_leave_true_alone():
    bell = Bell()
    before = sys.getrefcount(True)
    for _ in range(CALLS):
        bell.rung.emit()
    assert abs(sys.getrefcount(True) - before) <= NOISE
