"""One machine's calendar: its seasons, its spells in storage, its rests, its slots."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, timedelta

from schedules.facts import MachineFacts, Phase, Policy, StorageFacts
from tests.twin.days import ONE, Run, add_months, move_south, seasons_between, year_pattern

NEVER = date(9999, 12, 31)


@dataclass(frozen=True)
class Spell:
    """Days in storage. `last` is NEVER when nobody knows when it will be woken."""

    first: date
    last: date

    def holds(self, day: date) -> bool:
        return self.first <= day <= self.last


@dataclass(frozen=True)
class Slot:
    """The time for a piece of work in one season. `idle`: can be served, is never due."""

    opens: date
    deadline: date
    ended: date
    next_first: date
    idle: bool


class MachineDays:
    """Everything about a machine that is a question of days alone."""

    def __init__(self, facts: MachineFacts, on: date, policy: Policy) -> None:
        self.on = on
        self.policy = policy
        windows = facts.own_windows
        if windows is None:
            windows = facts.kind.windows
            if facts.south:
                windows = tuple(move_south(window) for window in windows)
        self.pattern = year_pattern(windows, policy.gap_days)
        self.uses = sorted(use.day for use in facts.uses if use.day <= on)
        self.seasons = self._all_seasons(facts)
        self.storage = sorted(
            (spell for spell in facts.storage if spell.put_away_on <= on),
            key=lambda spell: spell.put_away_on,
        )
        self.spells = [self._known_or_planned(spell) for spell in self.storage]
        self.planned = [self._planned(spell) for spell in self.storage]

    # -- seasons ------------------------------------------------------------------------------

    def _all_seasons(self, facts: MachineFacts) -> list[Run]:
        if not self.pattern.has_season:
            return []
        days = [self.on, facts.came_on]
        for item in facts.items:
            days.append(item.came_on)
            days.extend(doing.day for doing in item.doings)
            days.extend(reading.day for reading in item.readings)
            days.extend(reading.day for reading in item.hours.readings)
        last = max([self.on, *(spell.planned_last or self.on for spell in facts.storage)])
        return seasons_between(
            self.pattern, date(min(days).year - 3, 1, 1), date(last.year + 15, 12, 31)
        )

    @property
    def seasons_a_year(self) -> int:
        return sum(1 for season in self.seasons if season.first.year == self.on.year)

    def season_of(self, day: date) -> Run | None:
        for season in self.seasons:
            if season.first <= day <= season.last:
                return season
        return None

    def first_after(self, day: date) -> Run:
        return next(season for season in self.seasons if season.first > day)

    # -- storage ------------------------------------------------------------------------------

    def is_woken(self, spell: StorageFacts) -> bool:
        return spell.woken_on is not None and spell.woken_on <= self.on

    def _planned(self, spell: StorageFacts) -> Spell:
        """As planned: an unwoken machine is not excused past its planned day."""
        if spell.woken_on is not None and self.is_woken(spell):
            return Spell(spell.put_away_on, spell.woken_on - ONE)
        if spell.planned_last is not None:
            return Spell(spell.put_away_on, spell.planned_last)
        if not self.pattern.has_season:
            return Spell(spell.put_away_on, NEVER)
        return Spell(spell.put_away_on, self.first_after(spell.put_away_on).first - ONE)

    def _known_or_planned(self, spell: StorageFacts) -> Spell:
        """As known or planned: while it stays unwoken past its planned day, to today."""
        planned = self._planned(spell)
        if self.is_woken(spell):
            return planned
        return Spell(planned.first, max(planned.last, self.on))

    def laid_up(self, day: date) -> bool:
        return any(spell.holds(day) for spell in self.spells)

    def laid_up_as_planned(self, day: date) -> bool:
        return any(spell.holds(day) for spell in self.planned)

    def off_season(self, day: date) -> bool:
        return not self.pattern.in_season(day)

    def stands_still(self, day: date) -> bool:
        return self.off_season(day) or self.laid_up_as_planned(day)

    def put_away_since(self) -> date | None:
        """The day the machine that is in storage today was put there."""
        for spell in self.storage:
            if not self.is_woken(spell):
                return spell.put_away_on
        return None

    def sleeps_through(self, season: Run) -> bool:
        day = season.first
        while day <= season.last:
            if not self.laid_up(day):
                return False
            day += ONE
        return True

    # -- rests --------------------------------------------------------------------------------

    def run_around(self, day: date, still: Callable[[date], bool]) -> Spell:
        """The unbroken run of days, all of the sort asked for, that holds the day."""
        first = day
        while still(first - ONE):
            first -= ONE
        last = day
        while still(last + ONE):
            last += ONE
            if any(spell.last == NEVER and spell.holds(last) for spell in self.planned):
                return Spell(first, NEVER)
        return Spell(first, last)

    def latest_rest(self, due: date, still: Callable[[date], bool]) -> Spell | None:
        """The latest that has begun by the later of today and due, and ends on or after due."""
        day = max(self.on, due)
        while day >= due:
            if still(day):
                return self.run_around(day, still)
            day -= ONE
        return None

    def first_rest(self, ends_from: date, still: Callable[[date], bool]) -> Spell | None:
        """The first of at least `end_days` days that ends on or after a day; None if all are short.

        The leap day is the only difference from year to year, so that eight years show all.
        """
        day = ends_from
        while day < add_months(ends_from, 12 * 8):
            if still(day):
                rest = self.run_around(day, still)
                if (rest.last - rest.first).days + 1 >= self.policy.end_days:
                    return rest
                day = rest.last
            day += ONE
        return None

    # -- slots --------------------------------------------------------------------------------

    def end_for_it(self, season: Run, following: Run) -> tuple[date, bool]:
        """The day the season ended for the machine, and whether a later use put it there."""
        end = season.last
        for spell in self.spells:
            if season.first <= spell.first <= season.last and spell.holds(season.last):
                end = spell.first
        later = [day for day in self.uses if end < day < following.first]
        return (later[-1], True) if later else (end, False)

    def end_window_opens(self, season: Run, following: Run) -> date:
        usual = max(season.last - timedelta(days=self.policy.end_days - 1), season.last_third_first)
        return min(usual, self.end_for_it(season, following)[0])

    def has_middle(self, season: Run) -> bool:
        return season.length >= 2 * self.policy.end_days

    def _before_slot(self, earlier: Run, season: Run, following: Run) -> Slot:
        return Slot(
            opens=self.end_window_opens(earlier, season),
            deadline=season.first - ONE,
            ended=season.last,
            next_first=following.first,
            idle=self.sleeps_through(season),
        )

    def _middle_slot(self, season: Run, following: Run) -> Slot:
        return Slot(
            opens=season.middle_first,
            deadline=season.middle_last,
            ended=season.last,
            next_first=following.first,
            idle=self.sleeps_through(season) or not self.has_middle(season),
        )

    def _end_slot(self, season: Run, following: Run, *, storage_act: bool) -> Slot:
        end, used_later = self.end_for_it(season, following)
        if not storage_act:
            usual = season.middle_first if self.has_middle(season) else season.last_third_first
            opens = min(usual, end)
        elif used_later:
            opens = end
        else:
            opens = self.end_window_opens(season, following)
        deadline = min(end + timedelta(days=self.policy.end_days), following.first - ONE)
        return Slot(
            opens=opens,
            deadline=deadline,
            ended=end,
            next_first=following.first,
            idle=self.sleeps_through(season),
        )

    def slots(self, phase: Phase, *, storage_act: bool) -> list[Slot]:
        """Every slot of a phase, one a season, in time."""
        found: list[Slot] = []
        for at in range(1, len(self.seasons) - 1):
            earlier, season, following = self.seasons[at - 1 : at + 2]
            if phase is Phase.MIDDLE:
                found.append(self._middle_slot(season, following))
            elif phase is Phase.END:
                found.append(self._end_slot(season, following, storage_act=storage_act))
            else:
                found.append(self._before_slot(earlier, season, following))
        return found

    def horizon(self) -> date:
        return add_months(self.on, 12 * self.policy.horizon_years)
