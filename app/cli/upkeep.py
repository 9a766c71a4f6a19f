"""`check`, `backup`, `restore`: the file itself."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from app.cli.call import Call, Exit
from app.cli.done import said_done
from app.wording.languages import msg
from models.backup import Backup, list_backups, restore, verify_backup
from models.errors import Trouble


def run_check(call: Call) -> int:
    """Look the file and its newest backup through. Gives 1 when something asks for action."""
    with call.open_services(call.file, False) as services:
        services.household.check()
        wording = services.wording
        lines = [wording.text(msg("{path} is whole."), path=str(call.file))]
        backups = list_backups(services.household.path)
        exit_code = Exit.DONE
        if not backups:
            lines.append(wording.text(msg("There is no backup of it yet; make one.")))
            exit_code = Exit.ACTION
        else:
            try:
                verify_backup(backups[0].path)
                said = msg("Its newest backup, of {day}, is whole: {path}.")
                path = str(backups[0].path)
                lines.append(wording.text(said, day=backups[0].day, path=path))
            except Trouble as trouble:
                lines.append(wording.trouble(trouble))
                exit_code = Exit.ACTION
        said_done(call, "check", paths=[call.file], lines=lines)
    return exit_code


def run_backup(call: Call) -> int:
    """Make a backup beside the file."""
    with call.open_services(call.file, False) as services:
        made = services.household.back_up(moment=call.moment)
        line = services.wording.text(msg("The backup is {path}; it was checked."), path=str(made))
        said_done(call, "backup", paths=[made], lines=[line])
    return Exit.DONE


def run_restore(call: Call) -> int:
    """Put a backup back. What stood in its place is kept as a backup too."""
    backups = list_backups(call.file)
    if call.arguments.list:
        said_done(
            call,
            "restore",
            paths=[backup.path for backup in backups],
            lines=_listed(call, backups),
        )
        return Exit.DONE
    chosen: Path | None = call.arguments.backup
    if chosen is None:
        if not backups:
            call.output.warn(call.tongue.text(msg("There is no backup beside it to put back.")))
            return Exit.UNUSABLE
        chosen = backups[0].path
    kept = restore(call.file, chosen, moment=call.moment)
    said = msg("{backup} stands again at {path}.")
    lines = [call.tongue.text(said, backup=str(chosen), path=str(call.file))]
    if kept is not None:
        lines.append(call.tongue.text(msg("What stood there is kept as {path}."), path=str(kept)))
    said_done(call, "restore", paths=[call.file], lines=lines)
    return Exit.DONE


def _listed(call: Call, backups: Sequence[Backup]) -> list[str]:
    if not backups:
        return [call.tongue.text(msg("There is no backup beside it."))]
    return [
        call.tongue.text(
            msg("{day}, {size}: {path}"),
            day=backup.day,
            size=call.tongue.file_size(backup.size),
            path=str(backup.path),
        )
        for backup in backups
    ]
