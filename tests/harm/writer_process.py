"""Writes to a household until it is killed.

Loads everything once and then, for each line `round seed` on its input, forks a child that opens
the file and does one thing after another, saying `done n` after each that was committed. What is
done depends on the seed alone, so that whoever killed the child can do the same up to there.
"""

from __future__ import annotations

import os
import random
import sys
from collections.abc import Callable, Iterator
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

from models.backup import back_up, restore
from models.errors import Refused
from models.exchange.fleet import export_fleet, parse_fleet, write_fleet
from models.file import create_household, open_household
from models.glance import GlanceRow, glance_key, write_glance
from models.moment import Moment
from models.writer import Act
from tests.models.small_acts import (
    AddMachine,
    AddPlace,
    AddThenFail,
    LogUse,
    RemoveMachine,
    Rename,
    RenameAll,
    StrikeUse,
)
from tests.models.whole_household import FillEverything

FIRST = datetime(2025, 11, 25, 9, 30, tzinfo=UTC)
KINDS = frozenset({"K02"})


class Doer:
    """Does the things of one round on one file, in the order the seed gives."""

    def __init__(self, path: Path, number: int, seed: int) -> None:
        self.path = path
        self.chance = random.Random(f"{seed}/{number}")
        self.number = number
        self.count = 0
        self.household = open_household(path, moment=self.moment())

    def moment(self) -> Moment:
        later = FIRST + timedelta(hours=self.number, seconds=self.count)
        return Moment(date(2025, 11, 25) + timedelta(days=self.number), later)

    def do_next(self) -> None:
        """One thing, which is one transaction or none."""
        self.count += 1
        doing = self.chance.choice(DOINGS)
        doing(self)

    def run(self, act: Act) -> None:
        try:
            self.household.need_writer().run(act, moment=self.moment())
        except Refused:
            return

    def any_number(self) -> int:
        return self.chance.randrange(50)

    def add_place(self) -> None:
        self.run(AddPlace(name=f"Place {self.number}/{self.count}"))

    def add_machine(self) -> None:
        self.run(AddMachine(name=f"Machine {self.number}/{self.count}"))

    def log_use(self) -> None:
        self.run(LogUse(number=self.any_number(), run_seconds=600, note="x" * 3000))

    def strike(self) -> None:
        self.run(StrikeUse())

    def rename(self) -> None:
        self.run(Rename(number=self.any_number(), name=f"Name {self.any_number()}"))

    def rename_all(self) -> None:
        self.run(RenameAll(note=f"note {self.any_number()}" * 50))

    def remove(self) -> None:
        self.run(RemoveMachine(number=self.any_number()))

    def fail(self) -> None:
        self.run(AddThenFail())

    def undo(self) -> None:
        self.household.need_writer().undo(moment=self.moment())

    def redo(self) -> None:
        self.household.need_writer().redo(moment=self.moment())

    def take_in(self) -> None:
        """Another household, whole, in one act; its place has the name of none here."""
        with self.household.read() as session:
            known = export_fleet(session)
        self.run(parse_fleet(known, kinds=KINDS))

    def fill(self) -> None:
        with self.household.read() as session:
            if b'"Lean-to"' in export_fleet(session):
                return
        self.run(FillEverything())

    def back_up(self) -> None:
        self.household.back_up(moment=self.moment())

    def back_up_daily(self) -> None:
        self.household.back_up_daily(moment=self.moment())

    def write_out(self) -> None:
        with self.household.read() as session:
            write_fleet(session, self.path.parent / "out")

    def glance(self) -> None:
        row = GlanceRow(machine_id=1, name="x", kind="K02", place="", state="fit", sentence={})
        key = glance_key(self.path)
        write_glance(self.path.parent / "glance", [row], key=key, on=self.moment().today)

    def open_again(self) -> None:
        self.household.close()
        self.household = open_household(self.path, moment=self.moment())

    def put_back(self) -> None:
        self.household.close()
        restore(self.path, base_of(self.path), moment=self.moment())
        self.household = open_household(self.path, moment=self.moment())

    def make_another(self) -> None:
        other = self.path.with_name("other.firstpull")
        other.unlink(missing_ok=True)
        create_household(other, name="Another", moment=self.moment()).close()


DOINGS: tuple[Callable[[Doer], None], ...] = (
    *(Doer.add_place, Doer.add_machine, Doer.log_use, Doer.rename, Doer.rename_all) * 3,
    *(Doer.undo, Doer.undo, Doer.redo, Doer.strike, Doer.remove) * 2,
    *(Doer.fail, Doer.fill, Doer.take_in, Doer.back_up, Doer.back_up_daily, Doer.write_out),
    *(Doer.glance, Doer.open_again, Doer.put_back, Doer.make_another),
)


def base_of(path: Path) -> Path:
    """The backup that is put back now and then."""
    return path.parent / "base" / path.name


def prepare(path: Path) -> None:
    """A household with a few things in it, and a backup of it to put back."""
    moment = Moment(FIRST.date(), FIRST)
    with create_household(path, name="Our shed", moment=moment) as household:
        household.need_writer().run(AddMachine(name="Red one"), moment=moment)
        made = back_up(household.path, moment=moment)
    base_of(path).parent.mkdir()
    for file in (made, made.with_name(f"{made.name}.sha256")):
        target = base_of(path).name + file.name.removeprefix(made.name)
        file.replace(base_of(path).with_name(target))


def main() -> None:
    path = Path(sys.argv[1])
    for number, seed in lines():
        child = os.fork()
        if child == 0:
            doer = Doer(path, number, seed)
            say("ready")
            while True:
                doer.do_next()
                say(f"done {doer.count}")
        say(f"child {child}")
        os.waitpid(child, 0)
        say("ended")


def lines() -> Iterator[tuple[int, int]]:
    for line in sys.stdin:
        number, seed = line.split()
        yield int(number), int(seed)


def say(words: str) -> None:
    os.write(1, f"{words}\n".encode())


if __name__ == "__main__":
    main()
