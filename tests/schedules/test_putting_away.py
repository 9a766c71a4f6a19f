"""Putting away, getting out, going over: the rules, and two lists as a practised hand has them."""

import re
from collections.abc import Iterable, Mapping
from dataclasses import replace
from datetime import date, timedelta
from fractions import Fraction

import pytest

from resources.loader import HERE, CatalogueError, load_catalogue
from resources.storage import load_sitting_rules, parse_sitting_rules
from schedules.facts import (
    Band,
    FuelSort,
    FuelUse,
    LotFacts,
    MachineFacts,
    MachineId,
    Past,
    Policy,
    Shelter,
    StorageFacts,
    TaskCode,
    VesselFacts,
    VesselId,
    VesselSort,
)
from schedules.going_over import ask_to_go_over, checked_again, needs_gates
from schedules.putting_away import (
    LastWhy,
    RouteWhy,
    ask_to_put_away,
    grounds_of,
    median_gap,
    suggest_route,
    was_that_the_last,
)
from schedules.sitting import lay_down, left_off, questions, time_needed
from schedules.sitting_facts import Ask, FuelRoute, Ground, LeftCode, RunSort, Step, Touch
from schedules.waking import ask_to_get_out
from tests.laws.real_machines import real_machine

CATALOGUE = load_catalogue()
RULES = load_sitting_rules()
POLICY = Policy()
SPRING, EVE = date(2025, 4, 2), date(2025, 10, 31)
FROST = frozenset({Ground.FROST})
RED = {
    "fuel-valve": "yes",
    "bowl-drain": "unreachable",
    "oil-drain": "plug",
    "tank": "plastic",
    "starter": "mains",
    "shear-pins": "yes",
    "air-tyres": "yes",
    "tracks": "no",
}


def away(facts: MachineFacts, *, route: FuelRoute | None = None, until: date = EVE) -> Ask:
    return ask_to_put_away(
        facts,
        on=SPRING,
        policy=POLICY,
        limits=CATALOGUE.limits,
        until=until,
        route=route,
        grounds=FROST,
    )


def laid(*asks: Ask, sort: RunSort = RunSort.PUTTING_AWAY) -> tuple[Step, ...]:
    return lay_down(sort, asks, rules=RULES, precedence=CATALOGUE.precedence)


def codes(steps: Iterable[Step]) -> list[str]:
    return [str(step.code) for step in steps]


def with_features(kind: str, features: Mapping[str, str]) -> list[str]:
    return codes(laid(away(real_machine(kind, features=features))))


def row() -> tuple[MachineFacts, ...]:
    """The five machines of the second worked list."""
    thrower = {"fuel-valve": "no", "bowl-drain": "reachable", "oil-drain": "none"}
    rider = {
        "fuel-valve": "yes",
        "bowl-drain": "none",
        "oil-drain": "plug",
        "oil-filter": "yes",
        "tank": "steel",
        "air-tyres": "yes",
    }
    washer = {
        "power": "petrol",
        "pump-oil": "sealed",
        "fuel-valve": "yes",
        "bowl-drain": "reachable",
        "oil-drain": "plug",
    }
    return (
        real_machine("K01", number=1, features=thrower),
        real_machine("K05", number=2, features=rider),
        real_machine("K09", number=3, features={"nose-hole": "yes"}),
        real_machine("K14", number=4, features=washer),
        real_machine("K06", number=5),
    )


# -- two lists, step by step with minutes -------------------------------------------------------

