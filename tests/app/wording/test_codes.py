import ast
import inspect
import re
from datetime import date
from enum import StrEnum
from fractions import Fraction
from pathlib import Path

import pytest

import models
from app.wording.acts import ACTS, AREAS
from app.wording.extract import code_texts
from app.wording.faults import AMOUNTS, REFUSALS, TROUBLES
from app.wording.fields import FIELDS
from app.wording.grounds import PHRASES, SENTENCES
from app.wording.languages import LANGUAGES, fields
from app.wording.units import METRIC, SYMBOLS
from app.wording.wording import Line, Wording
from app.wording.words import WORDS
from models import words as file_words
from models.changes import ActCode, ActLabel, Area
from models.errors import (
    REFUSED_VALUES,
    TROUBLE_VALUES,
    Refused,
    RefusedCode,
    Trouble,
    TroubleCode,
)
from resources.loader import load_catalogue
from schedules import facts
from schedules.facts import Band, GovernedBy, HoursBasis, MachineState, Mark, Phase, TaskState
from schedules.reasons import REASON_VALUES, Reason, ReasonCode, Value, reason
from schedules.units import Quantity, Unit, UnitRefusal, UnitRefusedError, hours

DAY = date(2026, 12, 12)
# Codes that files and figures are named by; nobody is ever shown one of them.
NEVER_SHOWN = {file_words.Language, file_words.Paper, facts.PairSort, facts.WearAxis}
INNER_WORDS = re.compile(
    r"\b(slots?|anchor(?:ed|s)?|lapse[ds]?|gum|stale share|priors?|expected minutes|vessels?"
    r"|blocks?|symptoms?|suspects?|trials?|predetermined|condition-based|governed|laid up)\b",
    re.IGNORECASE,
)


def wording(language: str = "en_GB") -> Wording:
    return Wording(language, METRIC, load_catalogue())


def enums(module: object) -> list[type[StrEnum]]:
    return [
        found
        for _name, found in inspect.getmembers(module, inspect.isclass)
        if issubclass(found, StrEnum) and found.__module__ == getattr(module, "__name__", "")
    ]


DAYS = {
    "due",
    "day",
    "until",
    "early",
    "late",
    "opens",
    "deadline",
    "from_day",
    "to_day",
    "asked",
    "expected",
    "bought",
}
# Values as the engine gives them under these names.
VALUES: dict[str, Value] = {
    **dict.fromkeys(("task", "other_task"), "E4-02"),
    "limit": "L01",
    "governed_by": GovernedBy.HOURS,
    "phase": Phase.BEFORE,
    "basis": HoursBasis.ESTIMATED,
    "band": Band.BURN,
    "look": facts.Look.SHARP_CLEAR,
    "mark": Mark.OUR_JUDGEMENT,
    "figure": "months",
    **dict.fromkeys(("at", "interval", "hours"), hours(90_000)),
    **dict.fromkeys(("amount", "low", "high"), Quantity(Fraction(760), Unit.MICROMETRE)),
    **dict.fromkeys(
        ("ageing", "stale", "spoilt", "lost", "most_share"), Quantity(Fraction(450), Unit.PERMILLE)
    ),
    **dict.fromkeys(("found", "most"), Quantity(Fraction(12_000), Unit.MICROLITRE)),
    "clock": facts.FuelClock.OXIDATION,
    **dict.fromkeys(("uses", "months", "n", "percent", "days", "left", "season"), 3),
    **dict.fromkeys(("machine", "vessel", "fault", "job", "waits_for", "page"), "Red one"),
    **dict.fromkeys(DAYS, DAY),
}


def a_reason(code: ReasonCode, *missing: str) -> Reason:
    names = REASON_VALUES[code]
    return Reason(code, tuple((name, None if name in missing else VALUES[name]) for name in names))


@pytest.mark.parametrize("code", ReasonCode)
def test_each_ground_has_a_sentence_with_all_its_values(code: ReasonCode):
    sentence = SENTENCES[code]
    declared = set(REASON_VALUES[code])
    assert fields(sentence.text) == declared
    assert sentence.figure in {"", *declared}
    for names, text in (sentence.without or {}).items():
        missing = names.split()
        assert missing == sorted(missing)
        assert fields(text) == declared - set(missing)


@pytest.mark.parametrize("language", LANGUAGES)
@pytest.mark.parametrize("code", ReasonCode)
def test_each_ground_is_said(code: ReasonCode, language: str):
    said = wording(language).reason(a_reason(code))
    assert said.endswith((".", ")"))
    assert "{" not in said
    assert "None" not in said
    for names in SENTENCES[code].without or {}:
        without = wording(language).reason(a_reason(code, *names.split()))
        assert "not known" not in without or "past" in without
        assert "None" not in without


