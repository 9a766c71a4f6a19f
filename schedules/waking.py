"""Getting a machine out again: what was left off or open comes first, then the work before its
season, then the first start outdoors, then the trials that say whether it may be used."""

from __future__ import annotations

from datetime import date

from schedules.along import brought_along
from schedules.facts import MachineFacts, Policy, Precedence, TaskCode, TaskSort, TaskVerdict
from schedules.plan import Judging, Limits, done_by_others, judge, pre_season
from schedules.putting_away import worst_band
from schedules.sitting_facts import Ask, LeftCode


def _before_its_season(
    judging: Judging, policy: Policy, limits: Limits, precedence: tuple[Precedence, ...]
) -> list[TaskVerdict]:
    """The list before the season that comes; of one that slept into its season, the list it should
    have had on the eve, less what was done since."""
    almanac = judging.almanac
    place = almanac.calendar.containing(almanac.today)
    slept = [spell.put_away_on.toordinal() for spell in judging.facts.storage]
    late = place is not None and bool(slept) and max(slept) < almanac.calendar.firsts[place]
    if place is None or not late:
        season = pre_season(judging, precedence=precedence)
        return [*season.tasks, *(carried.verdict for carried in season.carried)]
    eve = date.fromordinal(almanac.calendar.firsts[place] - 1)
    then = judge(judging.facts, on=eve, policy=policy, limits=limits)
    season = pre_season(then, precedence=precedence)
    wanted = {found.code for found in season.tasks}
    wanted |= {carried.verdict.code for carried in season.carried}
    last = date.fromordinal(almanac.calendar.lasts[place])
    return [
        verdict
        for verdict in judging.verdict.tasks
        if verdict.code in wanted and verdict.due is not None and verdict.due <= last
    ]


def ask_to_get_out(
    facts: MachineFacts,
    *,
    on: date,
    policy: Policy,
    limits: Limits,
    precedence: tuple[Precedence, ...],
    left: frozenset[LeftCode] = frozenset(),
    with_list: bool = True,
) -> Ask:
    """The machine with what belongs to getting it out.

    `left`: what its tag says. `with_list` false: out for a day only, a late snowfall, so that the
    list before the season stays for later; the trials are made all the same.
    """
    judging = judge(facts, on=on, policy=policy, limits=limits)
    tasks: set[TaskCode] = set()
    full: set[TaskCode] = set()
    if with_list:
        verdicts = _before_its_season(judging, policy, limits, precedence)
        tasks = {verdict.code for verdict in verdicts}
        full = {verdict.code for verdict in verdicts if verdict.replacement}
        tasks |= brought_along(judging, tasks)
        tasks -= done_by_others(judging, tasks)
    for code in judging.verdict.each_use:
        task = judging.task(code)
        if task.safety and task.sort is TaskSort.CHECK:
            tasks.add(code)
    spells = [spell.put_away_on for spell in facts.storage if spell.put_away_on <= on]
    return Ask(
        facts=facts,
        tasks=frozenset(tasks),
        full=frozenset(full),
        left=left,
        sleep_days=(on - max(spells)).days if spells else 0,
        band=worst_band(judging.verdict),
    )
