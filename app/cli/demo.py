"""`demo`: a made-up shed to look around in. It is a copy; nothing done to it is kept."""

from __future__ import annotations

import os
import shutil
import tempfile
from datetime import timedelta
from pathlib import Path

from app.cli.call import Call, Exit
from app.cli.done import said_done
from app.cli.due import tell_due
from app.printing import performer, print_sheet, write_whole
from app.screen import has_screen, qt_starts
from app.services import Services
from app.wording.languages import msg
from models.words import Paper, SheetSort

FILE_NAME = "made-up shed.firstpull"
KEPT = timedelta(days=1)
SHEETS = (SheetSort.PRESEASON, SheetSort.CARD, SheetSort.BUYER)


def run_demo(call: Call) -> int:
    """Build the shed, print its list, write its sheets; with --window open its rooms too."""
    folder = _folder(call)
    file = build(folder, call)
    wants_window: bool = call.arguments.window
    if wants_window and has_screen(os.environ) and qt_starts():
        return call.show_window(file)
    if wants_window:
        call.output.warn(
            call.tongue.text(
                msg("There is no screen here to open a window on; here is the shed in words.")
            )
        )
    out: Path = call.arguments.out or folder / "sheets"
    with call.open_services(file, True) as services:
        written = _write_sheets(services, out, call)
        if not call.output.as_json:
            tell_due(services, on=call.moment.today, output=call.output, why=False)
            call.output.say()
        names = services.wording.listed([path.name for path in written])
        said = msg("The sheets are written to {path}: {names}.")
        lines = [
            services.wording.text(said, path=str(out), names=names),
            services.wording.text(msg("The shed itself is {path}."), path=str(file)),
        ]
        said_done(call, "demo", paths=[file, *written], lines=lines)
    return Exit.DONE


def build(folder: Path, call: Call) -> Path:
    """A fresh copy of the made-up shed as it stands on the day asked about."""
    from sample_db.build import build_sample

    file = folder / FILE_NAME
    build_sample(file, on=call.moment.today)
    return file


def _folder(call: Call) -> Path:
    """A folder of this call's own, so that two demos at once do not meet; old ones are let go."""
    parent = call.places.cache
    try:
        parent.mkdir(parents=True, exist_ok=True)
        for old in parent.glob("demo-*"):
            if old.stat().st_mtime < (call.moment.now - KEPT).timestamp():
                shutil.rmtree(old, ignore_errors=True)
        return Path(tempfile.mkdtemp(prefix="demo-", dir=parent))
    except OSError:
        return Path(tempfile.mkdtemp(prefix="firstpull-demo-"))


def _write_sheets(services: Services, out: Path, call: Call) -> list[Path]:
    out.mkdir(parents=True, exist_ok=True)
    paper = Paper(services.settings.paper)
    written: list[Path] = []
    for sort in SHEETS:
        page = print_sheet(
            services,
            sort,
            paper=paper,
            only=None,
            moment=call.moment,
            perform=performer(services, call.moment),
        )
        if page is not None:
            target = out / f"{sort.value}.pdf"
            write_whole(target, page.pdf)
            written.append(target)
    return written
