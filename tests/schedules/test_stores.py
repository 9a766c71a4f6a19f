"""What to buy, how many, by when."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest

from resources.loader import load_catalogue
from schedules.facts import (
    Consumable,
    HoursFacts,
    ItemFacts,
    ItemId,
    ItemSort,
    JobFacts,
    JobId,
    KindCode,
    LimitCode,
    LimitReading,
    MachineFacts,
    MachineId,
    Past,
    Policy,
    TaskCode,
)
from schedules.plan import Judging, judge, pre_season
from schedules.stores import Listed, purchases

ON = date(2025, 9, 1)
CATALOGUE = load_catalogue()


def thrower(number: int = 1, readings: tuple[LimitReading, ...] = ()) -> Judging:
    kind = CATALOGUE.kinds[KindCode("K01")]
    hours = HoursFacts(
        at_start=0, year_seconds=kind.year_seconds, month_shares=CATALOGUE.shapes[kind.shape, ""]
    )
    item = ItemFacts(
        item_id=ItemId(number),
        sort=ItemSort.MACHINE,
        came_on=date(2024, 9, 1),
        past=Past.NEW,
        hours=hours,
        tasks=kind.tasks,
        readings=readings,
    )
    facts = MachineFacts(
        machine_id=MachineId(number),
        name="Red one",
        kind=kind,
        place="shed",
        south=False,
        came_on=item.came_on,
        past=item.past,
        items=(item,),
    )
    return judge(facts, on=ON, policy=Policy(), limits=CATALOGUE.limits)


def bought(*fleet: Judging, shelf: dict[str, int] | None = None):
    seasons = [(each, pre_season(each, precedence=CATALOGUE.precedence)) for each in fleet]
    found = purchases(seasons, policy=Policy(), on_shelf=shelf or {})
    return {purchase.part: purchase for purchase in found}


def test_a_look_buys_nothing_and_a_reading_past_its_limit_does() -> None:
    scraper = next(
        item.part
        for task in CATALOGUE.kinds[KindCode("K01")].tasks
        if task.code == "S1-02"
        for item in task.consumables
    )
    spares = {spare.part for spare in CATALOGUE.kinds[KindCode("K01")].spares}
    assert scraper not in spares
    assert scraper not in bought(thrower())
    worn = LimitReading(
        code=TaskCode("S1-02"), limit=LimitCode("L14"), day=date(2025, 4, 1), amount=1000
    )
    assert scraper in bought(thrower(readings=(worn,)))


@pytest.mark.parametrize("lead", [0, 10, 30])
def test_the_day_to_order_by_is_lead_and_three_days_before_the_first_day_needed(lead: int) -> None:
    # 11 Oct is three weeks before the season starts on 1 Nov; our own margin.
    judging = thrower()
    season = pre_season(judging, precedence=CATALOGUE.precedence)
    assert season.start_by == date(2025, 10, 11)
    policy = Policy(lead_days=lead)
    days = {one.buy_by for one in purchases([(judging, season)], policy=policy, on_shelf={})}
    assert date(2025, 10, 11) - timedelta(days=lead + 3) in days


def test_what_lies_on_the_shelf_is_not_bought_and_two_machines_add_up() -> None:
    one = bought(thrower())
    part, single = next((part, one[part]) for part in one)
    both = bought(thrower(1), thrower(2))
    assert both[part].quantity == 2 * single.quantity
    assert part not in bought(thrower(), shelf={part: single.quantity})
    assert bought(thrower(1), thrower(2), shelf={part: single.quantity})[part].quantity == (
        single.quantity
    )


def test_the_part_of_an_open_job_is_bought_by_the_name_it_was_given() -> None:
    judging = thrower()
    job = JobFacts(
        job_id=JobId(1), text="Hose", noted_on=ON, due_on=date(2025, 9, 20), minutes=5, part="hose"
    )
    facts = replace(judging.facts, jobs=(job,))
    found = bought(judge(facts, on=ON, policy=Policy(), limits=CATALOGUE.limits))
    hose = found["own:hose"]
    assert (hose.name, hose.quantity, hose.machine_ids) == ("hose", 1, (MachineId(1),))
    assert hose.buy_by == date(2025, 9, 20) - timedelta(days=13)


def test_the_steps_of_a_list_that_was_begun_buy_what_nothing_else_asks_for() -> None:
    judging = thrower()
    season = pre_season(judging, precedence=CATALOGUE.precedence)
    oil = CATALOGUE.tasks[TaskCode("E4-02")].consumables[0]
    mesh = Consumable(part="fuel-hose", name="fuel hose", quantity=2)
    listed = [
        Listed(machine_id=MachineId(n), item=item, codes=(TaskCode("E4-02"),), needed_on=ON)
        for n, item in ((1, oil), (1, mesh), (9, mesh))
    ]

    def quantities(*begun: Listed) -> dict[str, int]:
        found = purchases([(judging, season)], policy=Policy(), on_shelf={}, begun=begun)
        return {one.part: one.quantity for one in found}

    before, after = quantities(), quantities(*listed)
    assert before[oil.part] == after[oil.part]  # it is due anyhow, and is bought once
    assert after == before | {"fuel-hose": 2}  # the ninth machine is none of these