ONE = """
P-01 5, P-02 2, P-03 1, S2-20 20, P-05 3, S2-02 25, S2-12 25, P-06 2, S2-05 3, S2-07 25, S2-06 10,
P-07 1, P-20 6, P-29 5, P-30 1, P-36 2+10, P-42 5, P-50 1, P-57 0+30, P-53 10, P-56 8, P-60 5,
P-61 4, P-66 1, P-70 8, P-71 1, P-80 3, P-82 3, P-92 3, P-95 2, P-96 3
"""
FIVE = """
P-01@12345 5, P-02@1 2, P-02@2 2, P-02@3 2, P-02@4 2, P-02@5 2,
P-03@1 1, P-10@1 8, P-05@1 3, P-06@1 2, S1-01@1 3, S1-02@1 2, P-07@1 1,
P-03@2 1, P-10@2 8,
P-03@3 1, P-10@3 8, P-12@3 10, E2-08@3 10,
P-03@4 1, P-10@4 8,
P-04@5 1, P-11@5 6, MW-05@5 20,
P-19@2 5, P-20@1 6, P-23@2 4, P-24@3 4, P-20@4 6,
P-29@1234 5, P-30@1 1, P-30@2 1, P-30@3 1, P-30@4 1, P-31@4 3,
P-36@1 2+10, P-35@2 2+10, P-37@4 2+10,
P-43@1 5, P-40@2 4, P-38@3 5, P-45@4 5,
P-50@1 1, P-57@1 0+30, P-54@1 10, P-56@1 8,
P-50@2 1, P-57@2 0+30, P-53@2 10, P-58@2 10, P-56@2 8,
P-50@3 1,
P-50@4 1, P-52@4 1, P-57@4 0+30, P-53@4 10, P-56@4 8,
P-60@1 5, P-60@2 5, P-61@2 4, P-60@3 5, P-63@3 1, P-60@4 5, P-60@5 5,
P-65@1 5, P-66@2 1, CS-13@3 15, E2-05@3 10, P-65@4 5,
P-68@4 8, P-69@4 6,
P-70@1 8, P-71@1 1, P-70@2 8, P-71@2 1, P-72@3 5, P-70@4 8, P-71@4 1,
P-75@2 5+480, P-76@2 3, P-78@5 5,
P-80@1 3, P-82@1 3, P-80@2 3, P-82@2 3, P-82@3 3, P-84@3 1, P-80@4 3, P-82@4 3, P-83@5 2,
P-92@1234 3, P-95@1 2, P-95@2 2, P-95@3 2, P-95@4 2, P-95@5 2, P-96@12345 3
"""


def told(steps: Iterable[Step], *, who: bool) -> list[str]:
    return [
        f"{step.code}{'@' + ''.join(map(str, step.machine_ids)) if who else ''} {step.minutes}"
        f"{f'+{step.wait_minutes}' if step.wait_minutes else ''}"
        for step in steps
    ]


def wanted(text: str) -> list[str]:
    return [each.strip() for each in text.replace("\n", " ").split(",")]


def test_a_thrower_with_a_valve_and_a_bowl_screw_out_of_reach():
    steps = laid(away(real_machine("K02", features=RED)))
    assert told(steps, who=False) == wanted(ONE)
    needed = time_needed(steps)
    assert (needed.hands, needed.clock, needed.nights) == (193, 206, 0)
    assert left_off(steps, MachineId(1)) == (
        "fuel-valve",
        "tank-empty",
        "plug-lead",
        "key-out",
        "cylinder-oiled",
        "exhaust-cover",
    )


def test_five_machines_at_once_share_one_round():
    steps = laid(*(away(facts) for facts in row()))
    assert told(steps, who=True) == wanted(FIVE)
    needed = time_needed(steps)
    assert (needed.hands, needed.clock, needed.nights) == (405, 411, 1)
    # One after another they would take their waits one after another, too.
    alone = [time_needed(laid(away(facts))) for facts in row()]
    assert needed.clock < sum(each.clock for each in alone) - 40


