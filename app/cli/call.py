"""One call of the command line: what was asked, and what the door hands out to answer it."""

from __future__ import annotations

from argparse import Namespace
from collections.abc import Callable
from dataclasses import dataclass
from enum import IntEnum
from pathlib import Path
from typing import TYPE_CHECKING

from app.cli.output import Output
from app.places import Places
from app.wording.tongue import Tongue
from models.moment import Moment

if TYPE_CHECKING:
    from app.services import Services


class Exit(IntEnum):
    """What the command line gives back to whoever called it."""

    DONE = 0
    ACTION = 1
    USAGE = 2
    UNUSABLE = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class Call:
    """`file`: the household's file. `open_services(path, write)` raises Trouble. `show_window`
    opens the window on a file; there must be a screen."""

    arguments: Namespace
    file: Path
    moment: Moment
    tongue: Tongue
    places: Places
    output: Output
    open_services: Callable[[Path, bool], Services]
    show_window: Callable[[Path], int]
