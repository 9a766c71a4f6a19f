"""What one machine's years look like on the day asked about: storage, rests, phases and slots.

Days are ordinals. A spell in storage is known twice over: *known* (an unwoken machine sleeps at
least until today) and *planned* (it is not excused past its planned last day). Slots are the
places a phase of work has in each season: the day from which work counts, and the deadline.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from dataclasses import dataclass
from functools import cached_property

from schedules.facts import Phase, Policy, StorageFacts, UseFacts
from schedules.seasons import FOREVER, Calendar, thirds

Span = tuple[int, int]


@dataclass(frozen=True, slots=True)
class Slot:
    """One place of a phase in one season. `place` counts seasons; `dueable` false: never due."""

    phase: Phase
    place: int
    opens: int
    deadline: int
    dueable: bool


def union(spans: list[Span]) -> tuple[Span, ...]:
    """The spans as disjoint ones in order, neighbours joined; empty spans left out."""
    joined: list[Span] = []
    for first, last in sorted(span for span in spans if span[0] <= span[1]):
        if joined and first <= joined[-1][1] + 1:
            joined[-1] = (joined[-1][0], max(joined[-1][1], last))
        else:
            joined.append((first, last))
    return tuple(joined)


class Almanac:
    """Seasons, storage, rests and slots of one machine on one day. Nothing after today exists."""

    def __init__(
        self,
        *,
        calendar: Calendar,
        uses: tuple[UseFacts, ...],
        storage: tuple[StorageFacts, ...],
        today: int,
        policy: Policy,
    ) -> None:
        self.calendar = calendar
        self.policy = policy
        self.today = today
        self.use_days = sorted(day for day in (use.day.toordinal() for use in uses) if day <= today)
        self._spells = [
            (first, planned, known)
            for first, planned, known in (self._spell(record) for record in storage)
            if first <= today and known >= first
        ]
        self.known = union([(first, known) for first, _, known in self._spells])
        self.planned = union([(first, planned) for first, planned, _ in self._spells])
        self._slots: dict[tuple[Phase, int, bool], Slot] = {}

    def _spell(self, record: StorageFacts) -> tuple[int, int, int]:
        """First day, last day as planned, last day as known."""
        first = record.put_away_on.toordinal()
        if record.woken_on is not None and record.woken_on.toordinal() <= self.today:
            last = record.woken_on.toordinal() - 1
            return first, last, last
        if record.planned_last is not None:
            planned = record.planned_last.toordinal()
        elif self.calendar.has_seasons:
            place = self.calendar.started(first) + 1
            planned = self.calendar.firsts[place] - 1
        else:
            planned = FOREVER
        return first, planned, max(planned, self.today)

    # -- storage -------------------------------------------------------------------------------

    @property
    def laid_up(self) -> bool:
        """Whether the machine is laid up today: put away and not yet woken."""
        return self.asleep_on(self.today)

    def asleep_on(self, day: int) -> bool:
        """Whether the day lies in a spell of storage, as known or planned."""
        return covering(self.known, day) is not None

    def put_away_day(self) -> int | None:
        """The day the machine that is laid up today was put away; None when it is not."""
        days = [first for first, _, known in self._spells if first <= self.today <= known]
        return max(days) if days else None

    def slept_through(self, place: int) -> bool:
        """Whether the machine is laid up on each day of that season, as known or planned."""
        span = covering(self.known, self.calendar.firsts[place])
        return span is not None and span[1] >= self.calendar.lasts[place]

    # -- rests ---------------------------------------------------------------------------------

    @cached_property
    def rests(self) -> tuple[Span, ...]:
        """Unbroken runs of days off season or laid up as planned."""
        gaps = list(zip(self.calendar.gap_firsts, self.calendar.gap_lasts, strict=True))
        return union(gaps + list(self.planned)) if self.planned else tuple(gaps)

    @cached_property
    def off_season(self) -> tuple[Span, ...]:
        """Unbroken runs of days off season."""
        return tuple(zip(self.calendar.gap_firsts, self.calendar.gap_lasts, strict=True))

    def resting(self, rests: tuple[Span, ...]) -> bool:
        """Whether today lies in one of the rests."""
        return covering(rests, self.today) is not None

    # -- seasons of this machine ---------------------------------------------------------------

    def coming(self) -> int | None:
        """Place of the first season after today that is not slept through; None without one."""
        if not self.calendar.has_seasons:
            return None
        for place in range(self.calendar.started(self.today) + 1, len(self.calendar.firsts) - 1):
            if not self.slept_through(place):
                return place
        return None

    def _put_away_in(self, place: int) -> int | None:
        """The day it was put away in that season and slept on past its last day; else None."""
        first, last = self.calendar.firsts[place], self.calendar.lasts[place]
        days = [day for day, _, known in self._spells if first <= day <= last <= known]
        return max(days) if days else None

    def _late_use(self, place: int, after: int) -> int | None:
        """The last logged use after that day and before the next season; else None."""
        until = self.calendar.firsts[place + 1]
        index = bisect_left(self.use_days, until) - 1
        if index >= 0 and self.use_days[index] > after:
            return self.use_days[index]
        return None

    def season_end(self, place: int) -> int:
        """The day the season ended for this machine: its last day, the day it was put away, or
        the day of a late use after that."""
        end = self._usual_end(place)
        late = self._late_use(place, end)
        return end if late is None else late

    def _usual_end(self, place: int) -> int:
        put_away = self._put_away_in(place)
        return self.calendar.lasts[place] if put_away is None else put_away

    def _used_late(self, place: int) -> bool:
        return self._late_use(place, self._usual_end(place)) is not None

    def end_window(self, place: int) -> int:
        """The day the end window of that season opens."""
        first, last = self.calendar.firsts[place], self.calendar.lasts[place]
        opens = max(last - (self.policy.end_days - 1), thirds(first, last)[2])
        return min(opens, self.season_end(place))

    def has_middle(self, place: int) -> bool:
        """Whether the season is long enough to have a middle phase."""
        length = self.calendar.lasts[place] - self.calendar.firsts[place] + 1
        return length >= 2 * self.policy.end_days

    # -- slots ---------------------------------------------------------------------------------

    def slot(self, phase: Phase, place: int, *, storage_act: bool) -> Slot:
        """The slot of a phase in that season. `storage_act`: the phase is END without months."""
        key = (phase, place, storage_act)
        known = self._slots.get(key)
        if known is None:
            known = self._slots[key] = self._slot(phase, place, storage_act=storage_act)
        return known

    def _slot(self, phase: Phase, place: int, *, storage_act: bool) -> Slot:
        first, last = self.calendar.firsts[place], self.calendar.lasts[place]
        middle_first, middle_last, last_third = thirds(first, last)
        dueable = not self.slept_through(place)
        if phase is Phase.END:
            opens = self._end_opens(place, middle_first, last_third, storage_act=storage_act)
            deadline = self.season_end(place) + self.policy.end_days
            deadline = min(deadline, self.calendar.firsts[place + 1] - 1)
        elif phase is Phase.MIDDLE:
            opens, deadline = middle_first, middle_last
            dueable = dueable and self.has_middle(place)
        else:
            opens, deadline = self.end_window(place - 1), first - 1
        return Slot(phase, place, opens, deadline, dueable)

    def _end_opens(
        self, place: int, middle_first: int, last_third: int, *, storage_act: bool
    ) -> int:
        end = self.season_end(place)
        if storage_act:
            return end if self._used_late(place) else self.end_window(place)
        return min(middle_first if self.has_middle(place) else last_third, end)

    def served(self, phase: Phase, day: int, *, storage_act: bool) -> int:
        """Place of the last slot of the phase that opened on or before the day."""
        place = self.calendar.started(day) + 1
        while self.slot(phase, place, storage_act=storage_act).opens > day:
            place -= 1
        return place

    def next_due(
        self, phase: Phase, after_place: int, anchor: int, steps: int, *, storage_act: bool
    ) -> Slot | None:
        """The slot `steps` on from the served one that can be due; None past the calendar.

        Slots of *before*, *off* and *middle* that fall fewer than `repeat_days` after the anchor
        are served by it too. A storage act not done has lapsed when the next season has begun.
        """
        place = after_place
        if phase is not Phase.END:
            while (
                self.slot(phase, place + 1, storage_act=storage_act).deadline - anchor
                < self.policy.repeat_days
            ):
                place += 1
        place += steps
        limit = len(self.calendar.firsts) - 2
        while place <= limit:
            slot = self.slot(phase, place, storage_act=storage_act)
            lapsed = storage_act and self.calendar.firsts[place + 1] <= self.today
            if slot.dueable and not lapsed:
                return slot
            place += 1
        return None


def covering(spans: tuple[Span, ...], day: int) -> Span | None:
    """The span the day lies in; None when it lies in none."""
    index = bisect_right(spans, (day, FOREVER + 1)) - 1
    if index >= 0 and spans[index][1] >= day:
        return spans[index]
    return None
