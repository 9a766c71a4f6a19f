"""What the machine's own manual says instead of the catalogue; how the machine is built."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from app.entry.questions import Made, Questions, Wish
from app.pieces.asked import Said, choice, text
from app.pieces.form import Field, FieldSort
from app.wording.languages import msg
from app.wording.wording import Wording
from models.acts.answers import AnswerFeatures, ForgetOwnFigure, SetOwnFigure
from models.facts.settings import HouseholdSettings
from resources.loader import Catalogue
from schedules.facts import Direction, LimitFacts, TaskCode, TaskFacts
from schedules.plan import Judging
from schedules.units import Dimension, Typed, Unit, UnitRefusedError, dimension_of, parse_amount

NOT_SURE = "not-sure"
_RULE = ("first_seconds", "run_seconds", "months", "uses")
_RULE_NAMES = {
    "first_seconds": msg("Hours to the first time"),
    "run_seconds": msg("Hours between"),
    "months": msg("Months between"),
    "uses": msg("Uses between"),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnFigureLine:
    """One figure of a task or of a limit it rests on: its name, how much, who says so."""

    target: str
    figure: str
    name: str
    amount: str
    whose: str
    own: bool

    @property
    def key(self) -> str:
        """Target and figure in one."""
        return f"{self.target}|{self.figure}"


def figures_of(judging: Judging, code: TaskCode, words: Wording) -> tuple[OwnFigureLine, ...]:
    """The figures in force that make a task due, with whose they are."""
    task = judging.task(code)
    own = {(one.target, one.figure): one for one in judging.facts.own_figures}
    found: list[OwnFigureLine] = []

    def line(target: str, figure: str, name: str, amount: str, mark: str) -> None:
        mine = own.get((target, figure))
        whose = mark
        if mine is not None:
            whose = words.text(msg("your manual"))
            if mine.page:
                whose = words.text(msg("your manual, page {page}"), page=mine.page)
        found.append(
            OwnFigureLine(
                target=target,
                figure=figure,
                name=name,
                amount=amount,
                whose=whose,
                own=mine is not None,
            )
        )

    for figure in _RULE:
        value = getattr(task.rule, figure)
        if value is None and (code, figure) not in own:
            continue
        amount = words.text(msg("struck out")) if value is None else _said(figure, value, words)
        line(code, figure, words.text(_RULE_NAMES[figure]), amount, _mark(task, figure, words))
    limits = judging.once.home(code).limits
    for each in task.rule.limits:
        limit = limits[each]
        for figure in _ends(limit):
            value = getattr(limit, figure)
            name = words.limit(each)
            amount = words.text(msg("not set")) if value is None else words.amount(limit, value)
            line(each, figure, name[:1].upper() + name[1:], amount, _mark(limit, figure, words))
    return tuple(found)


def _ends(limit: LimitFacts) -> tuple[str, ...]:
    return {
        Direction.AT_MOST: ("high",),
        Direction.AT_LEAST: ("low",),
        Direction.BETWEEN: ("low", "high"),
        Direction.EVENT: (),
    }[limit.direction]


def _said(figure: str, value: int, words: Wording) -> str:
    match figure:
        case "months":
            return words.months(value)
        case "uses":
            return words.uses(value)
        case _:
            return words.round_hours(value)


def _mark(facts: TaskFacts | LimitFacts, figure: str, words: Wording) -> str:
    marks = {one.figure: one.mark for one in facts.marks}
    mark = marks.get(figure) or marks.get("limit")
    return "" if mark is None else words.mark(mark)


class Manual:
    """Makes the forms, and the acts of their answers."""

    def __init__(self, *, words: Wording, catalogue: Catalogue) -> None:
        self.words = words
        self.catalogue = catalogue
        self.ask = Questions(words)

    # -- figures -------------------------------------------------------------------------------

    def figure(
        self, judging: Judging, key: str, code: TaskCode, settings: HouseholdSettings
    ) -> Wish | None:
        """A figure of the machine's own manual in place of the catalogue's."""
        words = self.words
        line = next((one for one in figures_of(judging, code, words) if one.key == key), None)
        if line is None:
            return None
        ways = [
            ("set", words.text(msg("my manual says"))),
            ("none", words.text(msg("my manual has no such figure: strike it out"))),
        ]
        if line.own:
            ways.append(("back", words.text(msg("back to the catalogue's figure"))))
        asked: tuple[Field, ...] = (
            self.ask.field(
                "way", msg("What holds"), FieldSort.TILES, choices=tuple(ways), default="set"
            ),
            self.ask.field("value", msg("The figure"), FieldSort.TEXT, placeholder=line.amount),
            self.ask.field("page", msg("Page of the manual"), FieldSort.TEXT),
        )
        lead = words.text(
            msg("{name}: {amount} now ({whose})."),
            name=line.name,
            amount=line.amount,
            whose=line.whose or words.text(msg("no source")),
        )
        page = self.ask.page("figure", msg("What your manual says"), asked, lead=lead)
        machine = judging.facts.machine_id

        def make(answers: Mapping[str, object]) -> Made:
            way = choice(answers, "way")
            if way == "back":
                return ForgetOwnFigure(machine_id=machine, target=line.target, figure=line.figure)
            value, typed = None, None
            if way == "set":
                read = self._value(line, judging, text(answers, "value"), settings)
                if isinstance(read, Said):
                    return read
                value = read.stored if isinstance(read, Typed) else read
                typed = read if isinstance(read, Typed) else None
            return SetOwnFigure(
                machine_id=machine,
                target=line.target,
                figure=line.figure,
                value=value,
                typed=typed,
                page=text(answers, "page"),
            )

        return Wish(page, make)

    def _value(
        self, line: OwnFigureLine, judging: Judging, typed: str, settings: HouseholdSettings
    ) -> Typed | int | Said:
        words = self.words
        if line.figure in ("months", "uses"):
            if typed.isascii() and typed.isdecimal() and len(typed) <= 6:
                return int(typed)
            return Said(words.text(msg("Type a whole number, like 12.")), "value")
        dimension, implied = Dimension.TIME, Unit.HOUR
        if line.figure in ("low", "high"):
            limit = next(
                limit for code, limit in judging.items[0].limits.items() if code == line.target
            )
            dimension = dimension_of(limit.unit)
            implied = dict(settings.units).get(dimension)
        try:
            return parse_amount(
                typed,
                dimension,
                system=settings.unit_system,
                decimal_comma=False,
                implied=implied,
            )
        except UnitRefusedError as refused:
            like = words.text(msg("Like {amount}."), amount=line.amount)
            return Said(f"{words.amount_refused(refused)} {like}", "value")

    # -- how it is built -----------------------------------------------------------------------

    def built(self, judging: Judging) -> Wish | Said:
        """Every feature that decides a step, with what was said of it."""
        words, facts = self.words, judging.facts
        answered = dict(facts.features)
        asked = tuple(
            Field(
                name=str(code),
                label=words.text(self.catalogue.features[code].question),
                sort=FieldSort.TILES,
                choices=(
                    *((v, words.text(said)) for v, said in self.catalogue.features[code].values),
                    (NOT_SURE, words.text(msg("not sure"))),
                ),
                default=answered.get(code, NOT_SURE),
            )
            for code in facts.kind.features
        )
        if not asked:
            return Said(words.text(msg("Nothing about how it is built decides any work.")), "")
        lead = words.text(msg("Each is asked once; the lists of work go by it."))
        page = self.ask.page("built", msg("How it is built"), asked, lead=lead)

        def make(answers: Mapping[str, object]) -> Made:
            given = tuple(
                (str(code), None if value == NOT_SURE else value)
                for code in facts.kind.features
                if (value := choice(answers, str(code))) != answered.get(code, NOT_SURE)
            )
            if not given:
                return Said(words.text(msg("Everything is already as you want it.")), "")
            return AnswerFeatures(machine_id=facts.machine_id, answers=given)

        return Wish(page, make)
