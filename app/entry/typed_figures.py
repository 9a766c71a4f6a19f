"""The figures in a line as people type it: how long it ran, and what it cost.

A figure is taken whole or not at all, and one that is not read is named, never passed over.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from schedules.units import Dimension, Typed, Unit, UnitRefusedError, UnitSystem, parse_amount

_START = r"(?<![\w.,:/+\-−–—'’£$€])"
_HOURS = r"(?:hours?|hrs?|h)"
_MINUTES = r"(?:minutes?|mins?|min)"
_END = r"(?!\w)(?![.,:/\-][0-9])(?!/)"
_RUN = re.compile(
    rf"{_START}(?P<hours>[0-9]+)\s*{_HOURS}\s*(?:,\s*|and\s+)?(?P<minutes>[0-9]+)\s*{_MINUTES}{_END}"
    rf"|{_START}(?P<number>[0-9]+(?:[.,:][0-9]+)?)\s*(?P<unit>{_HOURS}|{_MINUTES}){_END}",
    re.IGNORECASE,
)
_SUM = re.compile(
    rf"(?<![\w.,:/+\-−–—])[£$€]\s*(?P<a>[0-9]{{1,7}}(?:[.,][0-9]{{2}})?){_END}(?!\s*[£$€%])"
    rf"|{_START}(?P<b>[0-9]{{1,7}}(?:[.,][0-9]{{2}})?)\s*[£$€](?!\w)"
    rf"|(?P<before>(?:\S+\s+)?){_START}(?P<c>[0-9]{{1,7}}[.,][0-9]{{2}})(?=[\s.,;!)]*$)",
)
# What stands before a bare figure that is a time of day, a gap or a meter, not a sum.
_NO_SUM = frozenset(
    {"at", "gap", "to", "from", "by", "before", "after", "since", "until", "meter", "shows"}
    | {"reads", "read", "ran", "run", "used", "clock", "about", "around"}
)
_LEFT_UNIT = re.compile(rf"\b(?:{_HOURS}(?!\s*meter)|{_MINUTES})\b", re.IGNORECASE)
_LEFT_WORD = re.compile(
    r"(?<![\w-])(?:two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|fifteen|twenty"
    r"|thirty|forty|fifty|sixty|ninety|hundred|dozen|half|halves|quarters?|twice|thrice)(?![\w-])",
    re.IGNORECASE,
)
_CLUSTER = re.compile(r"\S*[^\W_a-zA-Z]\S*")


@dataclass(frozen=True, slots=True, kw_only=True)
class Figures:
    """What was read of a line, and what is left of it. `unread`: a figure that was not taken;
    `choices`: what that one can mean."""

    rest: str
    run: Typed | None = None
    cents: int | None = None
    unread: str = ""
    choices: tuple[str, ...] = ()


def without_figures(line: str) -> str:
    """The line without its run times and sums."""
    return _SUM.sub(_kept, _RUN.sub(" ", line))


def _kept(found: re.Match[str]) -> str:
    return f"{found['before'] or ''} "


def has_run(line: str) -> bool:
    """Whether a run time stands in it."""
    return _RUN.search(line) is not None


def read_figures(line: str, *, system: UnitSystem, answered: str = "") -> Figures:
    """The run time and the sum of a line from which name and day are gone. `answered`: what a
    figure that can be taken in two ways means."""
    rest, run = line, None
    if match := _RUN.search(line):
        ways = _ways(match)
        if len(ways) > 1 and answered not in ways:
            return Figures(rest=line, unread=match[0].strip(), choices=ways)
        run = _typed(answered if len(ways) > 1 else next(iter(ways), ""), system)
        if run is None:
            return Figures(rest=line, unread=match[0].strip())
        rest = f"{line[: match.start()]} {line[match.end() :]}"
    cents = None
    found = _SUM.search(rest)
    if found and (found["before"] or "").strip().casefold() not in _NO_SUM:
        group = "a" if found["a"] else "b" if found["b"] else "c"
        whole, _, part = found[group].replace(",", ".").partition(".")
        cents = int(whole) * 100 + int(part or 0)
        rest = f"{rest[: found.start()]}{found['before'] or ''} {rest[found.end() :]}"
    return Figures(rest=rest, run=run, cents=cents, unread=_unread(rest))


def _ways(match: re.Match[str]) -> tuple[str, ...]:
    """What a run time can mean: a comma before three figures parts thousands or decimals."""
    if match["hours"]:
        return (f"{match['hours']} h {match['minutes']} min",)
    number, unit = match["number"], match["unit"]
    whole, comma, part = number.partition(",")
    if comma and len(part) == 3 and len(whole) <= 3 and int(whole):
        return f"{whole}.{part} {unit}", f"{whole}{part} {unit}"
    return (f"{number.replace(',', '.')} {unit}",)


def _typed(text: str, system: UnitSystem) -> Typed | None:
    try:
        return parse_amount(
            text, Dimension.TIME, system=system, decimal_comma=False, implied=Unit.HOUR
        )
    except UnitRefusedError:
        return None


def _unread(rest: str) -> str:
    """The first figure that is left, written in digits, in words or as a unit alone."""
    for cluster in _CLUSTER.findall(rest):
        if any(sign.isnumeric() for sign in cluster):
            return cluster.strip(",;!?()“”\"'")
    left = _LEFT_UNIT.search(rest) or _LEFT_WORD.search(rest)
    return left[0] if left else ""
