"""A household as JSON: out, in and out again the same; and nothing a stranger sends does harm."""

import json
import random
from collections.abc import Callable, Iterator
from contextlib import suppress
from datetime import timedelta
from importlib.resources import files
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from sqlalchemy import func, select

from models.errors import Refused, RefusedCode, Trouble, TroubleCode
from models.exchange.fleet import export_fleet, parse_fleet, read_fleet, write_fleet
from models.exchange.fleet_schema import fleet_json_schema
from models.exchange.strict_json import parse_strict
from models.file import Household, create_household
from models.moment import Moment
from models.tables.hours import UseRow
from models.tables.household import HouseholdRow
from models.tables.machines import ItemRow, MachineRow
from models.tables.places import PlaceRow
from models.tables.schema import TABLES
from tests.models.small_acts import AddMachine, AddPlace
from tests.models.whole_household import NAME, FillEverything

KINDS = frozenset({"K02", "K15"})


@pytest.fixture
def filled(household: Household, moment: Moment) -> Household:
    household.need_writer().run(FillEverything(), moment=moment)
    return household


@pytest.fixture(scope="module")
def whole(tmp_path_factory: pytest.TempPathFactory, moment: Moment) -> bytes:
    """What a household with something in every table sends."""
    path = tmp_path_factory.mktemp("whole") / "shed.firstpull"
    with create_household(path, name="Our shed", moment=moment) as household:
        household.need_writer().run(FillEverything(), moment=moment)
        return sent(household)


@pytest.fixture(scope="module")
def empty(tmp_path_factory: pytest.TempPathFactory, moment: Moment) -> Iterator[Household]:
    """A household that every test here leaves as it found it."""
    path = tmp_path_factory.mktemp("whole") / "empty.firstpull"
    with create_household(path, name="Empty", moment=moment) as household:
        yield household


@pytest.fixture
def other(tmp_path: Path, moment: Moment) -> Household:
    later = Moment(moment.today, moment.now + timedelta(hours=1))
    return create_household(tmp_path / "other.firstpull", name="Another", moment=later)


def sent(household: Household) -> bytes:
    with household.read() as session:
        return export_fleet(session)


def said(household: Household) -> dict[str, Any]:
    return json.loads(sent(household))


def take(household: Household, fleet: bytes | dict[str, Any], moment: Moment) -> None:
    data = fleet if isinstance(fleet, bytes) else json.dumps(fleet).encode()
    household.need_writer().run(parse_fleet(data, kinds=KINDS), moment=moment)


def test_out_in_and_out_again_is_the_same(filled: Household, other: Household, moment: Moment):
    first = sent(filled)
    assert all(json.loads(first)[table.name] for table in TABLES)
    with other:
        take(other, first, moment)
        assert sent(other) == first
        take(other, first, moment)
        assert sent(other) == first
        other.need_writer().undo(moment=moment)
        other.need_writer().undo(moment=moment)
        assert said(other)["household"][0]["name"] == "Another"
        assert said(other)["machine"] == []
    take(filled, first, moment)
    assert sent(filled) == first


def test_what_goes_out_fits_the_schema_shipped(filled: Household, update_golden: bool):
    shipped = files("models.exchange") / "fleet.schema.json"
    made = json.dumps(fleet_json_schema(), indent=1) + "\n"
    if update_golden:
        Path(str(shipped)).write_text(made, encoding="utf-8")
    assert shipped.read_text(encoding="utf-8") == made
    schema = json.loads(made)
    checker = jsonschema.Draft202012Validator(
        schema, format_checker=jsonschema.Draft202012Validator.FORMAT_CHECKER
    )
    checker.check_schema(schema)
    checker.validate(said(filled))
    spoilt = said(filled)
    spoilt["machine"][0]["colour"] = "red"
    assert not checker.is_valid(spoilt)


def test_a_fleet_can_be_built_from_outside(household: Household, moment: Moment):
    fleet = {
        "schema": 1,
        "item": [
            {
                "uid": f"i{n}",
                "sort": "machine",
                "name": f"No. {n}",
                "came_on": "2024-02-29",
                "past": "unknown",
            }
            for n in range(3)
        ],
        "machine": [{"uid": f"m{n}", "item": f"i{n}", "kind_code": "K02"} for n in range(3)],
        "use": [{"uid": "u", "machine": "m1", "happened_on": "2025-01-01", "outcome": "ran"}],
    }
    take(household, fleet, moment)
    with household.read() as session:
        use = session.scalars(select(UseRow)).one()
        assert (use.entered_at, use.count, use.struck) == (moment.now, 1, False)
        assert session.scalar(select(func.count(MachineRow.id))) == 3
        assert session.scalars(select(HouseholdRow.name)).all() == ["Our shed"]
    fleet["item"][0]["name"] = "Number nought"
    take(household, fleet, moment)
    with household.read() as session:
        assert session.scalars(select(ItemRow.name)).first() == "Number nought"
        assert session.scalar(select(func.count(MachineRow.id))) == 3


