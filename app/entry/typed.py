"""One line as people say it: “red one ran 0.8 h yesterday”, “oil mower done 12.40”.

No window here. A line is read against the machines there are and the work they have; what can be
taken in two ways is asked, never guessed.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import date
from enum import Enum

from app.entry.typed_days import read_day
from app.entry.typed_figures import Figures, has_run, read_figures, without_figures
from models.acts.hours import ReadHours
from models.acts.uses import LogUse
from models.acts.work import LineGiven, RecordWork
from models.words import LineOutcome, RunOutcome
from schedules.facts import MachineFacts, MachineId
from schedules.units import Typed, UnitSystem

DAY_SECONDS = 86_400
MOST_ASKED = 6


@dataclass(frozen=True, slots=True, kw_only=True)
class KnownMachine:
    """A machine as a line may speak of it. `tasks`: (code, name); `asked`: those asked for now;
    `shown_seconds`: what its meter last showed, None without one."""

    machine_id: MachineId
    name: str
    kind: str
    tasks: tuple[tuple[str, str], ...]
    asked: Callable[[], frozenset[str]] = frozenset
    shown_seconds: int | None = None


class Sense(Enum):
    """What a line says was done."""

    USE = "use"
    METER = "meter"
    WORK = "work"


class Lack(Enum):
    """What a line leaves open."""

    MACHINE = "machine"
    TASK = "task"
    SENSE = "sense"
    DAY = "day"
    FIGURE = "figure"
    NOTHING = "nothing"


@dataclass(frozen=True, slots=True, kw_only=True)
class Said:
    """A line that was understood, ready to be entered."""

    machine: KnownMachine
    sense: Sense
    day: date
    run: Typed | None = None
    outcome: RunOutcome = RunOutcome.RAN
    tasks: tuple[str, ...] = ()
    renewed: bool = False
    cents: int | None = None

    def act(self) -> LogUse | ReadHours | RecordWork:
        """The act that enters it."""
        number = self.machine.machine_id
        match self.sense:
            case Sense.USE:
                return LogUse(
                    machine_id=number,
                    day=self.day,
                    run_seconds=None if self.run is None else self.run.stored,
                    typed=self.run,
                    count=1,
                    outcome=self.outcome,
                )
            case Sense.METER:
                if self.run is None:
                    raise ValueError("a meter shows something")
                return ReadHours(
                    machine_id=number,
                    day=self.day,
                    shown_seconds=self.run.stored,
                    typed=self.run,
                )
            case Sense.WORK:
                outcome = LineOutcome.REPLACED if self.renewed else LineOutcome.DONE
                return RecordWork(
                    machine_id=number,
                    day=self.day,
                    lines=tuple(LineGiven(task=task, outcome=outcome) for task in self.tasks),
                    cents=self.cents,
                )


@dataclass(frozen=True, slots=True, kw_only=True)
class Unsure:
    """What has to be asked; `choices`: (value, words) to take instead of a guess; `figure`: the
    one that was not read."""

    lack: Lack
    choices: tuple[tuple[str, str], ...] = ()
    figure: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Answers:
    """What was answered already to what a line left open."""

    machine: str = ""
    task: str = ""
    sense: str = ""
    figure: str = ""


_WORD = re.compile(r"[^\W\d_]+(?:['’-][^\W\d_]+)*", re.UNICODE)
_MONEY = re.compile(r"[£$€]")
_BADLY = re.compile(r"\b(?:ran|runs|run)\s+(?:badly|rough|roughly)\b", re.IGNORECASE)
_DID_NOT = re.compile(
    r"\b(?:did(?:\s+not|n['’]?t)|would(?:\s+not|n['’]?t)|will\s+not|won['’]?t)\s+start\b",
    re.IGNORECASE,
)
_USED = frozenset({"ran", "run", "used", "out"})
_METER = frozenset({"meter", "shows", "reads", "read", "at", "clock"})
_RENEWED = frozenset({"renewed", "replaced", "new"})
_DONE = frozenset({"done", "did", "changed", "cleaned", "checked", "greased", "made"}) | _RENEWED
_EMPTY = frozenset(
    {"the", "a", "an", "of", "on", "in", "it", "is", "and", "for", "to", "was", "its", "my"}
)


def read_line(
    line: str,
    machines: tuple[KnownMachine, ...],
    *,
    today: date,
    system: UnitSystem,
    month_first: bool = False,
    answers: Answers | None = None,
) -> Said | Unsure:
    """What a line says was done, or what it leaves open. `month_first`: how 12/11 is read."""
    given = answers or Answers()
    found = _machine(line, machines, given.machine)
    if isinstance(found, Unsure):
        told = has_run(line) or _DID_NOT.search(line) or set(_words(line)) & (_DONE | _USED)
        return found if told else Unsure(lack=Lack.NOTHING)
    unnamed = _unnamed(line, found)
    dated = read_day(unnamed, today, month_first=month_first)
    if dated is None:
        return Unsure(lack=Lack.DAY)
    rest, day = dated
    figures = read_figures(rest, system=system, answered=given.figure)
    if figures.unread:
        ways = tuple((way, way) for way in figures.choices)
        return Unsure(lack=Lack.FIGURE, choices=ways, figure=figures.unread)
    words = _words(figures.rest)
    words = _take(words, found) if unnamed == line else words
    said = _said(figures, words, found, day, given)
    return said if isinstance(said, Unsure) else _whole(said, figures)


def _said(
    figures: Figures, words: list[str], machine: KnownMachine, day: date, given: Answers
) -> Said | Unsure:
    rest, run = figures.rest, figures.run
    if _DID_NOT.search(rest):
        return Said(machine=machine, sense=Sense.USE, day=day, outcome=RunOutcome.DID_NOT)
    verbs = {word for word in words if word in _DONE | _USED | _METER}
    subject = [word for word in words if word not in _EMPTY | _DONE | _USED | _METER]
    if given.task or (subject and _speaks_of_work(subject, machine, run)) or verbs & _DONE:
        return _work(figures.cents, subject, verbs, machine, day, given.task)
    if run is None:
        if verbs & _USED:
            return Said(machine=machine, sense=Sense.USE, day=day, outcome=_outcome(rest))
        return Unsure(lack=Lack.NOTHING)
    return _time(run, verbs, machine, day, rest, given.sense)


def _whole(said: Said, figures: Figures) -> Said | Unsure:
    """What was said, if every figure that was typed has its place in it."""
    if figures.run is not None and said.run is None:
        return Unsure(lack=Lack.FIGURE, figure=figures.run.text)
    if figures.cents is not None and said.cents is None:
        whole, part = divmod(figures.cents, 100)
        return Unsure(lack=Lack.FIGURE, figure=f"{whole}.{part:02}")
    alone = _MONEY.search(figures.rest)
    if alone is not None:  # of how much, was never said
        return Unsure(lack=Lack.FIGURE, figure=alone.group())
    return said


def last_shown(facts: MachineFacts) -> int | None:
    """The run time last read on its meter, in seconds; None when none was."""
    readings = facts.items[0].hours.readings
    return max((reading.seconds for reading in readings), default=None)


# -- the parts of a line ----------------------------------------------------------------------


def _words(text: str) -> list[str]:
    return [word.casefold() for word in _WORD.findall(text)]


def _machine(line: str, machines: tuple[KnownMachine, ...], answered: str) -> KnownMachine | Unsure:
    """The machine that is meant."""
    words = _words(without_figures(line))
    if not machines or not words:
        return Unsure(lack=Lack.NOTHING)
    if answered:
        machine = next((one for one in machines if str(one.machine_id) == answered), None)
        if machine is not None:
            return machine
    scored = sorted(((_likeness(words, one), one.name, one) for one in machines), key=_by_score)
    best = scored[0][0]
    alike = [one for score, _, one in scored if score == best]
    if best == (0, 0) and len(machines) > 1:
        return _which(machines)
    if len(alike) > 1:  # a name with its number, “Saw 2”, tells them apart
        named = [one for one in alike if _unnamed(line, one) != line]
        return named[0] if len(named) == 1 else _which(named or alike)
    return alike[0]


def _unnamed(line: str, machine: KnownMachine) -> str:
    """The line without the name of the machine where it stands as it is written; a number in it
    that has a unit behind it is no part of the name."""
    words = machine.name.split()
    if not _WORD.search(machine.name):
        return line
    name = r"\s+".join(map(re.escape, words))
    whole = rf"(?<![\w.,:/-]){name}(?!\w)(?![.,:/-][0-9])"
    if words[-1][-1:].isnumeric():
        whole += r"(?!\s*(?:hours?|hrs?|h|minutes?|mins?|min|days?|weeks?|[£$€])(?!\w))"
    return re.sub(whole, " ", line, count=1, flags=re.IGNORECASE)


def _by_score(scored: tuple[tuple[int, int], str, KnownMachine]) -> tuple[int, int, str]:
    (whole, part), name, _ = scored
    return -whole, -part, name


def _which(machines: Iterable[KnownMachine]) -> Unsure:
    choices = tuple((str(one.machine_id), one.name) for one in machines)
    return Unsure(lack=Lack.MACHINE, choices=choices)


def _likeness(words: list[str], machine: KnownMachine) -> tuple[int, int]:
    """How many letters of its name stand in the line, when the whole name does; else how many
    letters of its name or its type."""
    name, said = _words(machine.name), set(words)
    shared = [word for word in name if word in said and word not in _EMPTY]
    letters = sum(map(len, shared))
    if name and all(word in said for word in name):
        return letters, letters
    kind = [word for word in _words(machine.kind) if word in said and word not in _EMPTY]
    return 0, max(letters, sum(map(len, kind)))


def _take(words: list[str], machine: KnownMachine) -> list[str]:
    """The words without those that name the machine or its type."""
    named = {*_words(machine.name)}
    left = [word for word in words if word not in named]
    if len(left) == len(words):
        left = [word for word in words if word not in {*_words(machine.kind)}]
    return left


def _outcome(rest: str) -> RunOutcome:
    return RunOutcome.BADLY if _BADLY.search(rest) else RunOutcome.RAN


# -- what it comes to -------------------------------------------------------------------------


def _time(
    run: Typed, verbs: set[str], machine: KnownMachine, day: date, rest: str, sense: str
) -> Said | Unsure:
    """Run time, or what the meter shows: more than a day can hold is a meter."""
    use = Said(machine=machine, sense=Sense.USE, day=day, run=run, outcome=_outcome(rest))
    meter = Said(machine=machine, sense=Sense.METER, day=day, run=run)
    if sense:
        return use if sense == Sense.USE.value else meter
    if verbs & _METER or run.stored > DAY_SECONDS:
        return meter
    shown = machine.shown_seconds
    if verbs & _USED or shown is None or run.stored < shown:
        return use
    return Unsure(
        lack=Lack.SENSE, choices=((Sense.USE.value, run.text), (Sense.METER.value, run.text))
    )


def _speaks_of_work(subject: list[str], machine: KnownMachine, run: Typed | None) -> bool:
    return run is None and any(score for score, _, _ in _scored(subject, machine))


def _scored(subject: list[str], machine: KnownMachine) -> list[tuple[int, bool, tuple[str, str]]]:
    """Work by how many of the words its name has; what is asked for now comes before the rest."""
    found: list[tuple[int, bool, tuple[str, str]]] = []
    asked = machine.asked()
    for code, name in machine.tasks:
        names = _words(name)
        score = sum(any(_same(word, one) for one in names) for word in set(subject))
        found.append((score, code in asked, (code, name)))
    return sorted(found, key=lambda one: (-one[0], not one[1], one[2][1]))


def _same(word: str, other: str) -> bool:
    """The same word, or one with another ending: plug, plugs; blade, blades."""
    short, long = sorted((word, other), key=len)
    return len(short) > 2 and long.startswith(short) and len(long) - len(short) <= 2


def _work(
    cents: int | None,
    subject: list[str],
    verbs: set[str],
    machine: KnownMachine,
    day: date,
    answered: str,
) -> Said | Unsure:
    renewed = bool(verbs & _RENEWED)
    task = answered
    if not task:
        scored = _scored(subject, machine) if subject else []
        best = scored[0][0] if scored else 0
        likely = [pair for score, _, pair in scored if best and score == best]
        if not likely:
            asked = machine.asked()
            wanted = [pair for pair in machine.tasks if pair[0] in asked]
            return Unsure(lack=Lack.TASK, choices=tuple(wanted[:MOST_ASKED]))
        if len(likely) > 1:
            return Unsure(lack=Lack.TASK, choices=tuple(likely[:MOST_ASKED]))
        task = likely[0][0]
    return Said(
        machine=machine,
        sense=Sense.WORK,
        day=day,
        tasks=(task,),
        renewed=renewed,
        cents=cents,
    )
