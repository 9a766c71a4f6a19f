"""The command line as it is typed: commands, options, and one sentence when it is typed wrong."""

from __future__ import annotations

import argparse
import re
import sys
from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import NoReturn

from app.wording.languages import msg
from app.wording.tongue import Tongue

FIRST_DAY = date(1900, 1, 1)
LAST_DAY = date(2199, 12, 31)
COMMANDS = {
    "demo": msg("look around a made-up shed: its list, its sheets, with --window its rooms"),
    "due": msg("what is due on each machine, and why"),
    "fuel": msg("what stands in the cans and tanks, and what to do with it"),
    "sheet": msg("a page to print"),
    "find": msg("what to test next on a machine that does not do what it should"),
    "export": msg("write the whole household to a folder"),
    "import": msg("take in what an export wrote"),
    "check": msg("look the file through"),
    "backup": msg("make a backup beside the file"),
    "restore": msg("put a backup back in the file's place"),
}
SHEETS = (
    "preseason",
    "card",
    "buyer",
    "storage",
    "stored",
    "bench",
    "rescue",
    "work",
    "shopping",
    "faults",
    "looks",
    "tags",
)
LONGEST_SITTING = 24 * 60
_ISO_DAY = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}")


class Parser(argparse.ArgumentParser):
    """Says what is wrong in one sentence, and ends with 2."""

    tongue: Tongue

    def error(self, message: str) -> NoReturn:
        hint = self.tongue.text(
            msg("Type {program} --help for what can be asked."), program=self.prog
        )
        self.exit(2, f"{message[:1].upper()}{message[1:].rstrip('.')}. {hint}\n")


class Version(argparse.Action):
    """Says which version this is. It is looked up only when asked for: that takes its time."""

    tell: Callable[[], str]

    def __call__(self, parser: argparse.ArgumentParser, *_: object) -> None:
        sys.stdout.write(f"firstpull {self.tell()}\n")
        parser.exit()


def build_parser(tongue: Tongue, version: Callable[[], str]) -> argparse.ArgumentParser:
    """The whole command line in one language."""

    class Here(Parser):
        pass

    Here.tongue = tongue
    parser = Here(
        prog="firstpull",
        allow_abbrev=False,
        description=tongue.text(
            msg("Keeps a shed of seasonal machines ready. Without a command it opens its window.")
        ),
    )
    asked = parser.add_argument(
        "--version", action=Version, nargs=0, help=tongue.text(msg("say which version this is"))
    )
    if isinstance(asked, Version):
        asked.tell = version
    _add_common(parser, tongue, first=True)
    parser.add_argument(
        "--new",
        action="store_true",
        help=tongue.text(msg("begin a new household at PATH and open its window")),
    )
    commands = parser.add_subparsers(
        dest="command",
        metavar=tongue.text(msg("COMMAND")),
        parser_class=Here,
    )
    made: dict[str, argparse.ArgumentParser] = {}
    for name, what in COMMANDS.items():
        made[name] = commands.add_parser(
            name, help=tongue.text(what), description=tongue.text(what), allow_abbrev=False
        )
        _add_common(made[name], tongue, first=False)
    _add_own(made, tongue)
    return parser


def _add_common(parser: argparse.ArgumentParser, tongue: Tongue, *, first: bool) -> None:
    """The options of every command; they may stand before it or after it."""

    def absent(value: object) -> object:
        return value if first else argparse.SUPPRESS

    parser.add_argument(
        "--file",
        type=Path,
        default=absent(None),
        metavar=tongue.text(msg("PATH")),
        help=tongue.text(msg("the household's file; otherwise the one in your data folder")),
    )
    parser.add_argument(
        "--on",
        type=lambda text: day(text, tongue),
        default=absent(None),
        metavar=tongue.text(msg("DATE")),
        help=tongue.text(msg("the day to answer for, like 2026-11-25; otherwise today")),
    )
    parser.add_argument(
        "--json",
        action="store_true",
        default=absent(False),
        help=tongue.text(msg("answer with JSON for other programs")),
    )
    parser.add_argument(
        "--take-over",
        action="store_true",
        default=absent(False),
        help=tongue.text(
            msg("write to a file that another computer left open; see that it has it open no more")
        ),
    )