def test_settings_come_in_only_where_there_is_no_machine(
    filled: Household, other: Household, moment: Moment
):
    with other:
        other.need_writer().run(AddMachine(name="Mine"), moment=moment)
        take(other, sent(filled), moment)
        assert said(other)["household"][0]["name"] == "Another"
        assert len(said(other)["machine"]) == 2


def test_a_place_of_the_same_name_is_the_same_place(
    filled: Household, other: Household, moment: Moment
):
    with other:
        other.need_writer().run(AddPlace(name="Lean-to"), moment=moment)
        take(other, sent(filled), moment)
        with other.read() as session:
            place = session.scalars(select(PlaceRow)).one()
            assert place.climate == ""  # what was here stays
        assert said(other)["machine_place"][0]["place"] == said(other)["place"][0]["uid"]


def test_an_entry_is_not_changed_by_what_comes_in(filled: Household, moment: Moment):
    fleet = said(filled)
    fleet["use"][0]["note"] = "rewritten"
    before = sent(filled)
    with pytest.raises(Refused) as caught:
        take(filled, fleet, moment)
    assert caught.value.code is RefusedCode.IMPORT_CONFLICT
    assert dict(caught.value.values)["where"] == "use[0]"
    assert sent(filled) == before


Spoil = Callable[[dict[str, Any]], Any]
SPOILT: list[tuple[Spoil, RefusedCode, str]] = [
    (lambda f: f.pop("schema"), RefusedCode.IMPORT_SCHEMA, ""),
    (lambda f: f.update(schema=2), RefusedCode.IMPORT_SCHEMA, ""),
    (lambda f: f.update(schema="1"), RefusedCode.IMPORT_SCHEMA, ""),
    (lambda f: f.update(schema=True), RefusedCode.IMPORT_SCHEMA, ""),
    (lambda f: f.update(alembic_version=[]), RefusedCode.IMPORT_FIELD, ""),
    (lambda f: f.update(machine={}), RefusedCode.IMPORT_FIELD, "machine"),
    (lambda f: f.update(machine=None), RefusedCode.IMPORT_FIELD, "machine"),
    (lambda f: f.update(machine=[[]]), RefusedCode.IMPORT_FIELD, "machine[0]"),
    (lambda f: f["household"].append(f["household"][0]), RefusedCode.IMPORT_FIELD, "household[1]"),
    (lambda f: f["item"][0].update(id=5), RefusedCode.IMPORT_FIELD, "item[0]"),
    (lambda f: f["item"][0].update(colour=5), RefusedCode.IMPORT_FIELD, "item[0]"),
    (lambda f: f["item"][1].pop("uid"), RefusedCode.IMPORT_FIELD, "item[1]"),
    (lambda f: f["item"][1].pop("name"), RefusedCode.IMPORT_FIELD, "item[1]"),
    (lambda f: f["item"][1].update(uid=""), RefusedCode.IMPORT_FIELD, "item[1]"),
    (lambda f: f["item"][1].update(uid=f["item"][0]["uid"]), RefusedCode.IMPORT_TWICE, "item[1]"),
    (lambda f: f["item"][0].update(name=""), RefusedCode.IMPORT_FIELD, "item[0]"),
    (lambda f: f["item"][0].update(name=None), RefusedCode.IMPORT_FIELD, "item[0]"),
    (lambda f: f["item"][0].update(name=5), RefusedCode.IMPORT_FIELD, "item[0]"),
    (lambda f: f["item"][0].update(name="x" * 10_000), RefusedCode.IMPORT_FIELD, "item[0]"),
    (lambda f: f["item"][0].update(name="a\0b"), RefusedCode.IMPORT_FIELD, "item[0]"),
    (lambda f: f["item"][0].update(name="a\ud800"), RefusedCode.IMPORT_FIELD, "item[0]"),
    (lambda f: f["item"][0].update(came_on="2025-02-29"), RefusedCode.IMPORT_FIELD, "item[0]"),
    (lambda f: f["item"][0].update(came_on="20250228"), RefusedCode.IMPORT_FIELD, "item[0]"),
    (lambda f: f["item"][0].update(came_on="0001-01-01"), RefusedCode.IMPORT_FIELD, "item[0]"),
    (lambda f: f["item"][0].update(came_on=20250228), RefusedCode.IMPORT_FIELD, "item[0]"),
    (lambda f: f["item"][0].update(sort="Machine"), RefusedCode.IMPORT_FIELD, "item[0]"),
    (lambda f: f["item"][0].update(sort=["machine"]), RefusedCode.IMPORT_FIELD, "item[0]"),
    (lambda f: f["item"][0].update(start_seconds=-1), RefusedCode.IMPORT_FIELD, "item[0]"),
    (lambda f: f["item"][0].update(start_seconds=True), RefusedCode.IMPORT_FIELD, "item[0]"),
    (lambda f: f["item"][0].update(start_seconds="5"), RefusedCode.IMPORT_FIELD, "item[0]"),
    (lambda f: f["item"][0].update(start_seconds=10**18), RefusedCode.IMPORT_FIELD, "item[0]"),
    (lambda f: f["item"][0].update(retired_on="1950-01-01"), RefusedCode.IMPORT_FIELD, "item[0]"),
    (lambda f: f["use"][0].update(struck=1), RefusedCode.IMPORT_FIELD, "use[0]"),
    (lambda f: f["use"][0].update(entered_at="2025-01-01"), RefusedCode.IMPORT_FIELD, "use[0]"),
    (lambda f: f["use"][0].update(corrects=f["use"][1]["uid"]), RefusedCode.IMPORT_LINK, "use[0]"),
    (lambda f: f["use"][0].update(machine="gone"), RefusedCode.IMPORT_LINK, "use[0]"),
    (lambda f: f["use"][0].update(machine=1), RefusedCode.IMPORT_FIELD, "use[0]"),
    (lambda f: f["use"][0].update(machine=None), RefusedCode.IMPORT_FIELD, "use[0]"),
    (lambda f: f["machine"][0].update(item="x" * 9999), RefusedCode.IMPORT_LINK, "machine[0]"),
    (lambda f: f["machine"][0].update(kind_code="K99"), RefusedCode.IMPORT_FIELD, "machine[0]"),
    (lambda f: f["job"][0].update(dropped_on="2024-02-01"), RefusedCode.IMPORT_FIELD, "job[0]"),
]


