"""Any of our frozen values as Python text that can be pasted into a test."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import MISSING, fields, is_dataclass
from datetime import date
from enum import Enum
from fractions import Fraction


def pasted(value: object) -> str:
    """Python text of a value; fields that stand at their default are left out."""
    if isinstance(value, Enum):
        return f"{type(value).__name__}.{value.name}"
    if isinstance(value, date):
        return f"date({value.year}, {value.month}, {value.day})"
    if isinstance(value, Fraction):
        return f"Fraction({value.numerator}, {value.denominator})"
    if isinstance(value, tuple):
        inner = ", ".join(pasted(part) for part in value)
        return f"({inner},)" if len(value) == 1 else f"({inner})"
    if isinstance(value, frozenset):
        return "frozenset({" + ", ".join(sorted(pasted(part) for part in value)) + "})"
    if isinstance(value, Mapping):
        return "{" + ", ".join(f"{pasted(k)}: {pasted(v)}" for k, v in value.items()) + "}"
    if is_dataclass(value) and not isinstance(value, type):
        told = [
            f"{known.name}={pasted(getattr(value, known.name))}"
            for known in fields(value)
            if known.default is MISSING or getattr(value, known.name) != known.default
        ]
        return f"{type(value).__name__}({', '.join(told)})"
    return repr(value)
