"""From machines and what is wanted of them to the one list of steps. No Qt, no file."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta

from resources.loader import Catalogue
from resources.storage import load_sitting_rules
from schedules.facts import MachineId, Policy, Shelter, TaskCode, TaskState
from schedules.going_over import GoingOver, ask_to_go_over
from schedules.plan import Judging
from schedules.putting_away import (
    LastOne,
    RouteAdvice,
    ask_to_put_away,
    eve_of_next,
    grounds_of,
    suggest_route,
    was_that_the_last,
    worst_band,
)
from schedules.sitting import lay_down, questions
from schedules.sitting_facts import (
    Ask,
    FeatureAsked,
    FuelRoute,
    Ground,
    LeftCode,
    RunSort,
    Step,
)
from schedules.waking import ask_to_get_out

LONGER = 2
"""Years, where nobody can say how long it sleeps."""
MANY_UNKNOWN = 5
"""Jobs nobody knows about from which a first going-over is worth it. Our judgement."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted:
    """What is wanted of one machine. `sleep_days` None: until the eve of its next season; `route`,
    `grounds` None: as suggested."""

    machine_id: MachineId
    sleep_days: int | None = None
    route: FuelRoute | None = None
    grounds: frozenset[Ground] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """The machines of the shed on a day, and what is known of them for a sitting."""

    machines: Mapping[MachineId, Judging]
    shelters: Mapping[str, Shelter]
    left: Mapping[MachineId, frozenset[LeftCode]]
    not_yet: Mapping[MachineId, tuple[date, ...]] = field(
        default_factory=dict[MachineId, tuple[date, ...]]
    )
    policy: Policy
    catalogue: Catalogue
    on: date

    # -- one machine ---------------------------------------------------------------------------

    def until(self, wanted: Wanted) -> date | None:
        """The last day of its sleep; None when nobody can say."""
        if wanted.sleep_days is not None:
            return self.on + timedelta(days=wanted.sleep_days - 1)
        facts = self.machines[wanted.machine_id].facts
        return eve_of_next(facts, on=self.on, policy=self.policy)

    def sleep_days(self, wanted: Wanted) -> int:
        """How long it sleeps."""
        until = self.until(wanted)
        return LONGER * 365 if until is None else (until - self.on).days + 1

    def grounds(self, wanted: Wanted) -> frozenset[Ground]:
        """What the place does to it."""
        if wanted.grounds is not None:
            return wanted.grounds
        place = self.machines[wanted.machine_id].facts.place
        shelter = self.shelters.get(place)
        return frozenset() if shelter is None else grounds_of(shelter)

    def advice(self, wanted: Wanted) -> RouteAdvice:
        """What becomes of the fuel, and what is sound, too."""
        judging = self.machines[wanted.machine_id]
        return suggest_route(
            judging.facts, sleep_days=self.sleep_days(wanted), band=worst_band(judging.verdict)
        )

    def route(self, wanted: Wanted) -> FuelRoute:
        """The fuel route: the one chosen while it is sound for so long a sleep, or the advised."""
        advice = self.advice(wanted)
        chosen = wanted.route
        if chosen is None or chosen not in (advice.route, *advice.others):
            return advice.route
        return chosen

    def last_one(self, number: MachineId) -> LastOne | None:
        """Whether to ask if that was the last use of the season."""
        return was_that_the_last(
            self.machines[number].facts,
            on=self.on,
            policy=self.policy,
            not_yet=self.not_yet.get(number, ()),
        )

    def not_known(self, number: MachineId) -> int:
        """How many jobs nobody knows about."""
        return len(self.unknown(number))

    def can(self, sort: RunSort, number: MachineId) -> bool:
        """Whether a sitting makes sense for the machine as it is."""
        laid_up = self.machines[number].almanac.laid_up
        return laid_up if sort is RunSort.GETTING_OUT else not laid_up

    # -- the list ------------------------------------------------------------------------------

    def asks(
        self,
        sort: RunSort,
        wanted: Sequence[Wanted],
        *,
        gates: bool = False,
        with_list: bool = True,
        passed: Mapping[MachineId, frozenset[TaskCode]] | None = None,
    ) -> tuple[Ask, ...]:
        """The machines with the work that belongs to the sitting."""
        if sort is RunSort.GOING_OVER:
            going = self.going_over([one.machine_id for one in wanted], gates=gates, passed=passed)
            return tuple(one.ask for one in going)
        return tuple(self._ask(sort, one, with_list=with_list) for one in wanted)

    def going_over(
        self,
        numbers: Sequence[MachineId],
        *,
        gates: bool = False,
        passed: Mapping[MachineId, frozenset[TaskCode]] | None = None,
    ) -> tuple[GoingOver, ...]:
        """What a first going-over of these machines is made of. `passed`: taken as done."""
        return tuple(
            ask_to_go_over(
                self.machines[number].facts,
                on=self.on,
                policy=self.policy,
                limits=self.catalogue.limits,
                gates=gates,
                passed_over=(passed or {}).get(number, frozenset()),
            )
            for number in numbers
        )

    def unknown(self, number: MachineId) -> list[TaskCode]:
        """The jobs nobody knows about."""
        tasks = self.machines[number].verdict.tasks
        return [each.code for each in tasks if each.state is TaskState.NOT_KNOWN]

    def _ask(self, sort: RunSort, wanted: Wanted, *, with_list: bool) -> Ask:
        facts = self.machines[wanted.machine_id].facts
        limits = self.catalogue.limits
        if sort is RunSort.PUTTING_AWAY:
            return ask_to_put_away(
                facts,
                on=self.on,
                policy=self.policy,
                limits=limits,
                until=self.on + timedelta(days=self.sleep_days(wanted) - 1),
                route=self.route(wanted),
                grounds=self.grounds(wanted),
            )
        return ask_to_get_out(
            facts,
            on=self.on,
            policy=self.policy,
            limits=limits,
            precedence=self.catalogue.precedence,
            left=self.left.get(wanted.machine_id, frozenset()),
            with_list=with_list,
        )

    def laid(self, sort: RunSort, asks: Sequence[Ask]) -> tuple[Step, ...]:
        """The steps in working order."""
        rules = load_sitting_rules()
        return lay_down(sort, asks, rules=rules, precedence=self.catalogue.precedence)

    def asked(self, sort: RunSort, asks: Sequence[Ask]) -> tuple[FeatureAsked, ...]:
        """How a machine is built, where nobody said and a step hangs on it."""
        return questions(sort, asks, rules=load_sitting_rules())