# -- features decide ----------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("features", "there", "not_there"),
    [
        ({"fuel-valve": "yes", "tank": "steel"}, {"P-40"}, {"P-41"}),
        ({"fuel-valve": "no", "tank": "steel"}, {"P-41"}, {"P-40"}),
        ({"tank": "steel"}, {"P-41"}, {"P-40"}),
        ({"fuel-valve": "yes"}, {"P-42"}, {"P-43"}),
        ({"fuel-valve": "no"}, {"P-43"}, {"P-42"}),
        ({"bowl-drain": "reachable"}, {"P-65"}, {"P-66"}),
        ({"bowl-drain": "unreachable"}, {"P-66"}, {"P-65"}),
        ({"bowl-drain": "none"}, {"P-66"}, {"P-65"}),
        ({}, {"P-66", "P-53"}, {"P-65", "P-54", "P-55"}),
        ({"oil-drain": "none"}, {"P-54"}, {"P-53", "P-55"}),
        ({"oil-drain": "none", "tank": "steel"}, {"P-55"}, {"P-53", "P-54"}),
        ({"oil-filter": "yes"}, {"P-58"}, set[str]()),
    ],
)
def test_features_decide_steps(features: dict[str, str], there: set[str], not_there: set[str]):
    found = set(with_features("K04", features))
    assert there <= found
    assert not not_there & found


def test_what_nobody_answered_is_asked_once():
    asks = [away(real_machine("K04", number=1)), away(real_machine("K04", number=2, features=RED))]
    found = questions(RunSort.PUTTING_AWAY, asks, rules=RULES)
    first = {each.feature for each in found if each.machine_id == 1}
    assert {"fuel-valve", "bowl-drain", "oil-drain"} <= first
    assert len(found) == len(set(found))
    assert not {"fuel-valve", "bowl-drain"} & {e.feature for e in found if e.machine_id == 2}


def test_a_washer_on_a_cord_has_no_engine_to_run():
    found = with_features("K14", {"power": "mains"})
    assert "PW-05" in found
    assert not {"P-31", "P-37", "P-45", "P-69"} & set(found)


def test_a_saw_left_wet_has_its_empty_tank_before_the_alkylate():
    found = codes(laid(away(real_machine("K09"), route=FuelRoute.ALKYLATE_WET)))
    order = [code for code in found if code in {"P-24", "CS-13", "E2-05", "P-25", "P-39", "P-72"}]
    assert order == ["P-24", "CS-13", "E2-05", "P-25", "P-39", "P-72"]


def test_a_generator_kept_ready_ends_with_lead_on_and_nothing_in_its_cylinder():
    steps = laid(away(real_machine("K15", features={"fuel-valve": "yes"})))
    found = codes(steps)
    assert {"P-33", "P-35", "P-46", "P-90", "P-91"} <= set(found)
    assert not {"P-40", "P-57", "P-65", "P-66", "P-70", "P-80"} & set(found)
    assert {code for step in steps for code in step.passes} == {"E4-11", "E4-15"}
    assert left_off(steps, MachineId(1)) == ("fuel-valve",)


def test_fuel_past_use_comes_out_whole_and_is_not_treated():
    ask = replace(away(real_machine("K04")), band=Band.DRAIN)
    empty = codes(laid(replace(ask, route=FuelRoute.RUN_EMPTY)))
    assert {"P-21", "P-22"} <= set(empty)
    assert "P-20" not in empty
    full = codes(laid(replace(ask, route=FuelRoute.FULL_TREATED)))
    assert full.index("P-21") < full.index("P-23")
    burnt = replace(ask, band=Band.BURN)
    assert "P-20" in codes(laid(replace(burnt, route=FuelRoute.RUN_EMPTY)))
    assert "P-21" in codes(laid(replace(burnt, route=FuelRoute.FULL_TREATED)))


def test_the_place_decides():
    damp = replace(away(real_machine("K04")), grounds=frozenset({Ground.DAMP}))
    heated = replace(damp, grounds=frozenset({Ground.HEATED}))
    assert {"P-60", "P-80", "P-81"} <= set(codes(laid(damp)))
    assert not {"P-60", "P-80", "P-81"} & set(codes(laid(heated)))
    assert grounds_of(Shelter.SHED, damp=True) == {Ground.FROST, Ground.DAMP}
    assert grounds_of(Shelter.INDOOR) == {Ground.HEATED}
    assert grounds_of(Shelter.GARAGE) == set()


