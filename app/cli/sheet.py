"""`sheet`: a page to print, as a PDF."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from app.cli.call import Call, Exit
from app.cli.done import said_done
from app.printing import Page, performer, print_sheet, write_whole
from app.services import Services
from app.wording.languages import msg
from models.words import Paper, SheetSort
from schedules.facts import MachineId

NUMBERED = frozenset({SheetSort.PRESEASON, SheetSort.STORAGE, SheetSort.WORK, SheetSort.FAULTS})
"""Sheets that come back, and so are noted in the file."""
STORED = "stored"
BENCH = "bench"
LOOKS = "looks"
"""Five looks for the pocket: they never come back as a sheet either."""
RESCUE = "rescue"
"""The record of a machine: it never comes back, so the file keeps no sort of sheet for it."""
NO_MACHINE = msg("There is no machine to print it for.")
NOTHING = {
    SheetSort.WORK: msg("Nothing that is to be done fits into that time."),
    SheetSort.SHOPPING: msg("There is nothing to buy."),
    SheetSort.FAULTS: msg("No search for a fault runs. Begin one in the window."),
    SheetSort.TAGS: msg("There is no can and no tank to hang a tag on."),
}


def run_sheet(call: Call) -> int:
    """Write the PDF, and note in the file that it was printed so that it can come back."""
    if call.arguments.sort == RESCUE:
        return _rescue(call)
    if call.arguments.sort in (STORED, BENCH):
        return _handle_tags(call, call.arguments.sort)
    if call.arguments.sort == LOOKS:
        return _looks(call)
    sort = SheetSort(call.arguments.sort)
    out: Path = call.arguments.out
    wanted: list[int] | None = call.arguments.machine
    with call.open_services(call.file, sort in NUMBERED) as services:
        paper = Paper(call.arguments.paper or services.settings.paper)
        only = None if wanted is None else frozenset(MachineId(number) for number in wanted)
        missing = _missing(services, wanted or [], call)
        if missing:
            said = msg("There is no machine {numbers} in this household.")
            call.output.warn(services.wording.text(said, numbers=", ".join(missing)))
            return Exit.USAGE
        page = print_sheet(
            services,
            sort,
            paper=paper,
            only=only,
            moment=call.moment,
            perform=performer(services, call.moment),
            minutes=call.arguments.minutes,
            single=call.arguments.single,
        )
        if page is None:
            call.output.warn(services.wording.text(NOTHING.get(sort, NO_MACHINE)))
            return Exit.USAGE
        write_whole(out, page.pdf)
        _tell(services, page, out, call)
    return Exit.DONE


def _handle_tags(call: Call, sort: str) -> int:
    """Tags for handles: of what is put away, or of what stands on the bench."""
    from app.season.bench_paper import bench_pdf  # nothing else needs them
    from app.season.paper import stored_pdf

    out: Path = call.arguments.out
    wanted: list[int] | None = call.arguments.machine
    with call.open_services(call.file, False) as services:
        words = services.wording
        only = None if wanted is None else frozenset(MachineId(number) for number in wanted)
        paper = Paper(call.arguments.paper or services.settings.paper)
        if sort == BENCH:
            pdf = bench_pdf(services, paper=paper, only=only, moment=call.moment)
            nothing = msg("None of these machines stands on the bench.")
            said = msg("The bench tags are written to {path}.")
        else:
            pdf = stored_pdf(services, paper=paper, only=only, on=call.moment.today)
            nothing = msg("None of these machines is put away.")
            said = msg("The stored tags are written to {path}.")
        if pdf is None:
            call.output.warn(words.text(nothing))
            return Exit.USAGE
        write_whole(out, pdf)
        said_done(call, "sheet", paths=[out], lines=[words.text(said, path=str(out))])
    return Exit.DONE


def _looks(call: Call) -> int:
    from app.appraisal.pocket import pocket_pdf  # nothing else needs it

    out: Path = call.arguments.out
    wanted: list[int] | None = call.arguments.machine
    with call.open_services(call.file, False) as services:
        words = services.wording
        missing = _missing(services, wanted or [], call)
        if missing:
            said = msg("There is no machine {numbers} in this household.")
            call.output.warn(words.text(said, numbers=", ".join(missing)))
            return Exit.USAGE
        only = None if wanted is None else frozenset(MachineId(number) for number in wanted)
        paper = Paper(call.arguments.paper or services.settings.paper)
        pdf = pocket_pdf(services, paper=paper, only=only, on=call.moment.today)
        if pdf is None:
            call.output.warn(words.text(NO_MACHINE))
            return Exit.USAGE
        write_whole(out, pdf)
        said = msg("The five looks are written to {path}.")
        said_done(call, "sheet", paths=[out], lines=[words.text(said, path=str(out))])
    return Exit.DONE


def _rescue(call: Call) -> int:
    from app.rescue import print_rescue  # nothing else needs it

    out: Path = call.arguments.out
    wanted: list[int] | None = call.arguments.machine
    with call.open_services(call.file, False) as services:
        words = services.wording
        missing = _missing(services, wanted or [], call)
        pdf = None
        if not missing:
            only = None if wanted is None else frozenset(MachineId(number) for number in wanted)
            paper = Paper(call.arguments.paper or services.settings.paper)
            pdf = print_rescue(services, paper=paper, only=only, moment=call.moment)
        if pdf is None:
            said = msg("There is no machine {numbers} in this household.")
            there = words.text(said, numbers=", ".join(missing)) if missing else None
            call.output.warn(there or words.text(NO_MACHINE))
            return Exit.USAGE
        write_whole(out, pdf)
        said = msg("The record is written to {path}.")
        said_done(call, "sheet", paths=[out], lines=[words.text(said, path=str(out))])
    return Exit.DONE


def _missing(services: Services, wanted: Sequence[int], call: Call) -> list[str]:
    there = {int(judging.facts.machine_id) for judging in services.fleet(on=call.moment.today)}
    return [str(number) for number in wanted if number not in there]


def _tell(services: Services, page: Page, out: Path, call: Call) -> None:
    wording = services.wording
    what = wording.word(page.sort)
    lines = [wording.text(msg("Written to {path}: {sheet}."), sheet=what, path=str(out))]
    if page.numbers:
        numbers = wording.listed(list(page.numbers.values()))
        lines.append(wording.text(msg("Its number, to enter what it says: {n}."), n=numbers))
    elif page.notice is not None:
        lines.append(wording.trouble(page.notice))
    said_done(call, "sheet", paths=[out], lines=lines)
