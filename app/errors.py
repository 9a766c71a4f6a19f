"""The last net: what nobody foresaw is written to a log and said in one calm sentence.

What was foreseen (`Refused`, `Trouble`) is said where it happens and never comes this far.
"""

from __future__ import annotations

import sys
import threading
import traceback
from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from types import TracebackType

from app.wording.tongue import Tongue

LOG_NAME = "faults.log"
# Older faults are let go when the log is longer than this.
MOST_BYTES = 1_000_000


def log_fault(fault: BaseException, state: Path, *, now: datetime) -> Path | None:
    """Write a fault to the log; returns where, or None when not even that can be done."""
    log = state / LOG_NAME
    said = "".join(traceback.format_exception(fault))
    head = f"\n--- {now.isoformat(timespec='seconds')} Python {sys.version.split()[0]}\n"
    try:
        state.mkdir(parents=True, exist_ok=True)
        mode = "w" if log.exists() and log.stat().st_size > MOST_BYTES else "a"
        with log.open(mode, encoding="utf-8", errors="backslashreplace") as target:
            target.write(head + said)
    except OSError:
        return None
    return log


def calm_sentence(tongue: Tongue, log: Path | None) -> str:
    """What the user is told of a fault."""
    if log is None:
        return tongue.text(
            "Something went wrong in the program itself, and it could not be written down. "
            "What you entered before is safe."
        )
    return tongue.text(
        "Something went wrong in the program itself. What you entered before is safe; "
        "what happened is written in {log}.",
        log=str(log),
    )


def guarded(
    run: Callable[[], int], *, state: Path, tongue: Tongue, now: Callable[[], datetime], failed: int
) -> int:
    """Run something whole; a fault in it is logged, said on standard error, and gives `failed`."""
    try:
        return run()
    except Exception as fault:
        log = log_fault(fault, state, now=now())
        print(calm_sentence(tongue, log), file=sys.stderr)
        return failed


def install_hooks(
    state: Path, *, now: Callable[[], datetime], tell: Callable[[Path | None], None]
) -> None:
    """For a program with a window: faults in events and threads are logged, then told."""

    def caught(fault: BaseException) -> None:
        tell(log_fault(fault, state, now=now()))

    def at_top(
        sort: type[BaseException], fault: BaseException, trace: TracebackType | None
    ) -> None:
        if isinstance(fault, KeyboardInterrupt):
            sys.__excepthook__(sort, fault, trace)
        else:
            caught(fault)

    def in_thread(arguments: threading.ExceptHookArgs) -> None:
        if arguments.exc_value is not None and arguments.exc_type is not SystemExit:
            caught(arguments.exc_value)

    sys.excepthook = at_top
    threading.excepthook = in_thread
