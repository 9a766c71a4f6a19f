"""`export` and `import`: the whole household out and in again."""

from __future__ import annotations

from pathlib import Path

from app.cli.call import Call, Exit
from app.cli.done import said_done
from app.wording.languages import msg
from models.disk import make_folder
from models.exchange.fleet import ImportFleet, read_fleet, write_fleet
from models.file import create_household
from models.words import Language
from resources.loader import load_catalogue


def run_export(call: Call) -> int:
    """Write the household into a folder."""
    folder: Path = call.arguments.folder
    with call.open_services(call.file, False) as services:
        with services.household.read() as session:
            written = write_fleet(session, folder)
        line = services.wording.text(msg("Everything is written to {path}."), path=str(written))
        said_done(call, "export", paths=[written], lines=[line])
    return Exit.DONE


def run_import(call: Call) -> int:
    """Take in an export; what stood there is kept as a backup. Where there is no household yet one
    is begun with it, whole or not at all."""
    source: Path = call.arguments.source
    act = read_fleet(source, kinds=load_catalogue().kinds)
    begun = not call.file.exists()
    kept: Path | None = None
    if begun:
        _begin(call, act)
    else:
        with call.open_services(call.file, True) as services:
            writer = services.household.need_writer()
            kept = services.household.back_up(moment=call.moment)
            writer.run(act, moment=call.moment)
    lines = [
        call.tongue.count(msg("{n} machine taken in."), msg("{n} machines taken in."), act.machines)
    ]
    if begun:
        said = msg("A household was begun at {path}.")
        lines.insert(0, call.tongue.text(said, path=str(call.file)))
    if kept is not None:
        lines.append(call.tongue.text(msg("What stood there is kept as {path}."), path=str(kept)))
    said_done(call, "import", paths=[call.file], lines=lines)
    return Exit.DONE


def _begin(call: Call, act: ImportFleet) -> None:
    if call.file == call.places.household:
        make_folder(call.file.parent)
    name = call.tongue.text(msg("My shed"))
    language = Language(call.tongue.language)
    create_household(call.file, name=name, moment=call.moment, language=language, first=act).close()
