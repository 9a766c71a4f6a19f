"""The door: a command of the command line, or the window. Services are built here alone.

Day, instant and language are read here and handed down. Nothing heavy is imported before it is
known to be needed: the window's first picture must not wait for the database or for paper.
"""

from __future__ import annotations

import locale
import os
import shutil
import sys
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING

from app import clock
from app.cli.call import Call, Exit
from app.cli.output import Output
from app.cli.parser import build_parser
from app.errors import guarded
from app.places import Places, places
from app.screen import has_screen
from app.wording.languages import language_of
from app.wording.tongue import Tongue
from models.moment import Moment

if TYPE_CHECKING:
    from argparse import Namespace

    from app.services import Services
    from app.wording.wording import Wording

COMMANDS: Mapping[str, tuple[str, str]] = {
    "demo": ("app.cli.demo", "run_demo"),
    "due": ("app.cli.due", "run_due"),
    "fuel": ("app.cli.fuel", "run_fuel"),
    "sheet": ("app.cli.sheet", "run_sheet"),
    "find": ("app.cli.find", "run_find"),
    "export": ("app.cli.exchange", "run_export"),
    "import": ("app.cli.exchange", "run_import"),
    "check": ("app.cli.upkeep", "run_check"),
    "backup": ("app.cli.upkeep", "run_backup"),
    "restore": ("app.cli.upkeep", "run_restore"),
}


def program_version() -> str:
    from importlib.metadata import PackageNotFoundError, version

    try:
        return version("firstpull")
    except PackageNotFoundError:  # started from a tree that was never installed
        return "0.1.0"


def main(argv: Sequence[str] | None = None) -> int:
    tongue = Tongue(_language())
    arguments = build_parser(tongue, program_version).parse_args(argv)
    here = places()
    try:
        return guarded(
            lambda: _run(arguments, tongue, here),
            state=here.state,
            tongue=tongue,
            now=lambda: clock.moment().now,
            failed=Exit.UNUSABLE,
        )
    except KeyboardInterrupt:
        return 130


# A backup bears the day it was made on, whatever day was asked about.
DATED_TODAY = frozenset({"backup", "restore"})


def _run(arguments: Namespace, tongue: Tongue, here: Places) -> int:
    width = shutil.get_terminal_size().columns
    output = Output(sys.stdout, sys.stderr, as_json=arguments.json, width=width)

    def moment() -> Moment:
        found = clock.moment(None if arguments.command in DATED_TODAY else arguments.on)
        # In a made-up shed any day may be played through.
        return replace(found, ahead=False) if arguments.command == "demo" else found

    begin = arguments.file is None or arguments.new
    call = Call(
        arguments=arguments,
        file=arguments.file if arguments.file is not None else here.household,
        moment=moment(),
        tongue=tongue,
        places=here,
        output=output,
        open_services=lambda path, write: _open_services(path, moment(), write),
        show_window=lambda path: _open_window(path, moment, tongue, here, begin=begin),
    )
    if arguments.take_over:
        code = _command(call, output, _take_over)
        if code != Exit.DONE:
            return code
    if arguments.command is None:
        return _window_or_words(call)
    module, name = COMMANDS[arguments.command]
    return _command(call, output, getattr(import_module(module), name))


def _take_over(call: Call) -> int:
    from models.header import real_path
    from models.lock import take_over

    if call.arguments.command != "demo":  # which has a file of its own
        take_over(real_path(call.file), moment=call.moment)
    return Exit.DONE


def _command(call: Call, output: Output, command: Callable[[Call], int]) -> int:
    from models.errors import Refused, Trouble

    arguments, tongue = call.arguments, call.tongue
    try:
        code = command(call)
        output.flush()
    except Trouble as trouble:
        output.warn(_wording(tongue).trouble(trouble))
        return Exit.UNUSABLE
    except Refused as refused:
        output.warn(_wording(tongue).refused(refused))
        return Exit.UNUSABLE if arguments.command == "import" else Exit.USAGE
    except BrokenPipeError:
        # Whoever read us has seen enough; there is nobody left to tell at the interpreter's end.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return Exit.DONE
    except OSError as error:
        from models.disk import trouble_of_system

        path = Path(error.filename) if isinstance(error.filename, str) else call.file
        output.warn(_wording(tongue).trouble(trouble_of_system(error, path)))
        return Exit.UNUSABLE
    return code


def _window_or_words(call: Call) -> int:
    if call.arguments.new and os.path.lexists(call.file):
        from models.errors import Trouble, TroubleCode

        there = Trouble(TroubleCode.FILE_EXISTS, path=str(call.file))
        call.output.warn(_wording(call.tongue).trouble(there))
        return Exit.UNUSABLE
    if has_screen(os.environ):
        return call.show_window(call.file)
    call.output.warn(
        call.tongue.text(
            "There is no screen here to open a window on. "
            "What can be asked without one: firstpull --help."
        )
    )
    return Exit.USAGE


def _open_window(
    path: Path, moment: Callable[[], Moment], tongue: Tongue, here: Places, *, begin: bool
) -> int:
    from app.opening import open_window

    return open_window(
        path,
        clock=moment,
        language=tongue.language,
        state=here.state,
        made_up=here.cache in path.parents,
        begin=begin,
    )


def _open_services(path: Path, moment: Moment, write: bool) -> Services:  # noqa: FBT001
    from app.services import open_services

    return open_services(path, moment=moment, write=write)


def _wording(tongue: Tongue) -> Wording:
    from app.wording.wording import Wording
    from resources.loader import load_catalogue

    return Wording(tongue.language, tongue.units, load_catalogue())


def _language() -> str:
    """The user's language, from the environment first: it is what people set."""
    for name in ("LC_ALL", "LC_MESSAGES", "LANG"):
        if os.environ.get(name):
            return language_of(os.environ[name])
    return language_of(locale.getlocale()[0])


if __name__ == "__main__":
    raise SystemExit(main())
