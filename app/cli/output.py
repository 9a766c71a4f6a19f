"""What the command line says: sentences for people, or one JSON object for programs."""

from __future__ import annotations

import json
import textwrap
import unicodedata
from collections.abc import Mapping
from typing import TextIO

# Signs that move the cursor, colour the terminal or turn the reading round: a name may hold them.
_TURNING = frozenset("\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069\u200e\u200f")
_HIDDEN = "\ufffd"
# Columns where nobody says how many there are, and the fewest that words are broken for.
WIDTH = 80
NARROWEST = 40


def printable(text: str) -> str:
    """The text on one line, without anything a terminal would obey."""
    return "".join(_shown(sign) for sign in text)


def _shown(sign: str) -> str:
    if sign in "\n\t\r\u2028\u2029":
        return " "
    if sign in _TURNING or unicodedata.category(sign) in ("Cc", "Cs"):
        return _HIDDEN
    return sign


class Output:
    """Where a command speaks. With `as_json` the sentences are left out and only data is said."""

    def __init__(
        self, stdout: TextIO, stderr: TextIO, *, as_json: bool = False, width: int = WIDTH
    ) -> None:
        self.as_json = as_json
        self._width = max(width, NARROWEST)
        self._stdout = stdout
        self._stderr = stderr

    def say(self, text: str = "", *, depth: int = 0) -> None:
        """A line for people."""
        if not self.as_json:
            self._write(self._stdout, "  " * depth + printable(text))

    def tell(self, text: str, *, depth: int = 0) -> None:
        """A sentence for people, broken at the width of the terminal; what follows stands in."""
        margin = "  " * depth
        told = textwrap.wrap(
            printable(text),
            self._width,
            initial_indent=margin,
            subsequent_indent=f"{margin}    ",
            break_long_words=False,
            break_on_hyphens=False,
        )
        if not self.as_json:
            self._write(self._stdout, "\n".join(told))

    def warn(self, text: str) -> None:
        """A line for people that is no part of the answer."""
        self._write(self._stderr, printable(text))

    def data(self, said: Mapping[str, object]) -> None:
        """The answer for programs. ASCII, so that no terminal's encoding stands in the way."""
        if self.as_json:
            self._write(self._stdout, json.dumps(said, indent=2, allow_nan=False))

    def flush(self) -> None:
        """Hand on what was said. Raises BrokenPipeError when nobody listens any more."""
        self._stdout.flush()

    @staticmethod
    def _write(stream: TextIO, line: str) -> None:
        encoding = stream.encoding or "utf-8"
        safe = line.encode(encoding, "backslashreplace").decode(encoding)
        stream.write(safe + "\n")