# -- what becomes of the fuel -------------------------------------------------------------------


@pytest.mark.parametrize(
    ("kind", "days", "features", "band", "route", "why"),
    [
        ("K06", 200, {}, None, FuelRoute.NONE, RouteWhy.NO_ENGINE),
        ("K14", 200, {"power": "mains"}, None, FuelRoute.NONE, RouteWhy.NO_ENGINE),
        ("K04", 29, {}, None, FuelRoute.NONE, RouteWhy.SHORT_SLEEP),
        ("K04", 30, {}, None, FuelRoute.FULL_TREATED, RouteWhy.SHORT_SEASON),
        ("K04", 90, {}, None, FuelRoute.FULL_TREATED, RouteWhy.SHORT_SEASON),
        ("K04", 91, {}, None, FuelRoute.RUN_EMPTY, RouteWhy.FLOAT_CARBURETTOR),
        ("K04", 150, {"tank": "steel"}, None, FuelRoute.FULL_TREATED, RouteWhy.STEEL_TANK),
        ("K04", 366, {"tank": "steel"}, None, FuelRoute.RUN_EMPTY, RouteWhy.LONG_SLEEP),
        ("K04", 150, {"tank": "steel"}, Band.DRAIN, FuelRoute.RUN_EMPTY, RouteWhy.FUEL_PAST_USE),
        ("K09", 200, {}, None, FuelRoute.RUN_EMPTY, RouteWhy.TWO_STROKE),
        ("K15", 200, {}, None, FuelRoute.KEEP_READY, RouteWhy.HAS_TO_START),
    ],
)
def test_a_route_is_suggested(
    kind: str,
    days: int,
    features: dict[str, str],
    band: Band | None,
    route: FuelRoute,
    why: RouteWhy,
):
    advice = suggest_route(real_machine(kind, features=features), sleep_days=days, band=band)
    assert (advice.route, advice.why) == (route, why)
    assert advice.route not in advice.others


def test_a_saw_that_burns_alkylate_may_stay_wet():
    lot = LotFacts(bought_on=SPRING, volume_ul=200_000, sort=FuelSort.PREMIX_ALKYLATE)
    tank = VesselFacts(
        vessel_id=VesselId(1),
        name="tank",
        sort=VesselSort.TANK,
        capacity_ul=400_000,
        lots=(lot,),
        month_means_mc=(10_000,) * 12,
        burns=FuelUse.TWO_STROKE,
    )
    saw = replace(real_machine("K09"), vessels=(tank,))
    assert suggest_route(saw, sleep_days=200).route is FuelRoute.ALKYLATE_WET


# -- was that the last one? ----------------------------------------------------------------------


def used(*days: date, storage: tuple[StorageFacts, ...] = ()) -> MachineFacts:
    return replace(real_machine("K02", uses=days), storage=storage)


# The season runs from 1 November to 31 March, its last third begins on 9 February.
USES = tuple(date(2026, 1, day) for day in (5, 10, 16, 20, 28))


def last(facts: MachineFacts, on: date, *not_yet: date):
    return was_that_the_last(facts, on=on, policy=POLICY, not_yet=not_yet)


def test_it_is_asked_when_twice_the_median_gap_has_gone_by():
    assert median_gap(USES) == Fraction(11, 2)
    facts = used(*USES)
    assert last(facts, date(2026, 2, 8)) is None
    found = last(facts, date(2026, 2, 9))
    assert found is not None
    assert (found.why, found.days_since, found.last_use) == (LastWhy.LONG_GAP, 12, USES[-1])
    late = used(*USES, date(2026, 2, 10))
    # Gaps 5, 6, 4, 8, 13: the median is 6.
    assert last(late, date(2026, 2, 22)) is None
    assert last(late, date(2026, 2, 23)) is not None


