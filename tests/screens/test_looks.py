"""Every look can be read: contrast on each of its grounds, and the room whole at twice the size."""

from __future__ import annotations

from itertools import product

import pytest
from PySide6.QtGui import QColor

from app.pieces import look
from tests.screens.conftest import Shed

GROUNDS = ("paper", "sheet", "ledge", "wash")
TEXTS = ("ink", "pencil", "blue", "spruce", "ochre", "madder")
LEAST_TEXT, LEAST_MARK = 7.0, 3.0


def _light(colour: QColor) -> float:
    """Relative luminance (WCAG 2.2)."""

    def linear(part: float) -> float:
        return part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4

    red, green, blue = (linear(part) for part in (colour.redF(), colour.greenF(), colour.blueF()))
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: QColor, other: QColor) -> float:
    lights = sorted((_light(one), _light(other)))
    return (lights[1] + 0.05) / (lights[0] + 0.05)


@pytest.mark.parametrize("name", look.LOOKS)
def test_every_text_and_mark_stands_out_from_every_ground(name: str) -> None:
    colours = look.LOOKS[name]
    for ground, text in product(GROUNDS, TEXTS):
        found = contrast(colours.colour(ground), colours.colour(text))
        assert found >= LEAST_TEXT, (ground, text)
    for ground in GROUNDS:
        assert contrast(colours.colour(ground), colours.colour("rule")) >= LEAST_MARK, ground
    assert contrast(colours.colour("ink"), colours.colour("sheet")) >= LEAST_TEXT


def test_the_room_never_asks_for_more_width_than_a_small_screen_has(shed: Shed) -> None:
    for scale in (1.0, 1.5, 2.0):
        look.apply(look.program(), look.LIGHT, scale=scale)
        shed.view.restyle()
        shed.bot.wait(1)
        assert shed.window.minimumSizeHint().width() <= 1366, scale
    look.apply(look.program(), look.LIGHT)