@pytest.mark.parametrize(
    ("code", "missing"),
    [
        (ReasonCode.DUE_HOURS, ("due",)),
        (ReasonCode.NOTHING_KNOWN, ("due",)),
        (ReasonCode.ASLEEP, ("until",)),
        (ReasonCode.FORECAST_BAND, ("early",)),
        (ReasonCode.FORECAST_BAND, ("late",)),
        (ReasonCode.FORECAST_BAND, ("early", "late")),
        (ReasonCode.RESTS, ("to_day",)),
        (ReasonCode.ALSO, ("due",)),
        (ReasonCode.LIMIT_IS, ("low",)),
        (ReasonCode.LIMIT_IS, ("high",)),
        (ReasonCode.LIMIT_IS, ("low", "high")),
        (ReasonCode.READING_WAS, ("amount",)),
        (ReasonCode.OWN_MANUAL, ("page",)),
        (ReasonCode.CARRIED, ("percent",)),
        (ReasonCode.JOB_AT_HOURS, ("due",)),
        (ReasonCode.JOB_PHASE, ("due",)),
        (ReasonCode.PUT_AWAY, ("until",)),
        (ReasonCode.FUEL_AGE, ("bought",)),
        (ReasonCode.FUEL_AGE, ("ageing",)),
    ],
)
def test_what_is_missing_has_a_sentence_of_its_own(code: ReasonCode, missing: tuple[str, ...]):
    assert "not known" not in wording().reason(a_reason(code, *missing))


@pytest.mark.parametrize("enum", [*enums(facts), *enums(file_words)])
def test_each_code_of_the_house_has_a_word(enum: type[StrEnum]):
    if enum in NEVER_SHOWN:
        assert enum not in WORDS
        return
    assert set(WORDS[enum]) == set(enum)
    for member in enum:
        said = wording().word(member)
        assert said
        assert "_" not in said


def test_states_are_said_as_an_owner_says_them():
    said = wording()
    assert [said.state(state) for state in TaskState] == [
        "not known",
        "overdue",
        "due",
        "coming up",
        "nothing due",
    ]
    assert [said.state(state) for state in MachineState] == [
        "out of order",
        "not known",
        "put away",
        "usable, but …",
        "ready",
    ]


def test_no_inner_word_is_ever_shown():
    texts = [
        text for found in code_texts() for text in ([found] if isinstance(found, str) else found)
    ]
    assert len(texts) > 200
    bare = {text: re.sub(r"\{[a-z_]+\}", "", text) for text in texts}
    assert [text for text, words in bare.items() if INNER_WORDS.search(words)] == []


@pytest.mark.parametrize("code", RefusedCode)
def test_each_refusal_says_what_happened_what_it_means_what_to_do(code: RefusedCode):
    declared = set(REFUSED_VALUES[code])
    parts = REFUSALS[code].parts
    assert all(parts)
    assert fields(" ".join(parts)) == declared
    values: dict[str, Value] = dict.fromkeys(declared, "x")
    said = wording().refused_parts(Refused(code, **values))
    assert all(part.endswith(".") for part in said)


CHECKED_BY = {"plain_text", "whole", "checked_day", "day", "unknown"}


def fields_refused() -> set[str]:
    """The fields that acts and reads of the file name when they refuse one."""
    found: set[str] = set()
    for file in sorted(Path(models.__file__).parent.rglob("*.py")):
        if file.parent.name == "tables":  # columns are declared there, in words alike
            continue
        for node in ast.walk(ast.parse(file.read_text("utf-8"))):
            if not isinstance(node, ast.Call):
                continue
            named = [keyword.value for keyword in node.keywords if keyword.arg == "field"]
            name = ast.unparse(node.func).rsplit(".", 1)[-1]
            named += node.args[:1] if name in CHECKED_BY else []
            found |= {str(node.value) for node in named if isinstance(node, ast.Constant)}
    return found - {""}


def test_each_field_that_can_be_refused_has_a_name():
    found = fields_refused()
    assert len(found) > 40
    assert found - set(FIELDS) == set()
    for name in FIELDS.values():
        assert "_" not in name


def test_a_figure_out_of_range_is_said_in_its_unit():
    said = wording().refused_parts(
        Refused(RefusedCode.OUT_OF_RANGE, field="tank_ul", value=10**9, low=0, high=10**8)
    )
    assert said[0] == "“how much the tank holds” cannot be 1,000\u00a0L."
    assert said[1] == "It lies between 0\u00a0L and 100\u00a0L."
    hours = wording().refused_parts(
        Refused(RefusedCode.OUT_OF_RANGE, field="run_seconds", value=-3600, low=0, high=86_400)
    )
    assert hours[0] == "“how long it ran” cannot be -1\u00a0h."


@pytest.mark.parametrize("code", UnitRefusal)
def test_each_refused_amount_says_why(code: UnitRefusal):
    said = wording().amount_refused(UnitRefusedError(code, "{0} %s"))
    assert said.endswith((".", "?"))
    assert "{text}" not in AMOUNTS[code] or "{0} %s" in said


@pytest.mark.parametrize("code", TroubleCode)
def test_each_trouble_says_what_happened_what_it_means_what_to_do(code: TroubleCode):
    declared = set(TROUBLE_VALUES[code])
    parts = TROUBLES[code].parts
    assert all(parts)
    assert fields(" ".join(parts)) == declared - {"detail"}  # the system's words, for its menders
    values: dict[str, Value] = dict.fromkeys(declared, "x")
    said = wording().trouble_parts(Trouble(code, **values))
    assert all(part.endswith(".") for part in said)