def test_it_is_not_asked_with_fewer_than_four_uses_until_the_season_is_over():
    facts = used(*USES[:3])
    assert last(facts, date(2026, 3, 31)) is None
    found = last(facts, date(2026, 4, 1))
    assert found is not None
    assert found.why is LastWhy.SEASON_OVER


def test_not_yet_asks_again_after_fourteen_days():
    facts, asked = used(*USES), date(2026, 2, 20)
    assert last(facts, asked + timedelta(days=13), asked) is None
    assert last(facts, asked + timedelta(days=14), asked) is not None
    # An answer of the season before is none of this one.
    assert last(facts, asked, date(2025, 2, 19)) is not None


def test_a_machine_that_sleeps_or_has_no_season_is_not_asked_for():
    asleep = (StorageFacts(put_away_on=date(2026, 2, 1)),)
    assert last(used(*USES, storage=asleep), date(2026, 4, 5)) is None
    woken = (StorageFacts(put_away_on=date(2026, 2, 1), woken_on=date(2026, 2, 10)),)
    assert last(used(*USES, storage=woken), date(2026, 4, 5)) is None
    again = used(*USES, date(2026, 2, 12), storage=woken)
    assert last(again, date(2026, 4, 5)) is not None
    assert last(real_machine("K15"), date(2026, 4, 5)) is None


# -- getting out, going over --------------------------------------------------------------------


def out(facts: MachineFacts, *left: str, with_list: bool = False) -> Ask:
    return ask_to_get_out(
        facts,
        on=date(2025, 10, 11),
        policy=POLICY,
        limits=CATALOGUE.limits,
        precedence=CATALOGUE.precedence,
        left=frozenset(map(LeftCode, left)),
        with_list=with_list,
    )


def test_what_was_left_off_comes_first_and_the_bowl_is_waited_for():
    facts = real_machine("K02", features=RED)
    left = left_off(laid(away(facts)), MachineId(1))
    steps = laid(out(facts, *left), sort=RunSort.GETTING_OUT)
    assert codes(steps) == [
        *("G-01", "G-02", "G-03"),
        *("G-10", "G-11", "G-12", "G-15", "G-19", "G-20", "G-30", "S2-15", "G-40"),
    ]
    assert steps[codes(steps).index("G-20")].wait_minutes == 2
    assert steps[codes(steps).index("G-30")].to_faults
    assert left_off(steps, MachineId(1), before=frozenset(left)) == ()


def test_the_list_before_the_season_stands_between_looks_and_start():
    facts = real_machine("K02", features=RED)
    found = codes(
        laid(out(facts, "plug-lead", "key-out", with_list=True), sort=RunSort.GETTING_OUT)
    )
    assert found.index("G-03") < found.index("S2-08") < found.index("G-19") < found.index("G-30")
    assert found.index("G-24") < found.index("S2-06") < found.index("G-25")


@pytest.mark.parametrize(
    ("sat", "seized", "oil", "gates"),
    [
        (730, False, True, False),
        (731, False, True, True),
        (None, False, True, True),
        (10, True, True, True),
        (10, False, False, True),
    ],
)
def test_full_gates_for_one_that_sat_sticks_or_has_unknown_oil(
    sat: int | None, seized: bool, oil: bool, gates: bool
):
    assert needs_gates(sat_days=sat, seized=seized, oil_known=oil) is gates


def over(*, gates: bool, passed: frozenset[TaskCode] = frozenset()):
    came = date(2025, 4, 20)
    facts = real_machine("K04", past=Past.UNKNOWN, came_on=came)
    return ask_to_go_over(
        facts,
        on=date(2025, 4, 28),
        policy=POLICY,
        limits=CATALOGUE.limits,
        gates=gates,
        passed_over=passed,
    )


