"""`find`: the next step in words and as JSON, by what was seen and by what the file knows."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from models.acts.searches import AnswerTest, BeginSearch
from models.file import Household, open_household
from models.moment import Moment
from resources.fault_models import load_fault_models
from tests.app.cli.conftest import Run
from tests.conftest import TODAY

Holds = Callable[[str, Any], None]


def test_without_a_complaint_it_lists_them(firstpull: Run, household: Household, holds: Holds):
    said = firstpull("find", "--file", household.path, "--json")
    assert said.code == 0
    holds("find", said.data)
    codes = {one["code"] for one in said.data["symptoms"]}
    assert set(load_fault_models().models) <= codes
    assert "S2-S1F" in codes


def test_the_free_look_comes_first_and_cautions_before_its_steps(
    firstpull: Run, household: Household
):
    said = firstpull("find", "S1F", "--file", household.path)
    assert said.code == 0
    assert said.out.index("DANGER") < said.out.index("1. ")
    assert "[gate=ok]" in said.out
    assert "in 10: " in said.out


def test_what_was_seen_changes_the_answer_and_odds_sum_to_one(
    firstpull: Run, household: Household, holds: Holds
):
    say = ("--file", household.path, "--json")
    first = firstpull("find", "S1F", "--seen", "gate=ok", *say).data
    then = firstpull("find", "S1F", "--seen", "gate=ok", "spark=none", *say).data
    for data in (first, then):
        holds("find", data)
        assert sum(one["odds"] for one in data["suspects"]) == pytest.approx(1, abs=0.002)
    assert first["suspects"][0]["code"] != then["suspects"][0]["code"]
    assert {"test": "spark", "outcome": "none"} in then["seen"]


def test_a_cure_in_vain_and_a_test_that_cannot_be_done(firstpull: Run, household: Household):
    say = ("--file", household.path, "--json")
    data = firstpull("find", "S1F", "--seen", "gate=ok", "F4=tried", *say).data
    before = firstpull("find", "S1F", "--seen", "gate=ok", *say).data
    odds = {one["code"]: one["odds"] for one in data["suspects"]}
    assert odds["F4"] < {one["code"]: one["odds"] for one in before["suspects"]}["F4"] / 2
    test = before["step"]["test"]
    other = firstpull("find", "S1F", "--seen", "gate=ok", f"{test}=cannot", *say).data
    assert other["step"]["test"] != test


@pytest.mark.parametrize("typed", ["gate=perhaps", "nose=ok", "gate"])
def test_what_cannot_be_seen_is_said_with_what_can(
    firstpull: Run, household: Household, typed: str
):
    said = firstpull("find", "S1F", "--seen", typed, "--file", household.path)
    assert (said.code, said.out) == (2, "")
    assert typed in said.err


def test_an_unknown_complaint_or_machine_is_refused(firstpull: Run, household: Household):
    assert firstpull("find", "S99", "--file", household.path).code == 2
    assert firstpull("find", "S1F", "--machine", 99, "--file", household.path).code == 2


def test_a_search_of_the_file_is_carried_on(
    firstpull: Run, shed: Path, moment: Moment, holds: Holds
):
    with open_household(shed, moment=moment) as opened:
        writer = opened.need_writer()
        writer.run(BeginSearch(machine_id=1, symptom="S1F", on=TODAY), moment=moment)
        seen = AnswerTest(search_id=1, reading="gate", outcome="ok", on=TODAY)
        writer.run(seen, moment=moment)
    asked = ("--machine", 1, "--file", shed, "--on", TODAY)
    data = firstpull("find", "S1F", *asked, "--json").data
    holds("find", data)
    assert data["search"] == 1
    assert data["seen"] == [{"test": "gate", "outcome": "ok"}]
    assert data["symptom"]["code"] == "S1F"
    assert "The file knows" in firstpull("find", "S1F", *asked).out
