"""A damaged file: what is found is told; nothing else is raised, and nothing is made worse."""

import random
import shutil
import sqlite3
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

import pytest

from models.engines import FOR_READING, connect
from models.errors import Trouble, TroubleCode
from models.exchange.fleet import export_fleet
from models.file import create_household, open_household
from models.moment import Moment
from tests.models.small_acts import AddMachine, LogUse
from tests.models.whole_household import FillEverything

TRIES = 12
Spoil = Callable[[bytearray, random.Random], None]


def flip_bits(data: bytearray, chance: random.Random) -> None:
    for _ in range(chance.choice((1, 1, 1, 20))):
        data[chance.randrange(len(data))] ^= 1 << chance.randrange(8)


def flip_words(data: bytearray, chance: random.Random) -> None:
    """Bits of what was put in, not of the empty rest."""
    written = [at for at, byte in enumerate(data) if 97 <= byte <= 122]
    for _ in range(3):
        data[chance.choice(written)] ^= 1 << chance.randrange(8)


def cut(data: bytearray, chance: random.Random) -> None:
    del data[chance.randrange(len(data)) :]


def blank_a_page(data: bytearray, chance: random.Random) -> None:
    page = chance.randrange(len(data) // 4096)
    data[page * 4096 : (page + 1) * 4096] = bytes(4096)


def shuffle_pages(data: bytearray, chance: random.Random) -> None:
    one, other = (chance.randrange(1, len(data) // 4096) * 4096 for _ in range(2))
    kept = data[one : one + 4096]
    data[one : one + 4096] = data[other : other + 4096]
    data[other : other + 4096] = kept


@pytest.fixture(scope="module")
def sound(tmp_path_factory: pytest.TempPathFactory, moment: Moment) -> Path:
    path = tmp_path_factory.mktemp("sound") / "shed.firstpull"
    with create_household(path, name="Our shed", moment=moment) as household:
        household.need_writer().run(FillEverything(), moment=moment)
        for number in range(20):
            household.need_writer().run(AddMachine(name=f"Machine {number}"), moment=moment)
            act = LogUse(number=number, note="ran well enough " * 20)
            household.need_writer().run(act, moment=moment)
    return path


def use(path: Path, moment: Moment) -> list[TroubleCode]:
    """Open, read everything, write something; what was told on the way."""
    told: list[TroubleCode] = []
    try:
        household = open_household(path, moment=moment)
    except Trouble as trouble:
        return [trouble.code]
    with household:
        try:
            with household.read() as session:
                export_fleet(session)
        except Trouble as trouble:
            told.append(trouble.code)
        try:
            household.need_writer().run(AddMachine(name="One more"), moment=moment)
        except Trouble as trouble:
            told.append(trouble.code)
    return told


@pytest.mark.parametrize("spoil", [flip_bits, flip_words, cut, blank_a_page, shuffle_pages])
def test_damage_is_told_and_nothing_else_is_raised(
    sound: Path, household_path: Path, moment: Moment, spoil: Spoil
):
    chance = random.Random(spoil.__name__)
    told: list[TroubleCode] = []
    for _ in range(TRIES):
        data = bytearray(sound.read_bytes())
        spoil(data, chance)
        household_path.write_bytes(data)
        found = use(household_path, moment)
        told += found
        if found:
            # What was refused is as it was found, to be rescued by other hands.
            assert household_path.stat().st_size in {len(data), -(-len(data) // 4096) * 4096}
        for left in household_path.parent.iterdir():
            if left != household_path:
                assert left.name.endswith("-journal")
                left.unlink()
    assert told or spoil is flip_bits
    assert set(told) <= {
        TroubleCode.DAMAGED,
        TroubleCode.NOT_A_DATABASE,
        TroubleCode.NOT_OURS,
        TroubleCode.NEWER,
        TroubleCode.EMPTY_FILE,
        TroubleCode.STRANGE_SCHEMA,
        TroubleCode.DISK_FAILED,
        TroubleCode.READ_ONLY,
    }


@pytest.mark.parametrize(
    "statement",
    [
        "UPDATE item SET sort = 'machinf'",
        "UPDATE item SET came_on = '2025-0Z-01'",
        "UPDATE use SET entered_at = 'yesterday'",
        "UPDATE item SET name = CAST(x'ff00ff' AS TEXT)",
        "UPDATE item SET start_seconds = 'many'",
    ],
)
def test_words_no_program_wrote_are_damage_to_a_reader(
    sound: Path, household_path: Path, moment: Moment, statement: str
):
    shutil.copyfile(sound, household_path)
    with closing(sqlite3.connect(household_path, isolation_level=None)) as raw:
        raw.execute("PRAGMA ignore_check_constraints=ON")
        raw.execute(statement)
    with open_household(household_path, moment=moment, write=False) as household:
        if "many" not in statement:  # a word where a number should be is read as it is
            with pytest.raises(Trouble) as caught, household.read() as session:
                export_fleet(session)
            assert caught.value.code is TroubleCode.DAMAGED
        with pytest.raises(Trouble) as checked:
            household.check()
        assert checked.value.code is TroubleCode.DAMAGED


def test_a_fault_of_our_own_stays_one(sound: Path, moment: Moment):
    with open_household(sound, moment=moment, write=False) as household:
        with pytest.raises(KeyError), household.read():
            raise KeyError
        household.check()
    with closing(connect(sound, mode="ro", pragmas=FOR_READING)) as raw:
        assert raw.execute("PRAGMA integrity_check").fetchone() == ("ok",)
