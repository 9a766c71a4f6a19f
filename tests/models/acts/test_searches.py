"""A search for a fault: begun, answered, changed, put by, ended; what it teaches, and undone."""

from dataclasses import replace
from datetime import date
from typing import Any

from models.acts.fault_sheets import EnterFaultSheet, PrintedStep
from models.acts.searches import (
    AnswerTest,
    BeginSearch,
    CannotTest,
    CloseSearch,
    CountFind,
    NoteStep,
    PauseSearch,
    StopWhen,
    TakeBackStep,
    TellFact,
    TryCure,
)
from models.acts.sheets import PrintSheet
from models.acts.stores import Pay
from models.changes import Area
from models.errors import RefusedCode
from models.facts.benches import read_benches
from models.facts.searches import Search, count_finds, read_finds, read_searches, read_told
from models.tables.work import FaultRow
from models.words import Paper, PaymentSort, SearchDoing, SearchEnd, SheetSort
from tests.models.acts.shed import Shed, number_of

DAY, LATER = date(2025, 10, 4), date(2025, 11, 1)
TOOLS = frozenset({"tester"})


def begin(shed: Shed, **given: Any) -> int:
    wanted = {"machine_id": 1, "symptom": "S1F", "on": DAY, **given}
    return number_of(shed.run(BeginSearch(**wanted)), Area.SEARCHES)


def undo(shed: Shed) -> None:
    shed.household.need_writer().undo(moment=shed.moment)


def search(shed: Shed, number: int = 1) -> Search:
    with shed.household.read() as session:
        return next(one for one in read_searches(session, on=shed.today) if one.search_id == number)


def answer(number: int, reading: str, outcome: str, **given: Any) -> AnswerTest:
    return AnswerTest(search_id=number, reading=reading, outcome=outcome, on=DAY, **given)


def test_it_begins_with_what_was_seen_and_tried_and_notes_the_fault(shed: Shed):
    number = begin(shed, seen=(("Q-PARK", "wet"),), tried=(("F2", 0),), text="will not start")
    found = search(shed, number)
    assert [(one.doing, one.subject, one.answer) for one in found.steps] == [
        (SearchDoing.SEEN, "Q-PARK", "wet"),
        (SearchDoing.TRIED_BEFORE, "F2", ""),
    ]
    assert found.fault_text == "will not start"
    assert [fault.text for fault in shed.machine().faults] == ["will not start"]


def test_a_new_answer_takes_the_place_of_the_old_one_which_stays_on_record(shed: Shed):
    number = begin(shed)
    shed.run(answer(number, "gate", "ok"))
    shed.run(answer(number, "gate", "fuel"))
    found = search(shed, number)
    assert [one.withdrawn for one in found.steps] == [True, False]
    assert [one.answer for one in found.standing] == ["fuel"]
    undo(shed)
    assert [one.answer for one in search(shed, number).standing] == ["ok"]


def test_an_answer_takes_cannot_now_back(shed: Shed):
    number = begin(shed)
    shed.run(CannotTest(search_id=number, reading="spark", on=DAY))
    shed.run(answer(number, "spark", "good"))
    assert [one.doing for one in search(shed, number).standing] == [SearchDoing.TESTED]


def test_what_the_models_do_not_know_is_refused(shed: Shed):
    shed.refuses(
        BeginSearch(machine_id=1, symptom="S99", on=DAY), RefusedCode.UNKNOWN_CODE, field="symptom"
    )
    number = begin(shed)
    shed.refuses(answer(number, "nose", "ok"), RefusedCode.UNKNOWN_CODE, field="test")
    shed.refuses(answer(number, "gate", "maybe"), RefusedCode.UNKNOWN_CODE, field="outcome")
    cure = TryCure(search_id=number, cause="F2", place=7, helped=False, on=DAY)
    shed.refuses(cure, RefusedCode.OUT_OF_RANGE, field="cure")
    fact = TellFact(search_id=number, fact="valve", value="perhaps", on=DAY)
    shed.refuses(fact, RefusedCode.UNKNOWN_CODE, field="valve")
    shed.refuses(answer(99, "gate", "ok"), RefusedCode.NOT_THERE, what="search")


def test_it_waits_on_the_bench_until_somebody_goes_on(shed: Shed):
    number = begin(shed)
    shed.run(PauseSearch(search_id=number, on=LATER, waits_for="needle and seat"))
    assert (search(shed).paused_on, search(shed).waits_for) == (LATER, "needle and seat")
    shed.refuses(
        PauseSearch(search_id=number, on=LATER, waits_for="needle and seat"),
        RefusedCode.NOTHING_CHANGED,
    )
    shed.run(TryCure(search_id=number, cause="F6", place=1, helped=False, on=LATER))
    assert search(shed).paused_on is None


