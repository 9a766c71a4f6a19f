"""The forms for the least typing: one line, and a whole sheet ticked with its exceptions."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from datetime import date

from app.entry.counted import counted
from app.entry.questions import Made, Questions, Wish
from app.entry.typed import (
    Answers,
    KnownMachine,
    Lack,
    Sense,
    Unsure,
    read_line,
)
from app.entry.typed import Said as Understood
from app.pieces.asked import Said, choice, day, lines_of, text
from app.pieces.form import FieldSort
from app.wording.languages import AMERICAN, msg
from app.wording.wording import Wording
from models.acts.sheets import EnterSheet, SheetException, SheetLine
from models.facts.settings import HouseholdSettings
from models.words import LineOutcome
from schedules.facts import TaskCode

_ASKED = {
    Lack.MACHINE: msg("Which machine do you mean?"),
    Lack.TASK: msg("Which work do you mean?"),
    Lack.SENSE: msg("Did it run so long, or does its meter show that?"),
    Lack.DAY: msg("That day is not understood. Write it like 12 Dec, or 3 days ago."),
}


class Lines:
    """Makes these forms, and the acts of their answers."""

    def __init__(self, *, words: Wording) -> None:
        self.words = words
        self.ask = Questions(words)

    # -- one line ------------------------------------------------------------------------------

    def line(
        self, machines: tuple[KnownMachine, ...], settings: HouseholdSettings, today: date
    ) -> Wish:
        """What was done, typed in one line; beneath it stands what will be entered."""
        words = self.words

        def read(typed: str, answers: Answers | None = None) -> Understood | Unsure:
            return read_line(
                typed,
                machines,
                today=today,
                system=settings.unit_system,
                month_first=words.language == AMERICAN,
                answers=answers,
            )

        def preview(typed: str) -> str:
            if not typed.strip():
                return ""
            found = read(typed)
            if isinstance(found, Understood):
                return self.said(found, settings)
            if found.lack is Lack.NOTHING:
                return words.text(msg("Nothing is understood yet."))
            return self._asked(found)

        like = msg("like: red one 0.8 h · oil mower done 12.40 · red one ran 0.8 h yesterday")
        field = self.ask.field("line", msg("What was done"), FieldSort.TEXT, hint=words.text(like))
        page = self.ask.page("line", msg("Type a line"), (replace(field, preview=preview),))

        def make(answers: Mapping[str, object]) -> Made:
            return self._made(text(answers, "line"), read, Answers())

        return Wish(page, make)

    def _made(
        self,
        typed: str,
        read: Callable[[str, Answers | None], Understood | Unsure],
        answers: Answers,
    ) -> Made:
        found = read(typed, answers)
        if isinstance(found, Understood):
            return found.act()
        if found.lack is Lack.DAY or (found.lack is Lack.FIGURE and not found.choices):
            return Said(self._asked(found), "line")
        if found.lack is Lack.NOTHING or not found.choices:
            said = msg("Say which machine, and what was done: how long it ran, or which work.")
            return Said(self.words.text(said), "line")
        return self._ask(typed, found, read, answers)

    def _asked(self, unsure: Unsure) -> str:
        """What a line leaves open, said or asked."""
        if unsure.lack is not Lack.FIGURE:
            return self.words.text(_ASKED[unsure.lack])
        said = msg("What is meant by {figure}?")
        if not unsure.choices:
            said = msg("{figure} is not understood here. Enter it by itself, or leave it out.")
        return self.words.text(said, figure=f"“{unsure.figure}”")

    def _ask(
        self,
        typed: str,
        unsure: Unsure,
        read: Callable[[str, Answers | None], Understood | Unsure],
        answers: Answers,
    ) -> Wish:
        """What the line leaves open, asked with the line in sight."""
        words = self.words
        ways = unsure.choices
        if unsure.lack is Lack.SENSE:
            ways = (
                (Sense.USE.value, words.text(msg("It ran so long"))),
                (Sense.METER.value, words.text(msg("Its meter shows that"))),
            )
        page = self.ask.ways("which", self._asked(unsure), ways, lead=f"“{typed}”")

        def make(given: Mapping[str, object]) -> Made:
            way = choice(given, "way")
            match unsure.lack:
                case Lack.MACHINE:
                    more = replace(answers, machine=way)
                case Lack.TASK:
                    more = replace(answers, task=way)
                case Lack.FIGURE:
                    more = replace(answers, figure=way)
                case _:
                    more = replace(answers, sense=way)
            return self._made(typed, read, more)

        return Wish(page, make)

    def said(self, found: Understood, settings: HouseholdSettings) -> str:
        """What will be entered, in words."""
        words, name = self.words, found.machine.name
        on = words.day_long(found.day)
        run = "" if found.run is None else words.run_time(found.run.stored)
        match found.sense:
            case Sense.METER:
                said = msg("{machine}: the meter shows {run}, {day}.")
                return words.text(said, machine=name, run=run, day=on)
            case Sense.USE:
                how = words.word(found.outcome)
                parts = (how, run, on)
                return f"{name}: {', '.join(part for part in parts if part)}."
            case Sense.WORK:
                done = msg("renewed") if found.renewed else msg("done")
                parts = [
                    words.listed([words.task(TaskCode(task)) for task in found.tasks]),
                    words.text(done),
                    on,
                ]
                if found.cents is not None:
                    parts.append(words.money(found.cents, settings.currency))
                return f"{name}: {', '.join(parts)}."

    # -- a sheet that comes back ---------------------------------------------------------------

    def sheet(self, find: Callable[[int], Made | tuple[date, tuple[SheetLine, ...]]]) -> Wish:
        """The four digits of a sheet that was worked through."""
        words = self.words
        field = self.ask.field(
            "number",
            msg("The four digits on the sheet"),
            FieldSort.TEXT,
            placeholder=words.text(msg("like 1000")),
        )
        page = self.ask.page("sheet", msg("Enter what a sheet says"), (field,))
        page = replace(page, done=words.text(msg("Go on")))

        def make(answers: Mapping[str, object]) -> Made:
            typed = text(answers, "number")
            if not (typed.isascii() and typed.isdecimal() and len(typed) == 4):
                return Said(words.text(msg("Type the four digits, like 1000.")), "number")
            found = find(int(typed))
            if not isinstance(found, tuple):
                return found
            return self._ticked(int(typed), *found)

        return Wish(page, make)

    def _ticked(self, number: int, today: date, lines: tuple[SheetLine, ...]) -> Wish | Said:
        """All of it is ticked; whoever left something out takes its tick away."""
        words = self.words
        if not lines:
            return Said(words.text(msg("Nothing on that sheet is ticked off.")), "number")
        choices = tuple(
            (str(place), line.text or self._named(line)) for place, line in enumerate(lines)
        )
        everything = tuple(value for value, _ in choices)
        fields = (
            self.ask.field(
                "done",
                msg("Done: take the tick off what was not"),
                FieldSort.TICKS,
                choices=choices,
                default=everything,
            ),
            self.ask.field(
                "failed",
                msg("Tried, and it did not hold"),
                FieldSort.TICKS,
                choices=choices,
                later=True,
            ),
            self.ask.day(today),
            self.ask.field("by_whom", msg("Who did it"), FieldSort.TEXT, later=True),
            self.ask.field("note", msg("Note"), FieldSort.NOTE, later=True),
        )
        fields = (replace(fields[0], counted=counted(words)), *fields[1:])
        page = self.ask.page("sheet_lines", msg("Enter what a sheet says"), fields)
        page = replace(page, lead=words.text(msg("Sheet {number}"), number=str(number)))

        def make(answers: Mapping[str, object]) -> Made:
            done, failed = set(lines_of(answers, "done")), set(lines_of(answers, "failed"))
            exceptions = [
                SheetException(
                    place=int(value),
                    outcome=LineOutcome.FAILED if value in failed else LineOutcome.NOT_DONE,
                )
                for value in everything
                if value in failed or value not in done
            ]
            return EnterSheet(
                number=number,
                day=day(answers, "day"),
                exceptions=tuple(exceptions),
                by_whom=text(answers, "by_whom"),
                note=text(answers, "note"),
            )

        return Wish(page, make)

    def _named(self, line: SheetLine) -> str:
        return self.words.listed([self.words.task(TaskCode(task)) for task in line.tasks])
