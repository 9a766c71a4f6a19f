"""The lines of a printed sheet as they travel: by the uid of each machine and job.

A row's number means nothing in another file, and a sheet that came along with the wrong machine's
number would book its work there without a word. Exports of old said row numbers; they are taken
where the export itself leaves no doubt whose they were, and else the sheet stays but has no lines.
"""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, cast

from models.acts.sheets import SheetLine, lines_of

NO_LINES = "[]"
_FIELDS = {"machine", "tasks", "job", "text"}


@dataclass(frozen=True, slots=True)
class TravellingLine:
    """A line of a sheet between two files."""

    machine: str
    tasks: tuple[str, ...]
    job: str | None
    text: str


def outgoing_lines(text: str, machines: Mapping[int, str], jobs: Mapping[int, str]) -> str:
    """What is kept of a sheet's lines, with uids. No lines where they name what is not there; what
    names no machine is kept as it stands."""
    if names_no_machine(text):
        return text
    try:
        return json.dumps(
            [
                {
                    "machine": machines[line.machine_id],
                    "tasks": line.tasks,
                    "job": None if line.job_id is None else jobs[line.job_id],
                    "text": line.text,
                }
                for line in lines_of(text)
            ],
            ensure_ascii=False,
        )
    except (KeyError, ValueError):
        return NO_LINES


def names_no_machine(text: str) -> bool:
    """Whether these are lines of another sort that name no machine: they book nothing anywhere,
    so they go with their sheet word for word."""
    try:
        said: Any = json.loads(text)
    except (ValueError, RecursionError):
        return False
    if not isinstance(said, list) or not said:
        return False
    return all(
        isinstance(each, dict) and not {"machine", "machine_id"} & set(cast("dict[str, Any]", each))
        for each in cast("list[Any]", said)
    )


def check_lines(text: str) -> None:
    """Raises ValueError for lines that are neither of today's nor of an older export."""
    if names_no_machine(text):
        if "\0" in text:
            raise ValueError("lines")
        text.encode()  # refuses halves of surrogate pairs
    elif not _is_old(text):
        travelled(text)


def _is_old(text: str) -> bool:
    try:
        return bool(lines_of(text))
    except ValueError:
        return False


def travelled(text: str) -> tuple[TravellingLine, ...]:
    """The lines as an export says them. Raises ValueError."""
    try:
        said: Any = json.loads(text)
    except RecursionError:
        raise ValueError("lines") from None
    if not isinstance(said, list):
        raise ValueError("lines")  # noqa: TRY004  (told as one with the others)
    return tuple(_line(each) for each in cast("list[Any]", said))


def _line(said: Any) -> TravellingLine:
    if not isinstance(said, dict) or set(cast("dict[str, Any]", said)) != _FIELDS:
        raise ValueError("lines")
    line = cast("dict[str, Any]", said)
    machine, tasks, job, text = (line[name] for name in ("machine", "tasks", "job", "text"))
    if not isinstance(tasks, list):
        raise ValueError("lines")  # noqa: TRY004
    codes = cast("list[Any]", tasks)
    for word in (machine, text, *codes, *([] if job is None else [job])):
        if not isinstance(word, str) or "\0" in word:
            raise ValueError("lines")
        word.encode()  # refuses halves of surrogate pairs
    return TravellingLine(machine, tuple(codes), job, text)


def known_again(
    text: str, machines: Sequence[str], jobs: Mapping[str, Sequence[str]]
) -> tuple[TravellingLine, ...]:
    """The lines of an export, whoever wrote it. Raises ValueError.

    `machines`: the machines of that sheet in the order of the export, which is that of the row
    numbers; `jobs`: those of each machine, in the same order. Row numbers of an older export are
    told by their order alone, and only where there are as many of them as of rows.
    """
    if not _is_old(text):
        return travelled(text)
    lines = lines_of(text)
    by_number = _paired({line.machine_id for line in lines}, machines)
    named: dict[int, str] = {}
    for number, uid in by_number.items():
        wanted = {
            line.job_id for line in lines if line.machine_id == number and line.job_id is not None
        }
        named |= _paired(wanted, jobs.get(uid, ())) if wanted else {}
    if all(_is_told(line, by_number, named) for line in lines):
        return tuple(
            TravellingLine(
                machine=by_number[line.machine_id],
                tasks=line.tasks,
                job=None if line.job_id is None else named[line.job_id],
                text=line.text,
            )
            for line in lines
        )
    return ()


def _paired(numbers: set[int], uids: Sequence[str]) -> dict[int, str]:
    return dict(zip(sorted(numbers), uids, strict=True)) if len(numbers) == len(uids) else {}


def _is_told(line: SheetLine, machines: Mapping[int, str], jobs: Mapping[int, str]) -> bool:
    return line.machine_id in machines and (line.job_id is None or line.job_id in jobs)