@pytest.mark.parametrize("number", range(len(SPOILT)))
def test_what_does_not_fit_is_refused_by_place_and_name(
    whole: bytes, empty: Household, moment: Moment, number: int
):
    spoil, code, where = SPOILT[number]
    fleet = json.loads(whole)
    spoil(fleet)
    before = sent(empty)
    with pytest.raises(Refused) as caught:
        take(empty, fleet, moment)
    assert caught.value.code is code
    assert dict(caught.value.values).get("where", "") == where
    assert sent(empty) == before
    assert empty.need_writer().undo_label is None


@pytest.mark.parametrize(
    ("text", "code"),
    [
        (b"", RefusedCode.IMPORT_NOT_JSON),
        (b"{", RefusedCode.IMPORT_NOT_JSON),
        (b'{"schema": 1} x', RefusedCode.IMPORT_NOT_JSON),
        (b"{'schema': 1}", RefusedCode.IMPORT_NOT_JSON),
        (b'{"schema": 1, "schema": 1}', RefusedCode.IMPORT_KEY_TWICE),
        (b'{"item": [{"uid": "a", "u\\u0069d": "b"}]}', RefusedCode.IMPORT_KEY_TWICE),
        (b'{"schema": NaN}', RefusedCode.IMPORT_NUMBER),
        (b'{"schema": -Infinity}', RefusedCode.IMPORT_NUMBER),
        (b'{"schema": 1e400}', RefusedCode.IMPORT_NUMBER),
        (b'{"schema": 1.0}', RefusedCode.IMPORT_NUMBER),
        (b'{"schema": ' + b"9" * 5000 + b"}", RefusedCode.IMPORT_NUMBER),
        (b"[" * 100_000, RefusedCode.IMPORT_TOO_DEEP),
        (b'{"a":' * 100_000, RefusedCode.IMPORT_TOO_DEEP),
        (b"\xff\xfe{\0}\0", RefusedCode.IMPORT_NOT_TEXT),
        (b'{"schema": "\xed\xa0\x80"}', RefusedCode.IMPORT_NOT_TEXT),
        (b"null", RefusedCode.IMPORT_FIELD),
        (b"[]", RefusedCode.IMPORT_FIELD),
        (b'"schema"', RefusedCode.IMPORT_FIELD),
        (b'{"\\ud800": 1, "schema": 1}', RefusedCode.IMPORT_FIELD),
        (b'{"\\ud800": 1, "\\ud800": 1}', RefusedCode.IMPORT_KEY_TWICE),
    ],
)
def test_what_is_no_plain_json_is_refused(text: bytes, code: RefusedCode):
    with pytest.raises(Refused) as caught:
        parse_fleet(text, kinds=KINDS)
    assert caught.value.code is code
    for _name, value in caught.value.values:
        str(value).encode()


