"""Line drawings as plain paths: our icons read from their files, and the few shapes we need.

Only what our own icons use is understood: paths with straight lines, cubic curves and arcs, and
circles, on a grid of 24. Anything else is refused, so that a drawing cannot half appear.
"""

from __future__ import annotations

import math
import re
import xml.etree.ElementTree as ET
from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from importlib.resources import files

GRID = 24.0
_SVG = "{http://www.w3.org/2000/svg}"
_TOKEN = re.compile(r"[MmLlHhVvCcAaZz]|[-+]?(?:\d+\.?\d*|\.\d+)(?:e[-+]?\d+)?")
_TAKES = {"M": 2, "L": 2, "H": 1, "V": 1, "C": 6, "A": 7, "Z": 0}
_KAPPA = 4 / 3 * (math.sqrt(2) - 1)


class Go(StrEnum):
    """What a step of a path does."""

    MOVE = "move"
    LINE = "line"
    CURVE = "curve"
    CLOSE = "close"


Step = tuple[Go, tuple[float, ...]]
Path = tuple[Step, ...]


@dataclass(frozen=True, slots=True)
class Stroke:
    """One path of a drawing: the weight of its line in grid units, and whether it is solid."""

    path: Path
    weight: float
    solid: bool


@cache
def icon(name: str) -> tuple[Stroke, ...]:
    """The strokes of an icon on the grid of 24; nothing when there is no such icon."""
    if not re.fullmatch(r"[a-z0-9-]+", name):
        return ()
    source = files("resources").joinpath("icons", f"{name}.svg")
    if not source.is_file():
        return ()
    root = ET.fromstring(source.read_text("utf-8"))  # noqa: S314 (a file of our own)
    plain = float(root.get("stroke-width", "1.6"))
    strokes: list[Stroke] = []
    for node in root:
        if node.tag == f"{_SVG}title":
            continue
        if node.tag == f"{_SVG}path":
            path = read_path(node.get("d", ""))
        elif node.tag == f"{_SVG}circle":
            path = circle(*(float(node.get(key, "0")) for key in ("cx", "cy", "r")))
        else:
            raise ValueError(f"{name}: {node.tag} is not a shape we draw")
        weight = float(node.get("stroke-width", plain))
        strokes.append(Stroke(path, weight, node.get("fill") == "currentColor"))
    return tuple(strokes)


def circle(x: float, y: float, radius: float) -> Path:
    """A circle of four curves."""
    k = _KAPPA * radius
    r = radius
    return (
        (Go.MOVE, (x + r, y)),
        (Go.CURVE, (x + r, y + k, x + k, y + r, x, y + r)),
        (Go.CURVE, (x - k, y + r, x - r, y + k, x - r, y)),
        (Go.CURVE, (x - r, y - k, x - k, y - r, x, y - r)),
        (Go.CURVE, (x + k, y - r, x + r, y - k, x + r, y)),
        (Go.CLOSE, ()),
    )


def polygon(*points: tuple[float, float]) -> Path:
    """A closed shape of straight sides."""
    first, *rest = points
    return ((Go.MOVE, first), *((Go.LINE, point) for point in rest), (Go.CLOSE, ()))


def placed(path: Path, left: float, top: float, scale: float) -> Path:
    """The path made larger by `scale` and moved to `left`, `top`."""
    return tuple(
        (
            go,
            tuple(
                (left if place % 2 == 0 else top) + number * scale
                for place, number in enumerate(numbers)
            ),
        )
        for go, numbers in path
    )


def read_path(text: str) -> Path:
    """The path written as SVG path data. Raises ValueError for commands our icons do not use."""
    tokens = _TOKEN.findall(text)
    if re.sub(r"[\s,]", "", text) != "".join(tokens):
        raise ValueError(f"{text!r} is no path we can read")
    steps: list[Step] = []
    start = here = (0.0, 0.0)
    command = ""
    at = 0
    while at < len(tokens):
        if tokens[at].isalpha():
            command = tokens[at]
            at += 1
        count = _TAKES[command.upper()]
        numbers = [float(token) for token in tokens[at : at + count]]
        at += count
        steps.extend(_steps(command, numbers, here, start))
        here = _end(command, numbers, here, start)
        if command in "Mm":
            start = here
            command = "L" if command == "M" else "l"
    return tuple(steps)


def _end(
    command: str, numbers: list[float], here: tuple[float, float], start: tuple[float, float]
) -> tuple[float, float]:
    x, y = here if command.islower() else (0.0, 0.0)
    match command.upper():
        case "Z":
            return start
        case "H":
            return (x + numbers[0], here[1])
        case "V":
            return (here[0], y + numbers[0])
        case _:
            return (x + numbers[-2], y + numbers[-1])


def _steps(
    command: str, numbers: list[float], here: tuple[float, float], start: tuple[float, float]
) -> list[Step]:
    end = _end(command, numbers, here, start)
    match command.upper():
        case "M":
            return [(Go.MOVE, end)]
        case "Z":
            return [(Go.CLOSE, ())]
        case "C":
            x, y = here if command.islower() else (0.0, 0.0)
            moved = tuple(
                number + (x if place % 2 == 0 else y) for place, number in enumerate(numbers)
            )
            return [(Go.CURVE, moved)]
        case "A":
            return _arc(here, end, numbers)
        case _:
            return [(Go.LINE, end)]


def _arc(here: tuple[float, float], end: tuple[float, float], numbers: list[float]) -> list[Step]:
    """A circular arc as curves of at most a quarter turn (SVG 1.1, F.6.5, equal radii)."""
    radius, _, _, large, sweep, *_rest = numbers
    dx, dy = (here[0] - end[0]) / 2, (here[1] - end[1]) / 2
    half = math.hypot(dx, dy)
    if half == 0 or radius == 0:
        return [(Go.LINE, end)]
    radius = max(radius, half)
    off = math.sqrt(max(0.0, radius * radius - half * half)) / half
    if (large != 0) == (sweep != 0):
        off = -off
    centre_x = (here[0] + end[0]) / 2 + off * dy
    centre_y = (here[1] + end[1]) / 2 - off * dx
    first = math.atan2(here[1] - centre_y, here[0] - centre_x)
    turn = math.atan2(end[1] - centre_y, end[0] - centre_x) - first
    if sweep and turn < 0:
        turn += 2 * math.pi
    elif not sweep and turn > 0:
        turn -= 2 * math.pi
    parts = max(1, math.ceil(abs(turn) / (math.pi / 2) - 1e-9))
    reach = 4 / 3 * math.tan(turn / parts / 4) * radius
    steps: list[Step] = []
    for part in range(parts):
        a, b = first + turn * part / parts, first + turn * (part + 1) / parts
        ax, ay = centre_x + radius * math.cos(a), centre_y + radius * math.sin(a)
        bx, by = centre_x + radius * math.cos(b), centre_y + radius * math.sin(b)
        steps.append(
            (
                Go.CURVE,
                (
                    ax - reach * math.sin(a),
                    ay + reach * math.cos(a),
                    bx + reach * math.sin(b),
                    by - reach * math.cos(b),
                    bx,
                    by,
                ),
            )
        )
    return steps
