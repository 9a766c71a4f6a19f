"""One list of steps for one machine or for the whole row, in the one order that works.

Laid down from the steps of `resources/storage.toml` and the work of the catalogue. Laws: every
pair of both is kept on each machine, also by way of what is not on the list; no step and no task
stands twice; the order of the machines asked for decides nothing but whose turn is first.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from graphlib import CycleError, TopologicalSorter

from schedules.facts import (
    Applies,
    Band,
    CautionCode,
    FeatureCode,
    FuelUse,
    MachineId,
    Precedence,
    TaskCode,
    TaskFacts,
    TaskSort,
)
from schedules.figures import stands
from schedules.sitting_facts import (
    STAGES,
    Ask,
    FeatureAsked,
    FuelRoute,
    LeftCode,
    RunSort,
    SittingRules,
    Stage,
    Step,
    StepCode,
    StepFacts,
    StepKey,
    TimeNeeded,
    When,
)
from schedules.workload import QUICK_MINUTES, PrecedenceCycleError

RANKS = {stage: rank for rank, stage in enumerate(STAGES)}
RUNNING = frozenset(
    {
        FuelRoute.FULL_TREATED,
        FuelRoute.RUN_EMPTY,
        FuelRoute.ALKYLATE_WET,
        FuelRoute.KEEP_READY,
    }
)
# An oil change wants the oil warm, whatever becomes of the fuel.
WARM_WORK = frozenset({TaskCode("E4-02"), TaskCode("E4-03")})
STARTS = {TaskCode("E4-24"): FuelUse.FOUR_STROKE, TaskCode("E2-17"): FuelUse.TWO_STROKE}
SPOILT = frozenset({Band.DRAIN, Band.NOT_FOR_THIS})
# Stabiliser does nothing for these; run empty, they are burnt instead.
PAST_TREATING = SPOILT | {Band.BURN, Band.LOOK_FIRST}
TREATED = frozenset({FuelRoute.FULL_TREATED, FuelRoute.KEEP_READY})

NIGHT_MINUTES = 240

Pairs = tuple[tuple[str, str], ...]


def lay_down(
    sort: RunSort,
    asks: Iterable[Ask],
    *,
    rules: SittingRules,
    precedence: tuple[Precedence, ...],
) -> tuple[Step, ...]:
    """The steps in working order. Raises PrecedenceCycleError for orders that go round."""
    benches = [_Bench(sort, ask, place, rules) for place, ask in enumerate(asks)]
    nodes: list[_Node] = []
    for bench in benches:
        nodes += bench.nodes()
    nodes += _shared(benches)
    edges = _edges(benches, nodes, precedence)
    added = dict(rules.cautions)
    return tuple(_step(nodes[place], nodes, edges[place], added) for place in _order(nodes, edges))


def remaining(steps: tuple[Step, ...], answered: frozenset[StepKey]) -> tuple[Step, ...]:
    """What is left of a list. Law: wherever it is left off, the rest is the same rest."""
    return tuple(step for step in steps if step.key not in answered)


def left_off(
    steps: Iterable[Step], machine: MachineId, *, before: frozenset[LeftCode] = frozenset()
) -> tuple[LeftCode, ...]:
    """What is off or open at a machine after these steps, the first left the first named."""
    found = sorted(before)
    for step in steps:
        if machine in step.machine_ids:
            found = [code for code in found if code not in step.puts_back]
            found += [code for code in step.leaves if code not in found]
    return tuple(found)


def time_needed(steps: Iterable[Step]) -> TimeNeeded:
    """How long the list takes one person who does other steps while something runs by itself.

    What still runs by itself after the last step (a charger) is not waited for.
    """
    now = hands = nights = 0
    over: dict[StepKey, int] = {}
    for step in steps:
        start = max([now, *(over[key] for key in step.after if key in over)])
        hands += step.minutes
        now = start + step.minutes
        long = step.wait_minutes >= NIGHT_MINUTES
        nights += long
        over[step.key] = now + (0 if long else step.wait_minutes)
    return TimeNeeded(hands=hands, clock=now, nights=nights)


def questions(
    sort: RunSort, asks: Iterable[Ask], *, rules: SittingRules
) -> tuple[FeatureAsked, ...]:
    """The features that decide a step of this list and that nobody has answered, once each."""
    found: dict[FeatureAsked, None] = {}
    for place, ask in enumerate(asks):
        bench = _Bench(sort, ask, place, rules)
        for feature in bench.unanswered():
            found[FeatureAsked(ask.facts.machine_id, feature)] = None
    return tuple(found)


def burns(ask: Ask) -> FuelUse:
    """What the machine burns as it stands: a washer on a cord burns nothing."""
    return next((use for code, use in STARTS.items() if code in standing(ask)), FuelUse.NONE)


def standing(ask: Ask) -> dict[TaskCode, TaskFacts]:
    """The tasks that the machine has, by code."""
    features = dict(ask.facts.features)
    return {
        task.code: task for item in ask.facts.items for task in item.tasks if stands(task, features)
    }


# -- one machine ------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Node:
    """A step before it has its place. `machines` are places in the row; a shared step has many."""

    facts: StepFacts | None
    task: TaskFacts | None
    machines: tuple[int, ...]
    ids: tuple[MachineId, ...]
    stage: Stage
    number: int
    minutes: int
    records: tuple[TaskCode, ...]
    passes: tuple[TaskCode, ...]
    leaves: tuple[LeftCode, ...] = ()

    @property
    def code(self) -> str:
        return str(self.facts.code if self.facts else self.task.code if self.task else "")

    @property
    def labels(self) -> frozenset[str]:
        """All codes that it answers to in the orders."""
        return frozenset((self.code, *self.records))

    @property
    def opening(self) -> str:
        if self.facts is not None:
            return self.facts.opens or self.facts.shuts
        return self.task.opening if self.task else ""


class _Bench:
    """One machine of the row: which steps stand for it, which tasks remain steps of their own."""

    def __init__(self, sort: RunSort, ask: Ask, place: int, rules: SittingRules) -> None:
        self.sort = sort
        self.ask = ask
        self.place = place
        self.rules = rules
        self.features = dict(ask.facts.features)
        self.standing = standing(ask)
        self.burns = burns(ask)
        self.asked = _without_included(ask.tasks & set(self.standing), self.standing)
        self.stages = {opening: stage for each, opening, stage in rules.openings if each is sort}
        self.runs = self._runs()
        self.under = self._under()
        self.chosen = tuple(step for step in rules.steps if self._stands(step))
        covered = {code for step in self.chosen for code in (*step.records, *step.passes)}
        self.tasks = tuple(code for code in self.asked if code not in covered)

    def _runs(self) -> bool:
        if self.burns is FuelUse.NONE:
            return False
        if self.sort is not RunSort.PUTTING_AWAY:
            return True
        return self.ask.route in RUNNING or bool(self.asked & WARM_WORK)

    def _under(self) -> bool:
        """Whether hands go in, with the lead off, before it runs."""
        if any(self.stage(code) is Stage.UNDER for code in self.asked):
            return True
        return any(
            step.stage is Stage.UNDER and step.when.under is None and self._holds(step)
            for step in self.rules.steps
        )

    def stage(self, code: TaskCode) -> Stage:
        """Where a task of the catalogue joins in."""
        task = self.standing[code]
        for place in self.rules.places:
            held = not place.routes or self.ask.route in place.routes
            if held and place.code == code and place.sort is self.sort:
                return place.stage
        if self.sort is not RunSort.PUTTING_AWAY and task.rule.each_use and task.safety:
            looks_first = task.opening not in ("warm-run", "water-on", "after-run")
            return Stage.UNDER if looks_first else Stage.TRIAL
        return self.stages[task.opening] if task.opening else Stage.DRY

    def _stands(self, step: StepFacts) -> bool:
        if step.when.under is not None and step.when.under is not self.under:
            return False
        return self._holds(step)

    def _holds(self, step: StepFacts) -> bool:
        """Whether its conditions hold, `under` apart."""
        if step.sort is not self.sort or not self._plain(step.when):
            return False
        return all(_fits(each, self.features) for each in step.when.applies)

    def _plain(self, when: When) -> bool:
        """All conditions that no feature decides."""
        ask, kind = self.ask, str(self.ask.facts.kind.code)
        left, grounds = ask.left, ask.grounds
        return (
            (not when.burns or self.burns in when.burns)
            and (not when.kinds or kind in when.kinds)
            and kind not in when.kinds_not
            and (not when.routes or ask.route in when.routes)
            and (not when.stands or any(code in self.standing for code in when.stands))
            and (not when.asked or any(code in self.asked for code in when.asked))
            and (not when.opening or self._opened(when.opening))
            and (not when.grounds or bool(grounds & set(when.grounds)))
            and not grounds & set(when.grounds_not)
            and (not when.left or bool(left & set(when.left)))
            and not left & set(when.left_not)
            and when.runs in (None, self.runs)
            and when.stale in (None, self._stale())
            and when.gates in (None, ask.gates)
            and when.again in (None, ask.again)
            and ask.sleep_days >= when.sleep_from
        )

    def _opened(self, opening: str) -> bool:
        return any(self.standing[code].opening == opening for code in self.asked)

    def _stale(self) -> bool:
        past = PAST_TREATING if self.ask.route in TREATED else SPOILT
        return self.ask.band in past

    def nodes(self) -> list[_Node]:
        """The steps of this machine alone."""
        found = [self._of_step(step) for step in self.chosen if not step.shared]
        return found + [self._of_task(code) for code in self.tasks]

    def _of_step(self, step: StepFacts) -> _Node:
        records = tuple(code for code in step.records if code in self.standing)
        return _Node(
            facts=step,
            task=None,
            machines=(self.place,),
            ids=(self.ask.facts.machine_id,),
            stage=step.stage,
            number=self._number(step),
            minutes=step.minutes,
            records=records,
            passes=tuple(code for code in step.passes if code in self.standing),
        )

    def _number(self, step: StepFacts) -> int:
        """The place in the file; what opens or shuts waits until nothing else is left to do as it
        stands, so that it is tipped once."""
        last = len(self.rules.steps)
        if step.opens or step.shuts:
            return last + 1 + bool(step.shuts)
        return self.rules.steps.index(step)

    def _of_task(self, code: TaskCode) -> _Node:
        task = self.standing[code]
        leaves = [each.leaves for each in self.rules.places if each.code == code]
        return _Node(
            facts=None,
            task=task,
            machines=(self.place,),
            ids=(self.ask.facts.machine_id,),
            stage=self.stage(code),
            number=len(self.rules.steps),
            minutes=task.do_minutes if code in self.ask.full else task.look_minutes,
            records=(code,),
            passes=(),
            leaves=leaves[0] if leaves and self.sort is RunSort.PUTTING_AWAY else (),
        )

    def unanswered(self) -> list[FeatureCode]:
        """Features nobody answered that decide a step which stands but for them, or a task."""
        wanted = [
            each.feature
            for step in self.rules.steps
            if step.sort is self.sort and self._plain(step.when)
            for each in step.when.applies
        ]
        every = {task.code: task for item in self.ask.facts.items for task in item.tasks}
        wanted += [
            each.feature
            for code in sorted(self.ask.tasks & set(every))
            for each in every[code].applies
        ]
        known = self.ask.facts.kind.features
        return [each for each in wanted if each not in self.features and each in known]


def _fits(condition: Applies, features: Mapping[FeatureCode, str]) -> bool:
    value = features.get(condition.feature)
    return condition.unknown if value is None else value in condition.values


def _without_included(
    codes: set[TaskCode] | frozenset[TaskCode], tasks: Mapping[TaskCode, TaskFacts]
) -> frozenset[TaskCode]:
    """Those of the codes that no other of them includes: one opening, one line."""
    included: set[TaskCode] = set()
    for code in sorted(codes):
        waiting = [code]
        while waiting:
            here = tasks.get(waiting.pop())
            for other in here.includes if here else ():
                if other not in included and other != code:
                    included.add(other)
                    waiting.append(other)
    return frozenset(codes) - included


def _shared(benches: list[_Bench]) -> list[_Node]:
    """Steps done once for all machines they stand for."""
    found: list[_Node] = []
    for number, step in enumerate(benches[0].rules.steps if benches else ()):
        who = [bench for bench in benches if step.shared and step in bench.chosen]
        if who:
            found.append(
                _Node(
                    facts=step,
                    task=None,
                    machines=tuple(bench.place for bench in who),
                    ids=tuple(bench.ask.facts.machine_id for bench in who),
                    stage=step.stage,
                    number=number,
                    minutes=step.minutes,
                    records=(),
                    passes=(),
                )
            )
    return found


# -- the order --------------------------------------------------------------------------------


def pairs_for(
    sort: RunSort, route: FuelRoute, rules: SittingRules, precedence: tuple[Precedence, ...]
) -> Pairs:
    """The pairs that hold on a fuel route: those of the catalogue that make sense there, and those
    of the steps."""
    waived = {
        (pair.before, pair.after)
        for pair in rules.waived
        if route in pair.routes and (not pair.sorts or sort in pair.sorts)
    }
    catalogue = [
        (str(pair.before), str(pair.after))
        for pair in precedence
        if (pair.before, pair.after) not in waived
    ]
    steps = [
        (pair.before, pair.after)
        for pair in rules.orders
        if not pair.routes or route in pair.routes
    ]
    return tuple(dict.fromkeys(catalogue + steps))


@lru_cache(maxsize=16)
def _predecessors(pairs: Pairs) -> Mapping[str, frozenset[str]]:
    """For each code all that come before it, also by way of codes not on the list."""
    direct: dict[str, set[str]] = {}
    for before, after in pairs:
        direct.setdefault(after, set()).add(before)
    try:
        order = tuple(TopologicalSorter(direct).static_order())
    except CycleError as error:
        raise PrecedenceCycleError(tuple(error.args[1])) from error
    whole: dict[str, frozenset[str]] = {}
    for code in order:
        here = direct.get(code, set())
        whole[code] = frozenset(here).union(*(whole[before] for before in here))
    return whole


def _edges(
    benches: list[_Bench], nodes: list[_Node], precedence: tuple[Precedence, ...]
) -> list[set[int]]:
    """For each node those that must come before it."""
    before: list[set[int]] = [set() for _ in nodes]
    for bench in benches:
        here = [place for place, node in enumerate(nodes) if bench.place in node.machines]
        known = _predecessors(pairs_for(bench.sort, bench.ask.route, bench.rules, precedence))
        for after in here:
            labels = nodes[after].labels
            wanted = frozenset[str]().union(*(known.get(label, frozenset()) for label in labels))
            for first in here:
                if first != after and nodes[first].labels & wanted:
                    before[after].add(first)
        _add_openings(here, nodes, before)
    return before


def _add_openings(here: list[int], nodes: list[_Node], before: list[set[int]]) -> None:
    """What is opened comes before the work in it, and is shut after it."""
    for place in here:
        step = nodes[place].facts
        if step is None or not (step.opens or step.shuts):
            continue
        opening = step.opens or step.shuts
        inside = [other for other in here if nodes[other].task and nodes[other].opening == opening]
        if step.opens:
            for other in inside:
                before[other].add(place)
        else:
            before[place] |= set(inside)


def _order(nodes: list[_Node], before: list[set[int]]) -> list[int]:
    """Again and again the free step of the earliest stage: with the same opening as the last, of
    the earliest machine, in the order of the file, the shortest."""
    left = set(range(len(nodes)))
    order: list[int] = []
    last: _Node | None = None

    def rank(place: int) -> tuple[int, bool, int, int, int, str]:
        node = nodes[place]
        same = (
            last is not None
            and bool(node.opening)
            and (node.opening, node.machines) == (last.opening, last.machines)
        )
        first = -1 if node.facts is not None and node.facts.shared else node.machines[0]
        return (RANKS[node.stage], not same, first, node.number, node.minutes, node.code)

    while left:
        free = [place for place in left if not before[place] & left]
        if not free:
            raise PrecedenceCycleError(tuple(TaskCode(nodes[place].code) for place in sorted(left)))
        taken = min(free, key=rank)
        order.append(taken)
        left.remove(taken)
        last = nodes[taken]
    return order


def _step(
    node: _Node,
    nodes: list[_Node],
    before: set[int],
    added: Mapping[str, tuple[CautionCode, ...]],
) -> Step:
    """The node as it is laid down."""
    after = tuple(_key(nodes[place]) for place in sorted(before))
    if node.facts is not None:
        return _from_facts(node, node.facts, after)
    task = node.task
    if task is None:
        raise ValueError("a node is a step or a task")
    return Step(
        code=StepCode(task.code),
        machine_ids=node.ids,
        stage=node.stage,
        name=task.name,
        how=task.how,
        done_when="",
        stop_use_if=task.stop_use_if,
        minutes=node.minutes,
        wait_minutes=0,
        waits_for="",
        cautions=tuple(dict.fromkeys((*task.cautions, *added.get(task.opening, ())))),
        touches=(),
        tools=task.tools,
        parts=task.consumables,
        records=node.records,
        passes=(),
        leaves=node.leaves,
        puts_back=(),
        fuel=None,
        opening=task.opening,
        is_task=True,
        look=task.sort is not TaskSort.PREDETERMINED and node.minutes <= QUICK_MINUTES,
        to_faults=task.safety,
        after=after,
    )


def _from_facts(node: _Node, facts: StepFacts, after: tuple[StepKey, ...]) -> Step:
    return Step(
        code=facts.code,
        machine_ids=node.ids,
        stage=node.stage,
        name=facts.name,
        how=facts.how,
        done_when=facts.done_when,
        stop_use_if=facts.stop_use_if,
        minutes=node.minutes,
        wait_minutes=facts.wait_minutes,
        waits_for=facts.waits_for,
        cautions=facts.cautions,
        touches=facts.touches,
        tools=facts.tools,
        parts=facts.parts,
        records=node.records,
        passes=node.passes,
        leaves=facts.leaves,
        puts_back=facts.puts_back,
        fuel=facts.fuel,
        opening=facts.opens or facts.shuts,
        is_task=False,
        look=False,
        to_faults=facts.to_faults,
        after=after,
    )


def _key(node: _Node) -> StepKey:
    return StepKey(StepCode(node.code), node.ids)
