"""The fault room used by hand: complaint, what was seen, one thing after the other, the end."""

from __future__ import annotations

from PySide6.QtCore import QCoreApplication, QRect, Qt
from PySide6.QtWidgets import QPushButton
from sqlalchemy import select

from app.fault_door import FaultDoor
from app.faults.view import FaultView
from app.pieces import look
from app.pieces.button import Tick, TickList
from models.acts.faults import NoteFault
from models.changes import Changes
from models.facts.searches import Search, read_finds, read_searches
from models.tables.work import FaultRow
from models.words import SearchDoing, SearchEnd
from schedules.faults import AdviceKind
from tests.conftest import TODAY
from tests.screens.conftest import Shed, put
from tests.screens.test_entry import add

LEFT = Qt.MouseButton.LeftButton


def enter(shed: Shed) -> FaultView:
    """Add a machine and say that something is wrong with it."""
    add(shed)
    shed.put_by()
    shed.window.actions_by_name["fault"].trigger()
    room = door(shed).view
    assert shed.window.rooms.currentWidget() is room
    return room


def door(shed: Shed) -> FaultDoor:
    doors = shed.rooms._doors
    assert doors is not None
    found = doors._faults
    assert found is not None
    return found


def settled(shed: Shed) -> None:
    """Wait for the look ahead, as somebody does who has not begun to read."""
    controller = door(shed).controller
    if controller._thinking is not None:
        with shed.bot.waitSignal(controller.cardShown, timeout=20_000):
            pass
    QCoreApplication.processEvents()  # what was laid out anew is seen


def begin(shed: Shed, room: FaultView, symptom: str = "S1F", **seen: str) -> None:
    button = next(one for one in room.symptom_buttons if one.code == symptom)
    shed.bot.mouseClick(button, LEFT)
    assert room.form is not None
    for name, value in seen.items():
        put(shed.bot, room.form.widget(name.replace("_", "-")), value)
    shed.bot.mouseClick(room.form.done_button, LEFT)
    assert room.form is None
    pass_facts(shed, room)


def pass_facts(shed: Shed, room: FaultView) -> None:
    """Answer what is asked about the machine with the first answer."""
    while room.shown is not None and room.shown.fact is not None:
        shed.bot.mouseClick(room.card.answers[0], LEFT)
    settled(shed)


def answer(shed: Shed, room: FaultView, code: str) -> None:
    button = next(one for one in room.card.answers if one.property("answer") == code)
    shed.bot.mouseClick(button, LEFT)
    pass_facts(shed, room)


def press(shed: Shed, room: FaultView, name: str) -> None:
    button = next(
        one
        for one in room.findChildren(QPushButton)
        if one.property("act") == name and one.isVisible()
    )
    shed.bot.mouseClick(button, LEFT)


def search(shed: Shed) -> Search:
    hub = shed.rooms._hub
    assert hub is not None
    with hub.read() as session:
        return read_searches(session, on=TODAY)[0]


def test_from_the_complaint_to_the_first_card(shed: Shed):
    room = enter(shed)
    assert len(room.symptom_buttons) > 5
    begin(shed, room, Q_PARK="wet")
    assert room.shown is not None
    assert room.shown.card is not None
    assert room.shown.card.reading == "gate"
    assert [line.answer for line in room.shown.path] == ["months ago; petrol stayed in"]
    assert room.shown.suspects[0].share == max(one.share for one in room.shown.suspects)


def test_an_answer_leads_on_and_can_be_given_anew(shed: Shed):
    room = enter(shed)
    begin(shed, room)
    answer(shed, room, "ok")
    state = room.shown
    assert state is not None
    assert state.card is not None
    assert state.card.reading not in ("", "gate")
    change = next(one for one in room.findChildren(QPushButton) if one.property("step"))
    shed.bot.mouseClick(change, LEFT)
    assert room.form is not None
    put(shed.bot, room.form.widget("outcome"), "fuel")
    shed.bot.mouseClick(room.form.done_button, LEFT)
    assert [one.answer for one in search(shed).standing if one.doing is SearchDoing.TESTED] == [
        "fuel"
    ]
    assert len([one for one in search(shed).steps if one.doing is SearchDoing.TESTED]) == 2


def test_cannot_do_this_now_brings_another(shed: Shed):
    room = enter(shed)
    begin(shed, room)
    answer(shed, room, "ok")
    assert room.shown is not None
    assert room.shown.card is not None
    first = room.shown.card.reading
    press(shed, room, "cannot")
    pass_facts(shed, room)
    assert room.shown.card is not None
    assert room.shown.card.reading != first