def _add_own(made: dict[str, argparse.ArgumentParser], tongue: Tongue) -> None:
    """What only one command takes."""
    path = tongue.text(msg("PATH"))
    made["demo"].add_argument(
        "--window", action="store_true", help=tongue.text(msg("open its window as well"))
    )
    made["demo"].add_argument(
        "-o",
        "--out",
        type=Path,
        metavar=path,
        help=tongue.text(msg("the folder for its sheets; otherwise one that is named")),
    )
    made["due"].add_argument(
        "--why", action="store_true", help=tongue.text(msg("say what each answer rests on"))
    )
    made["fuel"].add_argument(
        "--why", action="store_true", help=tongue.text(msg("say what each answer rests on"))
    )
    _add_sheet(made["sheet"], tongue)
    _add_find(made["find"], tongue)
    made["export"].add_argument(
        "folder",
        type=Path,
        metavar=tongue.text(msg("FOLDER")),
        help=tongue.text(msg("where to write it")),
    )
    made["import"].add_argument(
        "source", type=Path, metavar=path, help=tongue.text(msg("the export to take in"))
    )
    restore = made["restore"]
    restore.add_argument(
        "backup",
        type=Path,
        nargs="?",
        metavar=tongue.text(msg("BACKUP")),
        help=tongue.text(msg("the backup to put back; otherwise the newest")),
    )
    restore.add_argument(
        "--list", action="store_true", help=tongue.text(msg("only list the backups there are"))
    )


def _add_find(find: argparse.ArgumentParser, tongue: Tongue) -> None:
    find.add_argument(
        "symptom",
        nargs="?",
        metavar=tongue.text(msg("COMPLAINT")),
        help=tongue.text(msg("the code of what it does; without one they are listed")),
    )
    find.add_argument(
        "--machine",
        dest="number",
        type=lambda text: number(text, tongue),
        metavar=tongue.text(msg("NUMBER")),
        help=tongue.text(msg("the machine it is about; what its file knows is counted")),
    )
    find.add_argument(
        "--seen",
        nargs="+",
        action="extend",
        metavar=tongue.text(msg("TEST=OUTCOME")),
        help=tongue.text(
            msg(
                "what was seen already; TEST=unsure for done without being sure, TEST=cannot for "
                "not now, CAUSE=tried for a cure in vain"
            )
        ),
    )


def _add_sheet(sheet: argparse.ArgumentParser, tongue: Tongue) -> None:
    sheet.add_argument("sort", choices=SHEETS, help=tongue.text(msg("which page")))
    sheet.add_argument(
        "-o",
        "--out",
        type=Path,
        required=True,
        metavar=tongue.text(msg("OUT.pdf")),
        help=tongue.text(msg("the PDF to write")),
    )
    sheet.add_argument(
        "--machine",
        type=lambda text: number(text, tongue),
        nargs="+",
        action="extend",
        metavar=tongue.text(msg("NUMBER")),
        help=tongue.text(msg("only these machines")),
    )
    sheet.add_argument(
        "--single",
        action="store_true",
        help=tongue.text(msg("for tags: each on a page of its own size")),
    )
    sheet.add_argument(
        "--paper",
        choices=("a4", "letter"),
        help=tongue.text(msg("the paper; otherwise the household's")),
    )
    sheet.add_argument(
        "--minutes",
        type=lambda text: minutes(text, tongue),
        default=60,
        metavar=tongue.text(msg("MINUTES")),
        help=tongue.text(msg("for a work sheet: the time there is; otherwise an hour")),
    )


def day(text: str, tongue: Tongue) -> date:
    """A day as typed. Raises ArgumentTypeError with a sentence."""
    try:
        found = date.fromisoformat(text) if _ISO_DAY.fullmatch(text) else None
    except ValueError:
        found = None
    if found is None:
        raise argparse.ArgumentTypeError(
            tongue.text(msg("“{text}” is no day; type it like 2026-11-25"), text=text)
        )
    if not FIRST_DAY <= found <= LAST_DAY:
        raise argparse.ArgumentTypeError(
            tongue.text(
                msg("{day} is too far off; days from {first} to {last} can be asked about"),
                day=found,
                first=FIRST_DAY,
                last=LAST_DAY,
            )
        )
    return found


def minutes(text: str, tongue: Tongue) -> int:
    """A stretch of minutes as typed, a day's at most. Raises ArgumentTypeError with a sentence."""
    if not re.fullmatch(r"[0-9]{1,4}", text) or not 1 <= int(text) <= LONGEST_SITTING:
        raise argparse.ArgumentTypeError(
            tongue.text(
                msg("“{text}” is no time to work: 1 to {most} minutes"),
                text=text,
                most=LONGEST_SITTING,
            )
        )
    return int(text)


def number(text: str, tongue: Tongue) -> int:
    """A machine's number as typed. Raises ArgumentTypeError with a sentence."""
    if not re.fullmatch(r"[0-9]{1,15}", text):
        raise argparse.ArgumentTypeError(
            tongue.text(msg("“{text}” is no machine's number"), text=text)
        )
    return int(text)
