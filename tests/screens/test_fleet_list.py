"""The list of the fleet room: years, keys, narrowing, the time there is, months away."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date, timedelta
from itertools import pairwise
from pathlib import Path
from shutil import copyfile

import pytest
from PySide6.QtCore import QPoint, QSettings, Qt
from PySide6.QtGui import QDesktopServices, QKeySequence
from PySide6.QtWidgets import QAbstractButton, QLabel, QMenu
from sqlalchemy import select

from app.fleet.names import plain_name
from app.fleet.ordering import kept_in_order, matching, searchable
from app.fleet.state import MachineLine, Wanted
from app.fleet.table import RowsModel, machine_columns
from app.help import data_leaf, keys_leaf, licences_leaf, year_leaf
from app.pieces import look
from app.pieces.menu import give_letters, plain_action
from app.pieces.tiles import Tiles
from app.pieces.year import ABOVE, MarkSort, Year, YearMark, pegs, x_of
from app.rooms import Rooms
from app.window import MainWindow
from app.wording.tongue import Tongue
from models.acts.work import LineGiven, RecordWork
from models.changes import Changes
from models.moment import Moment
from models.tables.hours import InferredPointRow
from models.words import LineOutcome
from schedules.facts import MachineState
from tests.conftest import NOW, TODAY
from tests.screens.conftest import Shed

YEAR = 2


@pytest.fixture
def full(shed: Shed, made_up: Callable[[date], Path]) -> Shed:
    """The made-up shed, all of it judged."""
    shed.path.unlink()
    shed.rooms.close()
    copyfile(made_up(TODAY), shed.path)
    shed.rooms.open(shed.path)
    fleet = shed.rooms._fleet
    assert fleet is not None
    shed.bot.waitUntil(lambda: not fleet.running)
    shed.view.machine_table.setFocus()
    return shed


def names(shed: Shed) -> list[str]:
    return [row.name for row in shed.view.machines.rows]


def press(shed: Shed, *keys: Qt.Key) -> None:
    for key in keys:
        shed.bot.keyClick(shed.view.machine_table, key)


# -- the year ---------------------------------------------------------------------------------


def test_every_mark_is_reached_by_keys_said_in_words_and_asked_why(full: Shed) -> None:
    table = full.view.machine_table
    press(full, Qt.Key.Key_Home)
    for _ in range(30):
        press(full, Qt.Key.Key_Left)
    reached: list[str] = []
    for _ in table.pegs():
        press(full, Qt.Key.Key_Right)
        peg = table.peg()
        assert peg is not None
        reached += [key for mark in peg.marks for key in mark.keys]
        assert full.view.strip.said.text() == table.accessibleDescription()
        press(full, Qt.Key.Key_Return)
        assert full.view.reading == "grounds"
        full.bot.keyClick(full.view.reader, Qt.Key.Key_Escape)
        assert full.view.reading == ""
        full.bot.wait(1)  # the list gets its width back
    line = table.line(table.row())
    assert line is not None
    assert sorted(reached) == sorted(key for mark in line.year.marks for key in mark.keys)


def test_a_year_is_told_to_whoever_does_not_see_it(full: Shed) -> None:
    model = full.view.machines
    for row, line in enumerate(model.rows):
        said = model.data(model.index(row, YEAR), int(Qt.ItemDataRole.AccessibleTextRole))
        assert said
        assert said.count("eason") >= 1
        if any(mark.sort is MarkSort.OVERDUE for mark in line.year.marks):
            assert "Overdue" in said


def test_enter_opens_the_machine_and_escape_goes_back(full: Shed) -> None:
    press(full, Qt.Key.Key_Down, Qt.Key.Key_Return)
    room = full.window.machine_view
    assert room.isVisible()
    assert room.name.text() == names(full)[1]
    full.bot.keyClick(room, Qt.Key.Key_Escape)
    assert not room.isVisible()
    assert full.view.machine_table.isVisible()


def test_a_click_on_a_mark_is_the_same_as_going_there(full: Shed) -> None:
    table = full.view.machine_table
    peg = table.pegs()[-1]
    x = table.columnViewportPosition(YEAR) + round(peg.x)
    at = QPoint(x, table.rowViewportPosition(table.row()) + 20)
    full.bot.mouseClick(table.viewport(), Qt.MouseButton.LeftButton, pos=at)
    assert table.peg() == peg


def test_no_mark_is_lost_where_marks_are_joined() -> None:
    sorts = list(MarkSort)
    marks = tuple(
        YearMark(sort=sorts[day % 7], day=day - 1, early=day, late=day, keys=(f"t{day}",))
        for day in range(0, 390, 3)
    )
    year = Year(days=396, marks=marks)
    for width in (200, 420, 900):
        found = pegs(year, width)
        keys = [key for peg in found for mark in peg.marks for key in mark.keys]
        assert sorted(keys) == sorted(mark.keys[0] for mark in marks)
        below = [peg.x for peg in found if peg.sort not in ABOVE]
        assert all(later - one >= 14 - 0.01 for one, later in pairwise(below))
    assert x_of(42, 396, 900) - x_of(0, 396, 900) > 0.4 * (900 - 62)


# -- the list ---------------------------------------------------------------------------------


@pytest.mark.parametrize(("size", "least"), [((1440, 900), 12), ((1024, 640), 6)])
def test_a_dozen_machines_fit_one_screen(full: Shed, size: tuple[int, int], least: int) -> None:
    full.window.resize(*size)
    full.bot.wait(1)
    table = full.view.machine_table
    table.scrollToTop()
    room = table.viewport().height()
    ends = [table.rowViewportPosition(row) + table.rowHeight(row) for row in range(12)]
    assert sum(end <= room for end in ends) >= least, (room, ends)


def test_a_ground_cut_short_is_whole_on_a_hover_and_aloud(full: Shed) -> None:
    model = full.view.machines
    for row, line in enumerate(model.rows):
        cell = model.index(row, 1)
        assert model.data(cell, int(Qt.ItemDataRole.ToolTipRole)) == line.ground_text
        assert line.ground_text in model.data(cell, int(Qt.ItemDataRole.AccessibleTextRole))


def test_typing_narrows_the_list_at_once(full: Shed) -> None:
    everything = len(names(full))
    full.window.actions_by_name["find"].trigger()
    full.bot.keyClicks(full.view.filters.search, "saw")
    assert 0 < len(names(full)) < everything
    assert all("saw" in row.found_by for row in full.view.machines.rows)
    assert str(everything) in full.view.filters.count.text()
    full.bot.keyClick(full.view.filters.search, Qt.Key.Key_Escape)
    assert len(names(full)) == everything
    full.bot.keyClick(full.view.filters.search, Qt.Key.Key_Down)
    assert full.view.machine_table.hasFocus()


def test_choices_narrow_the_list_and_are_taken_back_by_one_button(full: Shed) -> None:
    everything = names(full)
    filters = full.view.filters
    filters.more.click()
    for name in ("place", "kind", "state", "hand"):
        filters.boxes[name].setCurrentIndex(1)
        assert 0 < len(names(full)) < len(everything), name
        filters.all.click()
        assert names(full) == everything
    filters.boxes["sort"].setCurrentIndex(1)
    assert names(full) == sorted(everything, key=str.casefold)


def test_whoever_worked_on_a_machine_last_is_who_it_is_found_by(full: Shed) -> None:
    filters = full.view.filters
    box = filters.boxes["hand"]
    assert box.accessibleName() == "Who last worked on it"
    known = [box.itemText(row) for row in range(box.count())]
    assert known == ["Whoever worked on it", "Ada", "Tomas"]
    machine = full.view.machines.rows[0].machine_id
    hub = full.rooms._hub
    assert hub is not None
    full.act("household")
    full.fill(person="")
    assert full.keep() == ""
    fleet = full.rooms._fleet
    assert fleet is not None
    full.bot.waitUntil(lambda: not fleet.running)
    line = LineGiven(task="E4-02", outcome=LineOutcome.DONE)
    for who in ("Bert", ""):  # whoever leaves no name takes no name away
        made = RecordWork(machine_id=machine, day=TODAY, lines=(line,), by_whom=who)
        assert isinstance(hub.perform(made), Changes)
    box.setCurrentIndex(box.findData("Bert"))
    assert [row.machine_id for row in full.view.machines.rows] == [machine]


def test_nothing_found_says_so_and_breaks_nothing(full: Shed) -> None:
    full.bot.keyClicks(full.view.filters.search, "zzz")
    assert names(full) == []
    assert full.view.filters.count.text().startswith("0")
    full.act("job")
    full.fill(text="new grip")
    assert full.keep() == ""


def test_the_list_does_not_jump_after_something_is_entered(full: Shed) -> None:
    table = full.view.machine_table
    last = len(names(full)) - 1
    table.selectRow(last)
    table.scrollToBottom()
    before, at = names(full), _on_screen(full, last)
    full.act("note_fault")
    full.fill(text="will not turn", stops_use=True)
    assert full.keep() == ""
    full.bot.wait(1)  # the list gets its width back
    assert names(full) == before
    assert table.row() == last
    assert abs(_on_screen(full, last) - at) < look.TARGET
    row = full.view.machines.rows[last]
    assert row.state is MachineState.DOWN


def _on_screen(shed: Shed, row: int) -> int:
    """How far down the window a row begins: the line that says what was kept stands above."""
    table = shed.view.machine_table
    at = QPoint(0, table.rowViewportPosition(row))
    return table.viewport().mapTo(shed.window, at).y()


def test_new_ones_come_where_they_belong_and_nothing_else_moves() -> None:
    lines = {number: line(number, "") for number in (1, 2, 3, 4)}
    assert kept_in_order([3, 1, 2], lines, [1, 2, 3, 4]) == [3, 4, 1, 2]
    assert kept_in_order([3, 1, 9], lines, [4, 3, 1]) == [4, 3, 1]


def line(number: int, name: str) -> MachineLine:
    return MachineLine(
        machine_id=number,
        name=name,
        second="",
        icon="k04",
        state=MachineState.FIT,
        state_text="ready",
        ground_text="",
        next_text="",
        next_second="",
        found_by=searchable(name),
    )


def test_accents_and_capitals_do_not_matter() -> None:
    lines = [line(1, "Mäher am Zaun"), line(2, "Saw")]
    assert [one.machine_id for one in matching(lines, Wanted("MAHER zaun"))] == [1]
    assert [one.machine_id for one in matching(lines, Wanted("  "))] == [1, 2]


def test_ten_thousand_machines_are_shown_and_chosen_by_number(shed: Shed) -> None:
    lines = tuple(line(number, f"Machine {number}") for number in range(10_000))
    table = shed.view.machine_table
    shed.view._pages.setCurrentIndex(1)
    shed.view.show_machines(lines, "", 7_000)
    assert table.chosen_id() == 7_000
    shed.view.show_machines(lines[5_000:], "", None)
    assert table.chosen_id() == 7_000
    assert table.row() == 2_000
    changed = (*lines[5_000:6_000], replace(lines[6_000], name="Other"), *lines[6_001:])
    shed.view.show_machines(changed, "", None)
    assert table.chosen_id() == 7_000
    shed.view.show_machines(tuple(reversed(changed)), "", None)
    assert table.chosen_id() == 7_000


def test_rows_that_stay_are_not_told_anew(shed: Shed) -> None:
    model = RowsModel(machine_columns(("", "", ""), str), shed.view)
    rows = tuple(line(number, str(number)) for number in range(5))
    assert model.show_rows(rows)
    told: list[tuple[int, int]] = []
    model.dataChanged.connect(lambda first, last: told.append((first.row(), last.row())))
    assert not model.show_rows((*rows[:3], replace(rows[3], name="x"), rows[4]))
    assert told == [(3, 3)]


def test_marks_that_turn_text_around_are_left_out_of_names(full: Shed) -> None:
    full.act("job")
    full.fill(text="grip \u202e txt.\u2066exe")
    assert full.keep() == ""
    assert "grip  txt.exe" in [row.name for row in full.room.tasks.rows]
    assert plain_name("a\u200fb\u061cc") == "abc"


# -- the time there is ------------------------------------------------------------------------


def test_the_time_there_is_gives_a_list_to_work_through(full: Shed) -> None:
    full.window.actions_by_name["time"].trigger()
    full.view.time.buttons[60].click()
    fleet = full.rooms._fleet
    assert fleet is not None
    full.bot.waitUntil(lambda: full.view.reading == "sitting")
    sitting = fleet.sitting()
    assert sitting is not None
    assert sitting.visits
    assert sum(visit.minutes for visit in sitting.visits) <= 60
    assert "1\xa0h" in full.view.reader.title.text()
    full.bot.keyClick(full.view.reader, Qt.Key.Key_Escape)
    assert not full.view.time.buttons[60].isChecked()


def test_the_work_of_one_shed_does_not_stand_beside_another(full: Shed, begun: Path) -> None:
    full.view.time.buttons[60].click()
    full.bot.waitUntil(lambda: full.view.reading == "sitting")
    other = full.path.with_name("other.firstpull")
    copyfile(begun, other)
    full.rooms.open(other)
    assert full.view.reading == ""
    assert not full.view.time.buttons[60].isChecked()


def test_the_chosen_work_goes_on_paper(
    full: Shed, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    opened: list[str] = []
    monkeypatch.setattr(full.window, "ask_pdf", lambda name: tmp_path / name)
    monkeypatch.setattr(QDesktopServices, "openUrl", lambda url: opened.append(url.fileName()))
    full.window.actions_by_name["work_paper"].trigger()
    assert "how much time" in full.view.notice.text()
    full.view.time.buttons[60].click()
    full.bot.waitUntil(lambda: full.view.reading == "sitting")
    full.bot.mouseClick(full.view.reader.print_button, Qt.MouseButton.LeftButton)
    full.window.actions_by_name["shopping"].trigger()
    assert [name.partition(" 20")[0] for name in opened] == ["work sheet", "shopping list"]
    assert all((tmp_path / name).read_bytes().startswith(b"%PDF") for name in opened)
    assert full.view.notice.property("role") == "head"


def test_a_page_put_away_does_not_come_back_by_itself(full: Shed) -> None:
    full.view.time.buttons[60].click()
    full.bot.waitUntil(lambda: full.view.reading == "sitting")
    full.bot.keyClick(full.view.reader, Qt.Key.Key_Escape)
    fleet = full.rooms._fleet
    assert fleet is not None
    assert fleet.sitting() is None
    full.act("job")
    full.fill(text="new grip")
    assert full.keep() == ""
    full.bot.waitUntil(lambda: not fleet.running)
    assert full.view.reading == ""


def test_own_minutes_are_typed(full: Shed) -> None:
    full.bot.keyClicks(full.view.time.own, "x25")
    full.bot.keyClick(full.view.time.own, Qt.Key.Key_Return)
    full.bot.waitUntil(lambda: full.view.reading == "sitting")
    assert "25\xa0min" in full.view.reader.title.text()


def test_too_little_time_says_so(full: Shed) -> None:
    full.bot.keyClicks(full.view.time.own, "1")
    full.bot.keyClick(full.view.time.own, Qt.Key.Key_Return)
    full.bot.waitUntil(lambda: full.view.reading == "sitting")
    assert "Nothing" in full.view.reader.lead.text()


# -- months away ------------------------------------------------------------------------------


def test_after_months_away_the_room_opens_on_what_happened(
    made_up: Callable[[date], Path], tmp_path: Path, shed: Shed
) -> None:
    path = tmp_path / "away.firstpull"
    copyfile(made_up(TODAY), path)
    settings = QSettings(str(tmp_path / "away.ini"), QSettings.Format.IniFormat)
    window = MainWindow(Tongue("en_GB"), settings)
    shed.bot.addWidget(window)
    assert window.last_here(path, on=TODAY - timedelta(days=200)) is None
    (tmp_path / "other").mkdir()
    now = Moment(TODAY, NOW)
    rooms = Rooms(window=window, clock=lambda: now, state=tmp_path / "other", home=path)
    window.show()
    shed.bot.waitUntil(lambda: window.view.reading == "since")
    assert "9 May 2025" in window.view.reader.title.text()
    rooms.close()
    rooms = Rooms(window=window, clock=lambda: now, state=tmp_path / "other", home=path)
    fleet = rooms._fleet
    assert fleet is not None
    shed.bot.waitUntil(lambda: not fleet.running)
    rooms.close()
    assert window.last_here(path, on=TODAY) == TODAY


def test_what_ran_meanwhile_is_said_in_six_taps(
    made_up: Callable[[date], Path], tmp_path: Path, shed: Shed
) -> None:
    path = tmp_path / "away.firstpull"
    copyfile(made_up(TODAY), path)
    settings = QSettings(str(tmp_path / "away.ini"), QSettings.Format.IniFormat)
    window = MainWindow(Tongue("en_GB"), settings)
    shed.bot.addWidget(window)
    window.last_here(path, on=TODAY - timedelta(days=200))
    (tmp_path / "other").mkdir()
    now = Moment(TODAY, NOW)
    rooms = Rooms(window=window, clock=lambda: now, state=tmp_path / "other", home=path)
    window.show()
    other = Shed(window, rooms, shed.bot, path)
    shed.bot.waitUntil(lambda: window.view.reading == "since")
    taps = 0

    def tap(button: QAbstractButton) -> None:
        nonlocal taps
        taps += 1
        shed.bot.mouseClick(button, Qt.MouseButton.LeftButton)

    tap(window.view.reader.onward_button)
    asked = other.form.page.fields
    assert asked
    for place, field in enumerate(asked[:4]):
        tiles = other.form.widget(field.name)
        assert isinstance(tiles, Tiles)
        tap(next(one for one in tiles.tiles if one.value == ("not" if place else "more")))
    tap(other.form.done_button)
    assert taps <= 6
    assert other.open_form is None
    hub = rooms.hub
    assert hub is not None
    with hub.read() as session:
        points = list(
            session.scalars(select(InferredPointRow).where(InferredPointRow.happened_on == TODAY))
        )
        assert points
        assert max(point.spread_seconds for point in points) > 0  # it is said how far it may be off
    window.actions_by_name["undo"].trigger()
    with hub.read() as session:
        wanted = select(InferredPointRow).where(InferredPointRow.happened_on == TODAY)
        assert not list(session.scalars(wanted))
    rooms.close()


# -- menus and help ---------------------------------------------------------------------------


def test_every_entry_has_a_letter_of_its_own_in_its_menu(shed: Shed) -> None:
    for language in ("en_GB", "en_US"):
        shed.window.speak(Tongue(language))
        for title in shed.window.menuBar().actions():
            menu = title.menu()
            assert isinstance(menu, QMenu)
            entries = [action for action in menu.actions() if action.text()]
            letters = [QKeySequence.mnemonic(action.text()).toString() for action in entries]
            assert all(letters), [action.text() for action in entries]
            assert len(set(letters)) == len(letters), letters


def test_letters_are_found_whatever_stands_there(shed: Shed) -> None:
    actions = [plain_action(text, shed.window) for text in ("&&", "ÄÖ", "Aa", "a", "A & b")]
    give_letters(actions)
    shown = [action.text() for action in actions]
    assert shown == ["&&&&", "ÄÖ", "&Aa", "a", "A && &b"]


def test_help_names_every_key_and_where_the_data_lies(shed: Shed) -> None:
    window = shed.window
    actions = list(window.actions_by_name.values())
    for leaf in (
        year_leaf(window.tongue, window),
        keys_leaf(window.tongue, window, actions),
        data_leaf(window.tongue, window, shed.path, shed.path.parent),
        licences_leaf(window.tongue, window),
    ):
        leaf.show()
        said = " ".join(label.text() for label in leaf.findChildren(QLabel))
        assert len(said) > 100
        shed.bot.keyClick(leaf, Qt.Key.Key_Escape)
    keys = [action.shortcut().toString() for action in actions if not action.shortcut().isEmpty()]
    assert len(keys) == len(set(keys))


def test_what_only_a_figure_settles_says_so_when_it_is_ticked(full: Shed) -> None:
    """Its bar has worn away by what was measured: a tick brings none of it back."""
    row = names(full).index("Paddle thrower")
    full.view.machine_table.selectRow(row)
    full.act("work")
    full.fill(tasks=("S1-02",))
    assert full.keep() == ""
    assert "Measure the scraper bar stays “overdue” until its figure" in full.view.notice.text()
