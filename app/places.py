"""Where things lie on this computer unless somebody says otherwise."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

import platformdirs

NAME = "firstpull"
FILE_NAME = "household.firstpull"


@dataclass(frozen=True, slots=True, kw_only=True)
class Places:
    """`household`: the file opened when none is named. `state`: logs. `cache`: what may go."""

    household: Path
    state: Path
    cache: Path


def places() -> Places:
    """The folders this system gives a program for its user. None is made here."""
    data = Path(platformdirs.user_data_dir(NAME, appauthor=False))
    return Places(
        household=data / FILE_NAME,
        state=Path(platformdirs.user_state_dir(NAME, appauthor=False)),
        cache=Path(platformdirs.user_cache_dir(NAME, appauthor=False)),
    )