def test_how_deep_and_where_is_said():
    with pytest.raises(Refused) as caught:
        parse_strict(b'{"a":\n ["]]]]]]\\"",\n' + b"[" * 50_000)
    assert dict(caught.value.values) == {"line": 3, "column": 31, "most": 32}
    with pytest.raises(Refused) as large:
        parse_strict(b"[1, 2, 3]", most_bytes=5)
    assert large.value.code is RefusedCode.IMPORT_TOO_LARGE
    assert parse_strict(b"\xef\xbb\xbf[1]") == [1]


LEAVES = st.sampled_from([None, True, 0, -1, 10**18, "", "a", "machine", "2025-01-01", "\ud800"])
JSON = LEAVES | st.lists(LEAVES, max_size=2) | st.dictionaries(LEAVES.map(str), LEAVES, max_size=2)
FIELDS = st.sampled_from(["uid", "name", "item", "sort", "kind_code", "came_on", "past"])
ROW = st.dictionaries(FIELDS, JSON, max_size=6)
FLEET = st.dictionaries(
    st.sampled_from(["item", "machine", "use", "place", "household"]),
    st.lists(ROW, max_size=2) | JSON,
    max_size=3,
)


@settings(max_examples=60, deadline=None)
@given(fleet=FLEET)
def test_any_json_is_taken_or_refused(fleet: dict[str, Any]):
    with suppress(Refused):
        parse_fleet(json.dumps({"schema": 1, **fleet}).encode(), kinds=KINDS)


@pytest.mark.parametrize("times", [80, pytest.param(1000, marks=pytest.mark.long)])
def test_bytes_changed_on_the_way_are_taken_whole_or_not_at_all(
    whole: bytes, empty: Household, moment: Moment, times: int
):
    chance = random.Random(4)
    taken = 0
    before = sent(empty)
    for _ in range(times):
        data = bytearray(whole)
        for _ in range(chance.choice((1, 1, 30))):
            data[chance.randrange(len(data))] = chance.randrange(256)
        try:
            take(empty, bytes(data), moment)
        except Refused:
            assert sent(empty) == before
            continue
        taken += 1
        assert sent(empty) != before
        empty.need_writer().undo(moment=moment)
        assert sent(empty) == before
    empty.need_writer()._journal.clear()
    assert 0 < taken < times


def test_a_folder_is_written_and_read(filled: Household, tmp_path: Path, moment: Moment):
    folder = tmp_path / "out" / "deep"
    with filled.read() as session:
        path = write_fleet(session, folder)
    assert path == folder / "fleet.json"
    assert path.read_bytes() == sent(filled)
    assert read_fleet(folder, kinds=KINDS) == read_fleet(path, kinds=KINDS)
    assert [p.name for p in folder.iterdir()] == ["fleet.json"]
    assert NAME in path.read_text(encoding="utf-8").replace("\\", "")


def test_a_folder_that_cannot_be_written_is_told(filled: Household, tmp_path: Path):
    blocked = tmp_path / "file"
    blocked.write_text("x")
    with filled.read() as session, pytest.raises(Trouble):
        write_fleet(session, blocked)
    assert blocked.read_text() == "x"


def test_what_is_not_there_or_no_file_is_told(tmp_path: Path):
    for path in (tmp_path, tmp_path / "gone.json"):
        with pytest.raises(Trouble) as caught:
            read_fleet(path, kinds=KINDS)
        assert caught.value.code is TroubleCode.NO_FILE
