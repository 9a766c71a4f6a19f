"""What the file knows is taken in: how long it stood, its fuel, its bowl, the last work."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from app.causes.known import Known, carried_on, find_symptom, known_of, opening_state
from app.causes.worn import UNITS
from app.wording.searching import SUBJECTS
from models.acts.machines import AddMachine, FuelLeft
from models.acts.places import AddPlace
from models.acts.searches import BeginSearch, TellFact
from models.acts.storage import PutAway
from models.acts.uses import LogUse
from models.acts.work import LineGiven, RecordWork
from models.errors import Refused
from models.facts.fleet import read_fleet
from models.facts.searches import read_searches, read_told
from models.file import Household
from models.moment import Moment
from models.words import LineOutcome
from resources.fault_models import load_fault_models
from resources.loader import load_catalogue
from schedules.facts import FuelSort, KindCode, Past, Policy
from schedules.fault_facts import BLANK, SymptomId
from schedules.plan import judge
from tests.conftest import TODAY

RAN, SLEPT = date(2025, 3, 20), date(2025, 4, 1)


@pytest.fixture
def thrower(household: Household, moment: Moment) -> Household:
    """A two-stage thrower of 2019 that ran in March, with petrol of last winter in it."""
    run(household, moment, AddPlace(name="Lean-to", climate="nordic"))
    added = AddMachine(
        name="Red one",
        kind="K02",
        place_id=1,
        came_on=date(2019, 9, 1),
        past=Past.NEW,
        fuel_left=FuelLeft.YES,
        bought_on=date(2025, 2, 1),
        fuel_sort=FuelSort.E10,
    )
    run(household, moment, added)
    run(household, moment, LogUse(machine_id=1, day=RAN, run_seconds=1800))
    return household


def run(household: Household, moment: Moment, act: Any) -> None:
    household.need_writer().run(act, moment=moment)


def known(household: Household) -> Known:
    return every(household)[0]


def every(household: Household) -> list[Known]:
    catalogue = load_catalogue()
    with household.read() as session:
        fleet = read_fleet(session, on=TODAY, catalogue=catalogue)
    return [
        known_of(judge(facts, on=TODAY, policy=Policy(), limits=catalogue.limits), on=TODAY)
        for facts in fleet
    ]


def records(household: Household) -> list[Any]:
    return [one.record for one in every(household)]


def test_how_long_it_stood_and_how_its_petrol_aged(thrower: Household):
    found = known(thrower)
    assert found.last_ran == RAN
    assert found.record["months_parked"] == pytest.approx((TODAY - RAN).days / 30.4375)
    assert isinstance(found.record["fuel_ageing"], float)
    assert found.record["engine"] == "four_stroke"
    assert found.record["years_old"] == pytest.approx((TODAY - date(2019, 9, 1)).days / 365)
    assert "unknown_past" not in found.record
    assert "bowl_left_wet" not in found.record


def test_put_away_with_petrol_and_no_word_of_the_bowl_means_wet(thrower: Household, moment: Moment):
    run(thrower, moment, PutAway(machine_id=1, on=SLEPT))
    assert known(thrower).record["bowl_left_wet"] == "yes"


def test_a_bowl_that_was_emptied_is_dry_until_it_runs_again(thrower: Household, moment: Moment):
    work = RecordWork(machine_id=1, day=SLEPT, lines=(LineGiven(task="E4-11"),))
    run(thrower, moment, work)
    found = known(thrower).record
    assert found["bowl_left_wet"] == "no"
    assert found["last_work"] == "carburettor"
    run(thrower, moment, LogUse(machine_id=1, day=date(2025, 11, 1), run_seconds=1800))
    assert "bowl_left_wet" not in known(thrower).record


def test_a_short_code_means_the_complaints_that_fit_the_kind():
    models = load_fault_models()
    assert [one.code for one in find_symptom(models, "S1", KindCode("K02"))] == ["S1F"]
    assert [one.code for one in find_symptom(models, "s1t")] == ["S1T"]
    assert {one.code[:2] for one in find_symptom(models, "S1")} == {"S1"}
    assert all(not one.code[2].isdigit() for one in find_symptom(models, "S1"))


def test_a_machine_that_came_new_tells_the_age_of_its_belt(thrower: Household):
    assert known(thrower).record["belt_years"] == pytest.approx(
        (TODAY - date(2019, 9, 1)).days / 365
    )


def test_a_belt_looked_at_is_as_old_as_before_and_a_renewed_one_is_new(
    thrower: Household, moment: Moment
):
    work = RecordWork(machine_id=1, day=SLEPT, lines=(LineGiven(task="S2-08"),))
    run(thrower, moment, work)
    found = known(thrower).record
    assert found["belt_years"] == pytest.approx((TODAY - date(2019, 9, 1)).days / 365)
    assert "last_work" not in found
    line = LineGiven(task="S2-08", outcome=LineOutcome.REPLACED)
    run(thrower, moment, RecordWork(machine_id=1, day=date(2025, 4, 2), lines=(line,)))
    found = known(thrower).record
    assert found["belt_years"] == pytest.approx((TODAY - date(2025, 4, 2)).days / 365)
    assert found["last_work"] == "belt"


def test_paddles_and_edge_count_the_hours_since_they_were_seen_to(
    household: Household, moment: Moment
):
    run(household, moment, AddPlace(name="Lean-to", climate="nordic"))
    for number, (kind, subject, task, outcome) in enumerate(
        (
            ("K01", "rotor_hours", "S1-01", LineOutcome.REPLACED),
            ("K04", "hours_since_sharpening", "MW-01", LineOutcome.DONE),
        ),
        start=1,
    ):
        run(household, moment, AddMachine(name=kind, kind=kind, place_id=1, came_on=RAN))
        assert subject not in records(household)[number - 1]
        line = LineGiven(task=task, outcome=outcome)
        run(household, moment, RecordWork(machine_id=number, day=SLEPT, lines=(line,)))
        run(household, moment, LogUse(machine_id=number, day=TODAY, run_seconds=5400))
        found = records(household)[number - 1][subject]
        assert isinstance(found, float)
        assert found >= 1.5


def test_every_part_asked_for_has_its_words():
    assert {*UNITS, "belt_years", "rotor_hours", "hours_since_sharpening"} <= set(SUBJECTS)


def test_pins_renewed_this_season_are_counted_and_older_ones_are_not(
    thrower: Household, moment: Moment
):
    pins = LineGiven(task="S2-01", outcome=LineOutcome.REPLACED)
    run(thrower, moment, RecordWork(machine_id=1, day=SLEPT, lines=(pins,)))
    assert "pins_used_this_season" not in known(thrower).record
    for day in (date(2025, 11, 3), date(2025, 11, 9)):
        run(thrower, moment, RecordWork(machine_id=1, day=day, lines=(pins,)))
    assert known(thrower).record["pins_used_this_season"] == 2


def test_nothing_but_alkylate_in_the_tank_is_known_and_petrol_is_no_such_thing(
    thrower: Household, moment: Moment
):
    assert "alkylate_only" not in known(thrower).record
    added = AddMachine(
        name="Saw",
        kind="K09",
        place_id=1,
        came_on=date(2024, 9, 1),
        fuel_left=FuelLeft.YES,
        bought_on=date(2025, 2, 1),
        fuel_sort=FuelSort.PREMIX_ALKYLATE,
    )
    run(thrower, moment, added)
    assert records(thrower)[1]["alkylate_only"] == "yes"


def test_what_the_file_knows_can_be_put_aside_for_one_search(thrower: Household, moment: Moment):
    run(thrower, moment, BeginSearch(machine_id=1, symptom="S1F", on=TODAY))
    run(thrower, moment, TellFact(search_id=1, fact="months_parked", value=str(BLANK), on=TODAY))
    with pytest.raises(Refused):
        run(thrower, moment, TellFact(search_id=1, fact="months_parked", value="3", on=TODAY))
    with pytest.raises(Refused):
        run(thrower, moment, TellFact(search_id=1, fact="moonlight", value=str(BLANK), on=TODAY))
    models = load_fault_models()
    model = models.models[SymptomId("S1F")]
    record = known(thrower).record
    begun = opening_state(models, model, record=record, facts={})
    with thrower.read() as session:
        search = read_searches(session, on=TODAY)[0]
        told = read_told(session, machine_id=1, tools=frozenset())
    assert set(begun.record) - set(carried_on(model, begun, search.steps).record) == {
        "months_parked"
    }
    assert "months_parked" not in told