def test_four_looks_a_splash_and_a_pull():
    found = codes(laid(over(gates=False).ask, sort=RunSort.GOING_OVER))
    assert found[:10] == [
        *("B-01", "B-02", "B-04", "B-05", "B-06", "B-07", "B-20", "B-21", "B-24", "B-40"),
    ]
    assert found.index("E4-08") < found.index("B-45") < found.index("MW-04")


def test_behind_full_gates_nothing_turns_before_the_oil_has_crept_in():
    steps = laid(over(gates=True).ask, sort=RunSort.GOING_OVER)
    found = codes(steps)
    assert found[2:14] == [
        *("B-10", "B-11", "B-12", "B-13", "B-14", "B-15", "B-16", "B-17", "B-18", "B-20"),
        *("B-21", "B-24"),
    ]
    assert time_needed(steps).nights == 2


def test_what_can_wait_waits_and_what_is_passed_over_is_named():
    going = over(gates=False, passed=frozenset({TaskCode("E4-08"), TaskCode("MW-01")}))
    assert "MW-01" not in going.can_wait
    assert set(going.passed_over) == {"E4-08", "MW-01"}
    assert not set(going.passed_over) & going.ask.tasks
    assert "engine oil" in [part.name for part in going.to_buy]
    assert [each.at_seconds for each in checked_again(7200)] == [10_800, 25_200, 97_200]


# -- cautions -----------------------------------------------------------------------------------

ANSWERS = {
    Touch.FUEL: {"C-FUEL", "C-STORE", "C-POUR"},
    Touch.BLADE: {"C-STOP", "C-BLADE", "C-CHAIN", "C-CLEAR", "C-GUARD"},
    Touch.ROTOR: {"C-STOP", "C-JAM", "C-CLEAR", "C-GUARD"},
    Touch.CHAIN: {"C-CHAIN", "C-STOP", "C-BLADE"},
    Touch.SPRING: {"C-CORD", "C-SPRING"},
    Touch.PRESSURE: {"C-PRES", "C-JET", "C-TYRE", "C-DRY"},
    Touch.ELECTRICITY: {"C-ELEC", "C-LEAD", "C-LI", "C-BACK", "C-STOP"},
    Touch.LIFTING: {"C-LIFT", "C-JACK", "C-TIP"},
    Touch.EXHAUST: {"C-CO", "C-HOT", "C-GEN", "C-MOUSE"},
}
SAYS = {
    Touch.FUEL: r"petrol|siphon|\bmix\b|fuel out|fuel hose|bowl screw",
    Touch.BLADE: r"\bblade|cutter",
    Touch.ROTOR: r"rotor|auger",
    Touch.CHAIN: r"\bchain",
    Touch.SPRING: r"\bcord, |by the cord|\bpull\b|slow pulls",
    Touch.PRESSURE: r"trigger|tyre|\bgun\b",
    Touch.ELECTRICITY: r"charger|battery|\bpack\b",
    Touch.LIFTING: r"\bjack|stands,|\btip it|\bprop",
    Touch.EXHAUST: r"\bexhaust\b|let it (run|die)|(^|[.;:] )start it",
}
# Named only: petrol smelt on the stick or burnt by running, a pack that lies elsewhere.
NAMED_ONLY = {("P-35", Touch.FUEL), ("G-11", Touch.FUEL), ("B-04", Touch.FUEL)} | {
    ("P-83", Touch.ELECTRICITY)
}


def test_every_step_that_can_hurt_carries_its_caution():
    for step in RULES.steps:
        for touch in step.touches:
            assert set(step.cautions) & ANSWERS[touch], f"{step.code}: {touch}"


def test_no_step_speaks_of_what_can_hurt_without_saying_so():
    for step in RULES.steps:
        text = f"{step.name}. {step.how}".lower()
        for touch, words in SAYS.items():
            if re.search(words, text) and (step.code, touch) not in NAMED_ONLY:
                assert touch in step.touches, f"{step.code}: {touch}"