def test_a_cure_that_helps_is_made_sure_of_teaches_and_is_undone(shed: Shed):
    room = enter(shed)
    begin(shed, room)
    for _ in range(30):
        state = room.shown
        assert state is not None
        card = state.card
        assert card is not None
        if card.kind is AdviceKind.CURE:
            answer(shed, room, "helped")
            break
        if card.kind is AdviceKind.WORKS:
            press(shed, room, "it_works")
            break
        answer(shed, room, card.outcomes[-1].code)
    assert room.form is not None
    assert room.form.page.key == "end"
    put(shed.bot, room.form.widget("sure"), True)
    shed.bot.mouseClick(room.form.done_button, LEFT)
    assert search(shed).ending is SearchEnd.CURED
    hub = shed.rooms._hub
    assert hub is not None
    with hub.read() as session:
        (find,) = read_finds(session)
    assert find.teaches
    assert room.shown is not None
    assert room.shown.ended
    assert [one.counts for one in room.shown.finds] == [True]
    hub.undo()
    assert search(shed).closed_on is None


def test_what_was_noted_beside_it_is_put_right_by_the_same_work(shed: Shed):
    room = enter(shed)
    noted = NoteFault(machine_id=1, text="nobody gets it to fire", since_on=TODAY, stops_use=True)
    hub = shed.rooms.hub
    assert hub is not None
    assert isinstance(hub.perform(noted), Changes)
    begin(shed, room)
    door(shed).controller._it_works()
    assert room.form is not None
    number = next(value for value, said in room.form.page.fields[3].choices if said == noted.text)
    put(shed.bot, room.form.widget("others"), (number,))
    shed.bot.mouseClick(room.form.done_button, LEFT)
    with hub.read() as session:
        left = [row.text for row in session.scalars(select(FaultRow)) if row.closed_on is None]
    assert left == []


def test_it_waits_on_the_bench_and_goes_on(shed: Shed):
    room = enter(shed)
    begin(shed, room)
    press(shed, room, "pause")
    assert room.form is not None
    put(shed.bot, room.form.widget("waits_for"), "needle and seat")
    shed.bot.mouseClick(room.form.done_button, LEFT)
    assert room.shown is not None
    assert "needle and seat" in room.standing.text()
    assert not room.card.isVisible()
    press(shed, room, "resume")
    assert room.card.isVisible()


def test_keys_alone_choose_an_outcome_and_escape_goes_back(shed: Shed):
    room = enter(shed)
    begin(shed, room)
    shed.bot.keyClick(room, Qt.Key.Key_4)
    settled(shed)
    assert [one.answer for one in search(shed).standing if one.doing is SearchDoing.TESTED]
    shed.bot.keyClick(room, Qt.Key.Key_Escape)
    assert shed.window.rooms.currentWidget() is shed.view


def test_a_card_that_is_read_does_not_change(shed: Shed):
    room = enter(shed)
    begin(shed, room)
    controller = door(shed).controller
    answer(shed, room, "ok")
    controller._show()
    before = room.shown
    room.touched.emit()
    shed.bot.wait(600)
    assert room.shown is before


def test_everything_is_large_enough_and_nothing_cut_at_twice_the_size(shed: Shed, qapp):  # noqa: ANN001
    room = enter(shed)
    begin(shed, room)
    for colours in (look.LIGHT, look.DARK):
        look.apply(qapp, colours, scale=2.0)
        room.restyle()
        shed.bot.wait(1)
        small = [
            button.accessibleName() or button.text()
            for button in room.findChildren(QPushButton)
            if button.isVisible() and button.height() < look.TARGET
        ]
        assert small == []
    look.apply(qapp, look.LIGHT)


def test_worth_it_gives_one_number_and_draws_the_line(shed: Shed):
    room = enter(shed)
    begin(shed, room)
    press(shed, room, "worth")
    worth = door(shed).worth_view
    assert shed.window.rooms.currentWidget() is worth
    for name, typed in (("asked", "40"), ("low", "180"), ("high", "260"), ("hour", "10")):
        put(shed.bot, worth.figures[name], typed)
    assert worth.most.text() not in ("", "£0")
    assert worth.stop.text().startswith("Stop when")
    shed.bot.mouseClick(worth.draw_button, LEFT)
    assert search(shed).stop_minutes