def test_parts_left_off_go_back_on(shed: Shed):
    number = begin(shed)
    for text in ("governor spring, second hole", "throttle rod"):
        shed.run(NoteStep(search_id=number, doing=SearchDoing.LEFT_OFF, on=DAY, text=text))
    first = search(shed).steps[0].step_id
    shed.run(TakeBackStep(step_id=first))
    assert [one.text for one in search(shed).standing] == ["throttle rod"]
    shed.refuses(TakeBackStep(step_id=first), RefusedCode.NOTHING_CHANGED)


def test_a_fact_is_kept_for_every_search_to_come_and_a_tool_for_every_machine(shed: Shed):
    shed.add_machine(name="Green one")
    number = begin(shed)
    shed.run(TellFact(search_id=number, fact="valve", value="no", on=DAY))
    shed.run(TellFact(search_id=number, fact="tester", value="yes", on=DAY))
    shed.run(CloseSearch(search_id=number, on=LATER, ending=SearchEnd.GIVEN_UP))
    with shed.household.read() as session:
        assert read_told(session, machine_id=1, tools=TOOLS) == {"valve": "no", "tester": "yes"}
        assert read_told(session, machine_id=2, tools=TOOLS) == {"tester": "yes"}


def test_an_end_closes_the_fault_and_teaches_until_it_is_taken_back(shed: Shed):
    number = begin(shed)
    shed.run(TryCure(search_id=number, cause="F4", place=0, helped=True, on=LATER))
    end = CloseSearch(
        search_id=number,
        on=LATER,
        ending=SearchEnd.CURED,
        cause="F4",
        teaches=True,
        how="the jet, at last",
    )
    shed.run(end)
    (fault,) = shed.rows(FaultRow)
    assert (fault.closed_on, fault.closed_how) == (LATER, "the jet, at last")
    with shed.household.read() as session:
        assert count_finds(read_finds(session), "S1F") == {"F4": 1}
    shed.run(CountFind(search_id=number, counts=False))
    with shed.household.read() as session:
        assert count_finds(read_finds(session), "S1F") == {}
    undo(shed)
    with shed.household.read() as session:
        assert count_finds(read_finds(session), "S1F") == {"F4": 1}
    shed.refuses(end, RefusedCode.CLOSED_ALREADY, what="search")
    shed.refuses(answer(number, "gate", "ok"), RefusedCode.CLOSED_ALREADY, what="search")


def test_what_was_spent_is_what_was_paid_for_it_since_it_began(shed: Shed):
    shed.run(Pay(day=date(2025, 9, 1), sort=PaymentSort.PART, cents=900, machine_id=1))
    number = begin(shed)
    shed.run(Pay(day=LATER, sort=PaymentSort.PART, cents=1250, machine_id=1))
    shed.run(Pay(day=LATER, sort=PaymentSort.BOUGHT, cents=9000, machine_id=1))
    shed.run(StopWhen(search_id=number, minutes=90, cents=4500))
    found = search(shed, number)
    assert (found.spent_cents, found.stop_minutes, found.stop_cents) == (1250, 90, 4500)


def test_a_search_of_another_machines_fault_is_refused(shed: Shed):
    shed.add_machine(name="Green one")
    begin(shed)
    (fault,) = shed.rows(FaultRow)
    shed.refuses(
        BeginSearch(machine_id=2, symptom="S1F", on=DAY, fault_id=fault.id),
        RefusedCode.NOT_THERE,
        what="fault",
    )


def test_a_sheet_of_a_search_that_ended_says_nothing_of_a_later_one(shed: Shed):
    first = begin(shed)
    step = PrintedStep(
        machine_id=1, number="1", title="Gate", symptom="S1F", subject="gate", place=None
    )
    sheet = PrintSheet(sort=SheetSort.FAULTS, paper=Paper.A4, lines=(step.line(),))
    shed.household.need_writer().run(sheet, moment=replace(shed.moment, today=DAY))
    shed.run(CloseSearch(search_id=first, on=DAY, ending=SearchEnd.GIVEN_UP))
    begin(shed, on=LATER)
    ticked = EnterFaultSheet(number=1000, day=LATER, seen=((0, "ok"),))
    shed.refuses(ticked, RefusedCode.CLOSED_ALREADY, what="search")


def test_what_came_off_in_a_search_is_on_the_bench_though_nobody_put_it_by(shed: Shed):
    number = begin(shed)
    off = NoteStep(search_id=number, doing=SearchDoing.LEFT_OFF, on=DAY, text="governor spring")
    shed.run(off)
    with shed.household.read() as session:
        (bench,) = read_benches(session).values()
    assert [one.text for one in bench.loose] == ["governor spring"]
    shed.run(CloseSearch(search_id=number, on=DAY, ending=SearchEnd.WORKS))
    with shed.household.read() as session:
        assert read_benches(session) == {}