def test_each_act_and_each_area_has_a_word():
    assert set(ACTS) == set(ActCode)
    assert set(AREAS) == set(Area)
    label = ActLabel(ActCode.RECORD_WORK, (("name", "Red one"),))
    assert wording().act(label) == "work done: Red one"
    assert wording().act(ActLabel(ActCode.FUEL)) == "fuel"


@pytest.mark.parametrize(
    "unit", [u for u in Unit if u not in (Unit.DAY, Unit.MONTH, Unit.CENT, Unit.COUNT, Unit.NONE)]
)
def test_each_unit_has_a_symbol(unit: Unit):
    assert SYMBOLS[unit]


@pytest.mark.parametrize(
    "name",
    [
        "{0}",
        "%s",
        "{task}",
        "100 %",
        "<b>bold</b>",
        "{",
        "}}",
        "Tom's \\1",
        "\\g<0>",
        "{name.__class__}",
    ],
)
def test_what_a_user_typed_stays_as_typed(name: str):
    said = wording()
    assert said.reason(reason(ReasonCode.STATE_FIT, machine=name)) == f"{name} is ready."
    fault = reason(ReasonCode.OPEN_FAULT, fault=name, day=DAY)
    ground = reason(ReasonCode.STATE_DOWN, machine=name, children=(fault,))
    assert said.standing(ground) == (f"{name} is out of order: {name} (since Sat 12 Dec 2026).")
    refused = Refused(RefusedCode.HAS_RECORDS, name=name)
    assert said.refused(refused).startswith(f"“{name}” has work")
    assert said.text("{task} of {n}", task=name, n=2) == f"{name} of 2"


@pytest.mark.parametrize("code", PHRASES)
def test_each_ground_of_a_state_can_stand_within_a_sentence(code: ReasonCode):
    declared = set(REASON_VALUES[code])
    assert fields(PHRASES[code].text) == declared
    for names, text in (PHRASES[code].without or {}).items():
        assert fields(text) == declared - set(names.split())
    ground = reason(ReasonCode.STATE_WITH_CARE, machine="Red one", children=(a_reason(code),))
    said = wording().standing(ground)
    assert said.startswith("Red one is usable, but ")
    assert said.endswith(".")
    assert "{" not in said


def test_a_machine_stands_as_an_owner_says_it():
    said = wording()
    stale = reason(ReasonCode.STALE_FUEL, vessel="its tank", band=Band.DRAIN)
    away = reason(ReasonCode.PUT_AWAY, day=DAY, until=None)
    for head, children, sentence in (
        (
            ReasonCode.STATE_WITH_CARE,
            (stale,),
            "Red one is usable, but the fuel in “its tank” is old: drain it, do not run on it.",
        ),
        (
            ReasonCode.STATE_LAID_UP,
            (away, stale),
            "Red one has been put away since Sat 12 Dec 2026, until further notice.",
        ),
        (ReasonCode.STATE_FIT, (), "Red one is ready."),
        (
            ReasonCode.STATE_UNKNOWN,
            (a_reason(ReasonCode.PAST_UNKNOWN),),
            (
                "How Red one is, nobody can say yet: its past is not known, "
                "with 3 things of the first going-over still to do."
            ),
        ),
    ):
        assert said.standing(reason(head, machine="Red one", children=children)) == sentence


def test_a_code_nobody_knows_any_more_stands_as_it_is():
    said = wording()
    gone = reason(ReasonCode.EACH_USE, task="ZZ-99")
    assert said.reason(gone) == "ZZ-99: each time, before you use it."


def test_the_tree_says_every_ground_with_its_depth_figure_and_source():
    said = wording()
    leaf = reason(ReasonCode.FIGURE_MARK, source="msu-mower", figure="months", mark=Mark.PUBLISHED)
    middle = reason(ReasonCode.INTERVAL_MONTHS, months=12, children=(leaf,))
    last = reason(ReasonCode.ANCHOR_DONE, day=DAY)
    head = reason(ReasonCode.DUE_MONTHS, task="E4-02", due=DAY, months=12, children=(middle, last))
    lines = said.tree(head)
    assert [line.depth for line in lines] == [0, 1, 2, 1]
    assert lines[1] == Line(1, "Wanted again after 12 months.", "12 months", "")
    assert lines[2].value_text == "published"
    assert lines[2].source_text
    assert lines[2].source_text != "msu-mower"
    assert lines[3].text == "Last done on Sat 12 Dec 2026."


def test_estimated_hours_say_about():
    said = wording()
    estimated = reason(
        ReasonCode.HOURS_NOW, hours=hours(51_100), day=DAY, basis=HoursBasis.ESTIMATED
    )
    read = reason(ReasonCode.HOURS_NOW, hours=hours(51_100), day=DAY, basis=HoursBasis.METER)
    assert "about 14.2\u00a0h (estimated)" in said.reason(estimated)
    assert "run 14.2\u00a0h (read off)" in said.reason(read)