def test_not_sure_counts_as_done_and_cannot_comes_back_with_the_search(shed: Shed):
    room = enter(shed)
    begin(shed, room)
    answer(shed, room, "ok")
    assert room.shown is not None
    assert room.shown.card is not None
    unsure = room.shown.card.reading
    press(shed, room, "not_sure")
    pass_facts(shed, room)
    assert room.shown.path[-1].answer == "not sure"
    assert room.shown.card is not None
    aside = room.shown.card.reading
    assert aside != unsure
    press(shed, room, "cannot")
    pass_facts(shed, room)
    standing = [(one.doing, one.subject) for one in search(shed).standing]
    assert standing[-2:] == [(SearchDoing.TESTED, unsure), (SearchDoing.CANNOT, aside)]
    press(shed, room, "pause")
    assert room.form is not None
    put(shed.bot, room.form.widget("waits_for"), "somebody to help")
    shed.bot.mouseClick(room.form.done_button, LEFT)
    press(shed, room, "resume")
    pass_facts(shed, room)
    assert [one.doing for one in search(shed).standing].count(SearchDoing.CANNOT) == 0
    assert room.shown.card is not None
    assert room.shown.card.reading == aside


def test_a_fact_nobody_knows_is_answered_so(shed: Shed):
    room = enter(shed)
    button = next(one for one in room.symptom_buttons if one.code == "S1F")
    shed.bot.mouseClick(button, LEFT)
    assert room.form is not None
    shed.bot.mouseClick(room.form.done_button, LEFT)
    settled(shed)
    answered = 0
    while answered < 3 and room.shown is not None:
        if room.shown.fact is not None:
            fact = room.shown.fact.fact
            shed.bot.mouseClick(room.card.answers[-1], LEFT)
            answered += 1
            assert room.shown.fact is None or room.shown.fact.fact != fact
        else:
            press(shed, room, "cannot")
        settled(shed)
        if room.shown.card is not None and room.shown.card.kind is not AdviceKind.TEST:
            break
    assert answered


def test_what_comes_off_goes_back_backward_and_is_named_when_the_search_ends(shed: Shed):
    room = enter(shed)
    begin(shed, room)
    answer(shed, room, "ok")
    for _ in range(20):
        assert room.shown is not None
        assert room.shown.card is not None
        if room.shown.card.photo:
            break
        press(shed, room, "cannot")
        pass_facts(shed, room)
    assert room.shown is not None
    assert room.shown.card is not None
    assert room.shown.card.photo.startswith("Before you undo anything: ")
    for text in ("air box, two screws", "governor spring, second hole"):
        press(shed, room, "left_off")
        assert room.form is not None
        put(shed.bot, room.form.widget("text"), text)
        shed.bot.mouseClick(room.form.done_button, LEFT)
        settled(shed)
    assert [one.text for one in room.shown.left_off] == [
        "governor spring, second hole",
        "air box, two screws",
    ]
    assert room.shown.back == ()
    press(shed, room, "not_sure")
    pass_facts(shed, room)
    assert len(room.shown.back) == 1
    shed.bot.wait(1)
    press(shed, room, "end")
    assert room.form is not None
    assert "governor spring, second hole · air box, two screws" in room.form.page.lead


def test_what_the_file_knows_is_put_aside_by_a_button_and_counted_again(shed: Shed):
    room = enter(shed)
    begin(shed, room)
    assert room.shown is not None
    line = room.shown.known[0]
    press_line(shed, room, line.subject)
    aside = room.shown.known[0]
    assert aside.step_id
    assert "not counted" in aside.text
    press_line(shed, room, line.subject)
    assert room.shown.known[0] == line


def press_line(shed: Shed, room: FaultView, subject: str) -> None:
    button = next(
        one for one in room.left.findChildren(QPushButton) if one.property("subject") == subject
    )
    shed.bot.mouseClick(button, LEFT)
    settled(shed)


def test_long_ticks_keep_all_their_words_at_any_width(shed: Shed):
    room = enter(shed)
    shed.window.resize(1024, 640)
    button = next(one for one in room.symptom_buttons if one.code == "S1F")
    shed.bot.mouseClick(button, LEFT)
    assert room.form is not None
    ticks = room.form.widget("tried")
    assert isinstance(ticks, TickList)
    QCoreApplication.processEvents()
    for row in range(ticks.count()):
        box = ticks.visualItemRect(ticks.item(row))
        words = ticks.fontMetrics().boundingRect(
            QRect(0, 0, box.width() - 46, 10_000),
            int(Qt.TextFlag.TextWordWrap.value),
            ticks.item(row).text(),
        )
        assert words.height() <= box.height(), ticks.item(row).text()
    tick = Tick("a long question that goes on and on until it has to wrap")
    assert tick.heightForWidth(150) > tick.heightForWidth(2000)
