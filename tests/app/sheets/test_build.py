"""From what the engine judged to the words on paper."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from app.sheets import preseason
from app.sheets.build import (
    A_LEAF,
    CardForm,
    MachineNotes,
    SheetMachine,
    buyer_pdf,
    card_pdf,
    preseason_pdf,
)
from app.sheets.buyer_rows import page_of
from app.sheets.card_rows import card_of
from app.sheets.lettering import Run, Voice, plain
from app.sheets.preseason import PreSeasonSheet, lettered
from app.sheets.preseason_rows import Detail, sheet_of, steps_of
from app.sheets.steps import Step
from app.sheets.surface import Paper
from app.wording.units import METRIC, US
from app.wording.wording import Wording
from resources.loader import load_catalogue
from schedules.facts import FeatureCode, MachineId, OwnFigure, Past, Purchase, TaskCode
from schedules.workload import befores
from tests.app.sheets.example import ON, judged, machine_facts, of_kind, renamed, thrower
from tests.app.sheets.reading import document, outside, pages

BRITISH = Wording("en_GB", METRIC, load_catalogue())
AMERICAN = Wording("en_US", US, load_catalogue())
KINDS = sorted(load_catalogue().kinds)


def sheet(
    machine: SheetMachine,
    wording: Wording = BRITISH,
    bought: tuple[Purchase, ...] = (),
    *,
    detail: Detail = Detail.FULL,
    on: date = ON,
) -> PreSeasonSheet:
    return sheet_of(
        machine,
        number="4127",
        bought=bought,
        wording=wording,
        household="Shed at Northfold",
        on=on,
        detail=detail,
    )


def steps(made: PreSeasonSheet) -> list[Step]:
    return [step for stage in made.stages for step in stage.steps]


def with_feature(machine: SheetMachine, **features: str) -> SheetMachine:
    found = tuple((FeatureCode(name.replace("_", "-")), value) for name, value in features.items())
    return renamed(machine, features=found)


# -- the pre-season sheet ---------------------------------------------------------------------


def test_every_task_of_the_list_stands_once():
    machine = thrower()
    named = [str(step.what) for step in steps(sheet(machine))]
    listed = [BRITISH.task(code) for line in machine.season.lines for code in line.codes]
    assert sorted(set(listed)) == sorted(listed)
    for name in listed:
        assert named.count(name) == 1


def test_safety_checks_of_each_use_join_the_list():
    machine = thrower()
    named = {str(step.what): step for step in steps(sheet(machine))}
    for code in machine.judging.verdict.each_use:
        task = machine.judging.task(code)
        if task.safety:
            step = named[BRITISH.task(code)]
            assert step.minutes == "each time"
            assert step.stop == f"Stop use if {task.stop_use_if}."


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("past", list(Past))
def test_the_order_of_the_work_is_kept(kind: str, past: Past):
    machine = of_kind(kind, past)
    codes = {BRITISH.task(verdict.code): verdict.code for verdict in machine.judging.verdict.tasks}
    order = [codes[str(step.what)] for step in steps(sheet(machine)) if step.what in codes]
    before = befores(load_catalogue().precedence)
    for place, code in enumerate(order):
        assert not before.get(code, frozenset()) & set(order[place + 1 :])


@pytest.mark.parametrize("kind", KINDS)
def test_the_engine_runs_only_behind_its_divider(kind: str):
    """And no work that wants it still is asked for while it runs."""
    machine = of_kind(kind)
    openings = {
        BRITISH.task(verdict.code): machine.judging.task(verdict.code).opening
        for verdict in machine.judging.verdict.tasks
    }
    for stage in sheet(machine).stages:
        for step in stage.steps:
            opening = openings.get(str(step.what))
            if opening is not None:
                assert bool(stage.tick) == (opening in {"warm-run", "water-on"}), step.what


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("past", list(Past))
def test_every_caution_of_a_task_belongs_to_its_step(kind: str, past: Past):
    machine = of_kind(kind, past)
    codes = {BRITISH.task(verdict.code): verdict.code for verdict in machine.judging.verdict.tasks}
    for stage in sheet(machine).stages:
        throughout = {caution.text for caution in stage.cautions}
        for step in stage.steps:
            said = throughout | {caution.text for caution in step.cautions}
            code = codes.get(str(step.what))
            for caution in machine.judging.task(code).cautions if code else ():
                assert BRITISH.caution(caution).text in said


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("past", list(Past))
def test_every_step_points_to_its_cautions_or_stands_under_their_panel(kind: str, past: Past):
    """In its own stage: a panel further up says nothing of a machine that runs again."""
    stages = sheet(of_kind(kind, past)).stages
    letters = lettered(stages)
    for stage in stages:
        ticked = {caution.text for caution in stage.cautions if caution.tick}
        for step in stage.steps:
            for caution in step.cautions:
                assert caution.text in ticked or letters.get(caution), step.what


def test_lead_off_has_a_box_of_its_own_before_the_first_cold_step():
    first = sheet(thrower()).stages[0]
    assert first.cautions[0].tick.startswith("Key out, plug lead off")
    assert first.cautions[0].signal == "danger"


def test_the_minutes_printed_add_up():
    machine = thrower()
    jobs = sum(job.minutes for job in machine.judging.facts.jobs)
    printed = sum(
        int(step.minutes.split("\u00a0")[0])
        for step in steps(sheet(machine))
        if step.minutes.endswith("min")
    )
    assert printed - jobs == machine.season.look_minutes + machine.season.do_minutes


def test_a_machine_nobody_knows_begins_with_ten_minutes_of_looks():
    machine = of_kind("K02", Past.UNKNOWN)
    made = sheet(machine, detail=Detail.WORK)
    first, *rest = made.stages
    assert first.title == "First looks: 9\u00a0min"
    named = [str(step.what) for step in first.steps]
    assert named[0].startswith("Look for a nest")
    assert {"Look at the guards", "Check the oil level"} <= set(named)
    assert any(name.startswith("Look for fuel leaks") for name in named)
    assert all(step.look and step.how for step in first.steps)
    assert str(made.start).startswith("First looks, 1 to 4: 9\u00a0min.")
    assert any(name.startswith("Change the engine oil") for name in made.later)
    later = {name.rsplit(" ", 1)[0] for name in made.later}
    assert not later & {str(step.what) for stage in rest for step in stage.steps}


@pytest.mark.parametrize("kind", ["K02", "K04", "K10", "K16"])
def test_no_hand_goes_into_a_machine_nobody_knows_before_it_is_made_safe(kind: str):
    first = sheet(of_kind(kind, Past.UNKNOWN)).stages[0]
    assert first.title.startswith("First looks")
    assert any(caution.tick.startswith("Key out, p") for caution in first.cautions)


@pytest.mark.parametrize("past", [Past.UNKNOWN, Past.NEW])
@pytest.mark.parametrize("kind", ["K02", "K05", "K10"])
def test_steps_are_read_back_by_the_figures_they_are_printed_under(kind: str, past: Past):
    machine = of_kind(kind, past)
    printed = [str(step.what).removeprefix("Known fault: ") for step in steps(sheet(machine))]
    assert [one.text for one in steps_of(machine, wording=BRITISH, on=ON)] == printed


@pytest.mark.parametrize("paper", list(Paper))
def test_a_machine_nobody_knows_stands_on_one_leaf(paper: Paper):
    facts = machine_facts("K02", past=Past.UNKNOWN)
    items = tuple(replace(item, doings=(), readings=()) for item in facts.items)
    machine = judged(replace(facts, items=items, jobs=(), faults=()))
    pdf = preseason_pdf(
        [machine],
        numbers={machine.machine_id: "4127"},
        bought=(),
        wording=BRITISH,
        paper=paper,
        household="Shed at Northfold",
        on=ON,
    )
    assert len(pages(pdf)) <= A_LEAF


def test_jobs_and_faults_stand_on_the_sheet():
    text = [str(step.what) for step in steps(sheet(thrower()))]
    assert "new valve in the left tyre" in text
    assert "Known fault: howls in slush" in text


def test_a_limit_says_where_a_reading_is_still_well_and_what_that_rests_on():
    found = {str(step.what): step for step in steps(sheet(thrower()))}
    (bar,) = found["Measure the scraper bar"].findings
    assert (bar.limit, bar.mark) == ("over 1.6\u00a0mm", "d")
    assert [getattr(answer, "unit", "") for answer in bar.answers] == ["mm"]


def test_the_owners_manual_wins_and_is_marked():
    own = OwnFigure(target="L14", figure="low", value=2500, page="p. 12")
    machine = renamed(thrower(), own_figures=(own,))
    found = {str(step.what): step for step in steps(sheet(machine))}
    (bar,) = found["Measure the scraper bar"].findings
    assert (bar.limit, bar.mark) == ("over 2.5\u00a0mm", "m")
    assert "(m)\u00a0your manual" in sheet(machine).marks


def test_american_sheets_speak_american():
    found = {str(step.what): step for step in steps(sheet(thrower(), AMERICAN))}
    bar = next(step for name, step in found.items() if "scraper bar" in name)
    assert bar.findings[0].limit == "over 1/16\u00a0in"
    assert sheet(thrower(), AMERICAN).rule == "in"
    text = " ".join(str(step.how) for step in found.values())
    assert "carburettor" not in text
    assert "carburetor" in text


def test_a_brief_sheet_keeps_limits_and_stops():
    full, brief = sheet(thrower()), sheet(thrower(), detail=Detail.BRIEF)
    named = {BRITISH.task(verdict.code) for verdict in thrower().judging.verdict.tasks}
    assert all(not step.how for step in steps(brief) if step.what in named)
    assert [step.stop for step in steps(brief)] == [step.stop for step in steps(full)]
    assert [step.findings for step in steps(brief)] == [step.findings for step in steps(full)]


def test_a_sheet_names_the_documents_its_figures_rest_on_and_no_others():
    catalogue = load_catalogue()
    made = sheet(of_kind("K02"))
    assert made.sources
    assert len(set(made.sources)) == len(made.sources)
    held = {f"{found.publisher}, {found.title}" for found in catalogue.sources.values()}
    for source in made.sources:
        assert any(whole.startswith(source) for whole in held)


def test_a_class_says_what_it_is_the_class_of():
    found = [finding for step in steps(sheet(of_kind("K02"))) for finding in step.findings]
    assert "leak, by class under 3\u00a0(drops that fall)" in [
        plain(finding.limit) for finding in found
    ]


def test_two_bounds_share_their_unit():
    found = [finding for step in steps(sheet(of_kind("K02"))) for finding in step.findings]
    said = [plain(finding.limit) for finding in found]
    assert "103 to 138\u00a0kPa" in said
    american = [f for step in steps(sheet(of_kind("K02"), AMERICAN)) for f in step.findings]
    assert "15 to 20\u00a0psi" in [plain(finding.limit) for finding in american]


def test_two_bounds_in_inches_are_both_parts_or_both_thousandths():
    for kind in KINDS:
        for step in steps(sheet(of_kind(kind), AMERICAN)):
            for finding in step.findings:
                said = plain(finding.limit)
                if said.endswith("\u00a0in") and " to " in said:
                    assert not {"/", "."} <= set(said), said


def test_a_tool_and_several_of_its_sort_are_said_once():
    bring = sheet(of_kind("K02")).bring
    assert not [tool for tool in bring if f"{tool}s" in bring]


def test_what_to_buy_is_sorted_by_its_day_and_only_for_this_machine():
    def bought(part: str, day: date | None, *machines: int, quantity: int = 1) -> Purchase:
        ids = tuple(MachineId(number) for number in machines)
        return Purchase(part=part, name=part, quantity=quantity, buy_by=day, machine_ids=ids)

    made = sheet(
        thrower(),
        bought=(
            bought("late", date(2025, 10, 4), 1),
            bought("whenever", None, 1),
            bought("missed", date(2025, 9, 1), 1, 2),
            bought("plug", date(2025, 9, 27), 1, quantity=4),
            bought("other", date(2025, 9, 27), 2),
        ),
    )
    assert [(buying.label, buying.things) for buying in made.buying] == [
        ("Buy now", ("missed",)),
        ("Buy by 27\u00a0Sept 2025".replace("\u00a0", " "), ("4 × plug",)),
        ("Buy by 4 Oct 2025", ("late",)),
        ("Buy", ("whenever",)),
    ]


def test_a_start_that_was_missed_is_now():
    assert str(sheet(thrower()).start).startswith("Start by 11 Oct 2025, ")
    assert str(sheet(thrower(), on=date(2025, 10, 20)).start).startswith("Start now, ")


def test_what_is_reckoned_leans():
    made = sheet(thrower())
    hours = next(fact for fact in made.facts if fact.label == "Hours").value
    assert isinstance(hours, tuple)
    assert {run.voice for run in hours if isinstance(run, Run)} == {Voice.RECKONED}


def test_valves_decide_what_stands_before_the_engine_runs():
    def ready(machine: SheetMachine) -> str:
        return next(stage.tick for stage in sheet(machine).stages if stage.tick)

    assert "fuel valve ON" in ready(with_feature(thrower(), fuel_valve="yes"))
    assert "valve" not in ready(with_feature(thrower(), fuel_valve="no"))
    assert "(if any)" in ready(thrower())


def test_a_machine_without_a_number_is_refused():
    with pytest.raises(KeyError):
        preseason_pdf(
            [thrower()],
            numbers={},
            bought=(),
            wording=BRITISH,
            paper=Paper.A4,
            household="",
            on=ON,
        )


# -- the card ---------------------------------------------------------------------------------


def card_text(machine: SheetMachine) -> str:
    made = card_of(machine, wording=BRITISH, on=ON)
    return " | ".join(plain(step) for step in made.steps)


def test_features_decide_the_steps_of_a_card():
    known = with_feature(thrower(), fuel_valve="yes", primer_bulb="no", starter="battery")
    assert "Fuel valve to ON" in card_text(known)
    assert "Bulb" not in card_text(known)
    assert "Turn the key to START" in card_text(known)
    assert "if it has one" in card_text(thrower())


def test_a_card_asks_nothing_about_a_valve_that_is_not_there():
    asked = card_of(with_feature(thrower(), fuel_valve="no"), wording=BRITISH, on=ON).questions
    assert len(asked) == 3
    assert all("valve" not in question.ask for question in asked)


def test_what_nobody_noted_is_a_blank_on_the_card():
    bare = card_of(judged(machine_facts()), wording=BRITISH, on=ON)
    assert next(fact for fact in bare.facts if fact.label == "Oil").value == ""
    noted = judged(machine_facts(), MachineNotes(oil="5W-30", ring="Ada, 4"))
    told = card_of(noted, wording=BRITISH, on=ON)
    assert next(fact for fact in told.facts if fact.label == "Oil").value == "5W-30"
    assert told.ring[0].value == "Ada, 4"


def test_a_card_says_how_far_from_the_house_and_what_to_do_with_a_jam():
    made = card_of(thrower(), wording=BRITISH, on=ON)
    assert "at least 6.1 m (20 ft)" in made.before[0].text
    assert {caution.signal for caution in (made.before[0], made.after[0])} == {"danger"}
    assert "Never a hand" in made.after[0].text


# -- the page for the buyer -------------------------------------------------------------------


def page(machine: SheetMachine):
    return page_of(machine, spent=(), wording=BRITISH, household="", on=ON)


def test_a_past_nobody_wrote_down_is_told():
    told = page(judged(machine_facts(past=Past.UNKNOWN)))
    assert told.unknown[0] == "What was done to it before 14 Nov 2021"
    assert told.unknown[1] == "How long it ran before 14 Nov 2021"
    assert not page(thrower()).unknown


def test_work_passed_over_is_not_told_as_done():
    machine = thrower()
    facts = machine.judging.facts
    item = facts.items[0]
    assumed = tuple(replace(doing, assumed=True) for doing in item.doings)
    lied = renamed(machine, items=(replace(item, doings=assumed), *facts.items[1:]))
    assert len(page(machine).done) - len(page(lied).done) == len(assumed)


def test_readings_are_told_with_where_they_would_be_worn():
    (bar,) = page(thrower()).measured
    assert (bar.found, bar.worn_when) == ("2\u00a0mm", "1.6\u00a0mm or less")


def test_faults_and_failed_checks_are_told():
    told = page(thrower()).faults
    assert told[0] == "howls in slush (since 20 Sept 2025)"
    assert told[1].startswith("Failed: ")
    assert TaskCode("E4-09") in {check.code for check in thrower().judging.facts.failed_checks}


def test_costs_are_told_only_when_asked():
    def text(spent: dict[MachineId, list[tuple[str, str]]]) -> str:
        return document(
            buyer_pdf(
                [thrower()],
                wording=BRITISH,
                paper=Paper.A4,
                household="",
                on=ON,
                spent=spent,
            )
        )

    assert "Spent on it" not in text({})
    assert "£84.20" in text({MachineId(1): [("Parts", "£84.20")]})


# -- all kinds --------------------------------------------------------------------------------


@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_prints(kind: str):
    machine = of_kind(kind, Past.UNKNOWN)
    data = preseason_pdf(
        [machine],
        numbers={machine.machine_id: "0007"},
        bought=(),
        wording=BRITISH,
        paper=Paper.A4,
        household="Shed",
        on=ON,
    )
    for found in pages(data):
        assert outside(found, preseason.MARGIN) == []
        assert "0007" in found.text
    folded = card_pdf([machine], wording=BRITISH, paper=Paper.A4, on=ON)
    full = card_pdf([machine], wording=AMERICAN, paper=Paper.LETTER, on=ON, form=CardForm.FULL)
    assert [len(pages(made)) for made in (folded, full)] == [1, 2]
    sold = buyer_pdf([machine], wording=AMERICAN, paper=Paper.LETTER, household="Shed", on=ON)
    assert len(pages(sold)) == 1