def test_work_of_the_catalogue_gets_the_cautions_of_how_the_machine_stands():
    for kind in CATALOGUE.kinds.values():
        facts = real_machine(str(kind.code))
        ask = Ask(facts=facts, tasks=frozenset(task.code for task in kind.tasks))
        added = dict(RULES.cautions)
        for step in laid(ask, sort=RunSort.GETTING_OUT):
            if step.is_task:
                assert set(added.get(step.opening, ())) <= set(step.cautions)


# -- the file -----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("old", "new", "key"),
    [
        ('code = "P-02"', 'code = "P-01"', "step[P-01]"),
        ('cautions = ["C-STOP"]', "cautions = []", "cautions"),
        ('"E4-11", "E4-12"', '"E4-11", "E9-99"', "passes"),
        ('leaves = ["oil-out"]', 'leaves = ["oil-gone"]', "leaves"),
        ('after = ["P-02"]', 'after = ["P-01"]', "P-01"),
        ('mark = "our_judgement"\n', "", "mark"),
        ("wait = 10\n", "", "wait"),
        (
            'before = ["E4-02"]\nafter = ["E4-03"]',
            'before = ["E4-03"]\nafter = ["E4-02"]',
            "before",
        ),
    ],
)
def test_a_file_that_cannot_be_right_is_refused(old: str, new: str, key: str):
    text = (HERE / "storage.toml").read_text("utf-8")
    assert old in text
    with pytest.raises(CatalogueError) as caught:
        parse_sitting_rules(text.replace(old, new, 1), CATALOGUE)
    assert key in caught.value.key


TRIED = {"K03": {"S1-05", "SE-03"}, "K06": {"MW-04", "MB-01"}, "K10": {"CS-09"}}


@pytest.mark.parametrize("kind", TRIED)
@pytest.mark.parametrize("sort", [RunSort.GETTING_OUT, RunSort.GOING_OVER])
def test_what_is_tried_on_a_battery_machine_is_tried_with_its_pack_in(kind: str, sort: RunSort):
    tasks = frozenset(TaskCode(code) for code in (*TRIED[kind], "LI-01", "LI-04"))
    ask = Ask(facts=real_machine(kind), tasks=tasks)
    steps = laid(ask, sort=sort)
    places = {str(step.code): place for place, step in enumerate(steps)}
    ran = places["G-32" if sort is RunSort.GETTING_OUT else "B-25"]
    assert all(places[code] > ran for code in (TRIED[kind] | {"LI-04"}) & places.keys())
    assert places.get("MW-04", places.get("S1-05", places.get("CS-09", ran + 1))) > ran
    assert places.get("LI-01", 0) < ran


def test_one_that_slept_into_its_season_gets_the_list_of_its_eve():
    """And not what falls due before the season after: the oil is five months old."""
    away = date(2026, 11, 5)
    codes_done = ("E4-02", "E4-11", "E4-12", "E4-15", "PW-04", "PW-05")
    done: dict[str, date] = {code: away for code in codes_done}  # noqa: C420  (a plain str key)
    facts = real_machine("K14", done=done)
    asleep = replace(facts, storage=(StorageFacts(put_away_on=away),))

    def asked(on: date) -> frozenset[TaskCode]:
        return ask_to_get_out(
            asleep, on=on, policy=POLICY, limits=CATALOGUE.limits, precedence=CATALOGUE.precedence
        ).tasks

    early, late = asked(date(2027, 3, 10)), asked(date(2027, 3, 20))
    assert not late & {"E4-02", "PW-04"}
    assert "E4-07" in early
    assert late == early


def test_a_washer_first_starts_with_its_water_flowing():
    ask = Ask(facts=real_machine("K14", features={"fuel-valve": "yes"}))
    steps = laid(ask, sort=RunSort.GETTING_OUT)
    found = [str(step.code) for step in steps]
    assert "G-30" not in found
    assert found.index("G-16") < found.index("G-35")
    assert "C-DRY" in steps[found.index("G-35")].cautions
