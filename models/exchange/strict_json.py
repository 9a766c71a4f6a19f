"""JSON from a stranger: taken when it says one thing and says it plainly, else refused."""

from __future__ import annotations

import json
import re
from typing import Any, NoReturn

from models.errors import Refused, RefusedCode

MOST_BYTES = 512 * 2**20
MOST_DEPTH = 32
_MOST_DIGITS = 19
_BRACKETS = re.compile(r'"(?:[^"\\]|\\.)*"|[\[\]{}]', re.DOTALL)
_SHOWN = 40


def parse_strict(data: bytes, *, most_bytes: int = MOST_BYTES) -> Any:
    """The value the text stands for. Raises Refused for what is no JSON, too large or too deep,
    has a key twice, fractions (nothing of ours has any), or text that is none."""
    if len(data) > most_bytes:
        raise Refused(RefusedCode.IMPORT_TOO_LARGE, bytes=len(data), most=most_bytes)
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise Refused(RefusedCode.IMPORT_NOT_TEXT, position=error.start) from None
    try:
        return json.loads(
            text,
            object_pairs_hook=_object,
            parse_int=_whole,
            parse_float=_no_number,
            parse_constant=_no_number,
        )
    except json.JSONDecodeError as error:
        raise Refused(RefusedCode.IMPORT_NOT_JSON, line=error.lineno, column=error.colno) from None
    except RecursionError:
        raise _too_deep(text) from None


def _object(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    kept: dict[str, Any] = {}
    for key, value in pairs:
        if key in kept:
            raise Refused(RefusedCode.IMPORT_KEY_TWICE, key=_shown(key))
        kept[key] = value
    return kept


def _whole(digits: str) -> int:
    return int(digits) if len(digits.lstrip("-")) <= _MOST_DIGITS else _no_number(digits)


def _no_number(number: str) -> NoReturn:
    raise Refused(RefusedCode.IMPORT_NUMBER, number=number[:_SHOWN])


def _too_deep(text: str) -> Refused:
    """Says where the nesting went too far; only looked for once the reader has given up."""
    depth = 0
    for found in _BRACKETS.finditer(text):
        depth += {"[": 1, "{": 1, "]": -1, "}": -1}.get(found[0], 0)
        if depth > MOST_DEPTH:
            start = text.rfind("\n", 0, found.start()) + 1
            line, column = text.count("\n", 0, start) + 1, found.start() - start + 1
            return Refused(RefusedCode.IMPORT_TOO_DEEP, line=line, column=column, most=MOST_DEPTH)
    return Refused(RefusedCode.IMPORT_TOO_DEEP, line=1, column=1, most=MOST_DEPTH)


def _shown(text: str) -> str:
    """Short enough for a sentence, and without halves of surrogate pairs."""
    return text[:_SHOWN].encode("utf-8", "replace").decode("utf-8")
