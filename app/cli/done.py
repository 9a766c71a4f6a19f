"""How a command that writes says what it did."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from app.cli.call import Call

SCHEMA = 1


def said_done(call: Call, command: str, *, paths: Sequence[Path], lines: Sequence[str]) -> None:
    """The sentences for people; command, day, files and sentences for programs."""
    for line in lines:
        call.output.say(line)
    call.output.data(
        {
            "schema": SCHEMA,
            "command": command,
            "on": call.moment.today.isoformat(),
            "paths": [str(path) for path in paths],
            "said": list(lines),
        }
    )
