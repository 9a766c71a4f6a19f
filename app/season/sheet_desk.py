"""Takes in a storage sheet: all of it ticked, then exceptions, figures, parts, minutes."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date

from app.entry.counted import counted
from app.fleet.names import plain_name
from app.hub import Hub
from app.pieces.asked import Asked, Said, choice, day, lines_of, text
from app.pieces.form import Field, FieldSort, FormPage
from app.season.answering import told
from app.season.figures import FigureReader, asked_figures
from app.season.laying import Row
from app.season.over import jobs_after
from app.season.reading import read_shed
from app.season.sheet_lines import Held, OpenLine, hold
from app.wording.languages import msg
from app.wording.sittings import SittingWords
from models.acts.readings import Measured
from models.acts.run_sheets import EnterRunSheet, stored_steps
from models.acts.runs import AnswerStep, FinishRun, Renewed
from models.acts.sheets import sheet_of
from models.acts.work import LineGiven, RecordWork
from models.errors import Refused, Trouble
from models.facts.runs import LeftOffFacts, read_runs
from models.facts.settings import HouseholdSettings
from models.words import StepAnswer
from resources.loader import Catalogue
from schedules.facts import MachineId, TaskCode
from schedules.sitting_facts import LeftCode, RunSort

KEY = "storage_sheet"
OPEN = "open"
LONGEST_MINUTES = 10_000


@dataclass(slots=True, kw_only=True)
class SheetDesk:
    """Asks what a storage sheet says, and makes the one act of it."""

    hub: Hub
    said: SittingWords
    catalogue: Catalogue
    held: Held | None = None
    settings: HouseholdSettings | None = None
    _row: Row = field(init=False)
    _loose: tuple[LeftOffFacts, ...] = ()

    def _text(self, msgid: str, **values: object) -> str:
        return self.said.words.text(msgid, **values)

    def open(self, number: int) -> FormPage | Said:
        """The form of a sheet. Said: it is none, or it cannot be read."""
        try:
            shed = read_shed(self.hub, self.catalogue, run_id=0)
            with self.hub.read() as session:
                sheet = sheet_of(session, number)
                steps, printed = stored_steps(sheet.lines), sheet.printed_on
                runs = read_runs(session, finished=True)
        except (Refused, Trouble) as outcome:
            return Said(told(outcome, self.said.words)[0], "")
        names = {n: plain_name(one.facts.name) for n, one in shed.row.machines.items()}
        self.settings = shed.settings
        self.held = hold(
            number, printed, steps, row=shed.row, runs=runs, said=self.said, names=names
        )
        if self.held is None:
            return Said(self._text(msg("A machine of that sheet is here no more.")), "")
        self._row, self._loose = shed.row, shed.loose
        return self._page(self.held)

    # -- asking --------------------------------------------------------------------------------

    def _page(self, held: Held) -> FormPage:
        words = self.said.words
        who = words.listed([held.names[number] for number in held.machine_ids])
        lead = self._text(
            msg("Sheet {number}, printed on {day}: {machines}."),
            number=str(held.number),
            day=words.day(held.printed_on),
            machines=who,
        )
        return FormPage(
            key=KEY,
            title=self._text(msg("Enter what a sheet says")),
            lead="\n".join((lead, *held.told)),
            fields=(*self._ticks(held), *self._figures(held), *self._closing(held)),
            done=self._text(msg("Keep it")),
            cancel=self._text(msg("Never mind")),
            later=self._text(msg("More")),
        )

    def _ticks(self, held: Held) -> list[Field]:
        choices = tuple((line.key, line.title) for line in held.lines)
        found = [
            Field(
                name="done",
                label=self._text(msg("Done: take the tick off what was not")),
                sort=FieldSort.TICKS,
                choices=choices,
                default=tuple(key for key, _ in choices),
                counted=counted(self.said.words),
            ),
            Field(
                name="rest",
                label=self._text(msg("What was not done")),
                sort=FieldSort.TILES,
                choices=(
                    (OPEN, self._text(msg("stays on the list"))),
                    (StepAnswer.CANNOT.value, self._text(msg("is put off and becomes a job"))),
                    (StepAnswer.NOT_APPLICABLE.value, self._text(msg("does not apply"))),
                ),
                default=OPEN,
            ),
            Field(
                name="faults",
                label=self._text(msg("Found a fault at")),
                sort=FieldSort.TICKS,
                choices=choices,
                default=(),
                later=True,
            ),
            Field(name="wrong", label=self._text(msg("What is wrong?")), later=True),
        ]
        if held.gone:
            gone = tuple((key, f"{key}  {step.title}") for key, step in held.gone)
            label = self._text(msg("On the sheet and no longer on the list: done all the same"))
            found.append(
                Field(
                    name="gone",
                    label=label,
                    sort=FieldSort.TICKS,
                    choices=gone,
                    default=tuple(key for key, _ in gone),
                )
            )
        return found

    def _figures(self, held: Held) -> list[Field]:
        found: list[Field] = []
        for line in held.lines:
            machines = [self._row.machines[number] for number in line.machine_ids]
            found += [
                Field(
                    name=f"figure {line.key} {ask.key}",
                    label=f"{line.key}  {ask.label}",
                    hint=ask.hint,
                    later=True,
                )
                for ask in asked_figures(line.tasks, machines, self.said.words)
            ]
        return found

    def _closing(self, held: Held) -> list[Field]:
        parts = self._parts(held)
        found = [
            Field(
                name="day",
                label=self._text(msg("Day")),
                sort=FieldSort.DAY,
                default=self.hub.moment().today,
            ),
            Field(
                name="minutes",
                label=self._text(msg("How many minutes it took")),
                hint=self._text(msg("Leave it empty when nobody looked at the clock.")),
            ),
        ]
        if parts:
            found.append(
                Field(
                    name="parts",
                    label=self._text(msg("New parts that went in")),
                    sort=FieldSort.TICKS,
                    choices=parts,
                    default=(),
                    later=True,
                )
            )
        person = "" if self.settings is None else self.settings.person
        return [
            *found,
            Field(name="by_whom", label=self._text(msg("Who did it")), default=person, later=True),
            Field(name="note", label=self._text(msg("Note")), sort=FieldSort.NOTE, later=True),
        ]

    def _parts(self, held: Held) -> tuple[tuple[str, str], ...]:
        found: list[tuple[str, str]] = []
        for line in held.lines:
            for code in line.tasks:
                task = self.catalogue.tasks.get(code)
                for part in () if task is None else task.consumables:
                    value = f"{line.key} {code} {part.part} {part.quantity}"
                    found.append((value, f"{line.key}  {self._text(part.name)}"))
        return tuple(found)

    # -- answering -----------------------------------------------------------------------------

    def made(self, answers: Mapping[str, object]) -> EnterRunSheet | Said:
        """The one act of the answers."""
        held = self.held
        if held is None or self.settings is None:
            return Said("", "")
        on, who = day(answers, "day"), text(answers, "by_whom")
        given = self._answers(held, answers, on=on, by_whom=who)
        if isinstance(given, Said):
            return given
        finish: FinishRun | None = None
        if not held.over and not held.left_over and len(given) == len(held.lines):
            finish = self._finish(held, answers, on=on, by_whom=who)
        minutes = self._minutes(answers)
        if isinstance(minutes, Said):
            return minutes
        renewed = self._renewed(held, answers)
        if finish is None and (minutes is not None or renewed) and not held.over:
            said = msg("Minutes and parts go in when the list is finished; steps are still open.")
            return Said(self._text(said), "minutes" if minutes is not None else "parts")
        if finish is not None:
            finish = replace(finish, minutes=minutes, renewed=renewed)
        return EnterRunSheet(
            number=held.number,
            day=on,
            run_id=held.run_id,
            begin=held.begin,
            answers=given,
            work=self._work(held, answers, on=on, by_whom=who),
            finish=finish,
        )

    def _answers(
        self, held: Held, answers: Mapping[str, object], *, on: date, by_whom: str
    ) -> tuple[AnswerStep, ...] | Said:
        done, faults = set(lines_of(answers, "done")), set(lines_of(answers, "faults"))
        wrong, rest = text(answers, "wrong"), choice(answers, "rest")
        if faults and not wrong:
            return Said(self._text(msg("Say it in a few words.")), "wrong")
        found: list[AnswerStep] = []
        for line in held.lines:
            plain = AnswerStep(run_id=0, place=line.place, day=on, by_whom=by_whom)
            if line.key in faults or line.key in done:
                measured = self._measured(line, answers)
                if isinstance(measured, Said):
                    return measured
                plain = replace(plain, measured=measured)
            elif typed := self._typed(line, answers):
                said = msg("A figure stands at a step that is not ticked. Tick it, or clear it.")
                return Said(self._text(said), next(iter(typed)))
            if line.key in faults:
                found.append(replace(plain, answer=StepAnswer.FAULT, text=wrong))
            elif line.key in done:
                found.append(plain)
            elif rest == StepAnswer.CANNOT:
                why = self._text(msg("put off on sheet {number}"), number=str(held.number))
                title = line.title.split("  ", 1)[-1]
                found.append(replace(plain, answer=StepAnswer.CANNOT, why=why, text=title))
            elif rest == StepAnswer.NOT_APPLICABLE:
                found.append(replace(plain, answer=StepAnswer.NOT_APPLICABLE))
        return tuple(found)

    def _measured(
        self, line: OpenLine, answers: Mapping[str, object]
    ) -> tuple[tuple[int, Measured], ...] | Said:
        start, typed = f"figure {line.key} ", self._typed(line, answers)
        if self.settings is None or not typed:
            return ()
        reader = FigureReader(asked=Asked(words=self.said.words, settings=self.settings), sure=True)
        read = reader.read({name.removeprefix(start): value for name, value in typed.items()})
        return Said(read.text, f"{start}{read.field}") if isinstance(read, Said) else read

    def _typed(self, line: OpenLine, answers: Mapping[str, object]) -> dict[str, str]:
        """The figures that were typed at a line, by their fields."""
        start = f"figure {line.key} "
        given = {name: text(answers, name) for name in answers if name.startswith(start)}
        return {name: value for name, value in given.items() if value}

    def _minutes(self, answers: Mapping[str, object]) -> int | Said | None:
        typed = text(answers, "minutes")
        if not typed:
            return None
        if typed.isascii() and typed.isdecimal() and len(typed) < 6:
            minutes = int(typed)
            if minutes <= LONGEST_MINUTES:
                return minutes
        return Said(self._text(msg("Type whole minutes, like 90.")), "minutes")

    def _renewed(self, held: Held, answers: Mapping[str, object]) -> tuple[Renewed, ...]:
        lines = {line.key: line for line in held.lines}
        done = set(lines_of(answers, "done"))
        found: list[Renewed] = []
        for value in lines_of(answers, "parts"):
            key, task, part, quantity = value.split(" ")
            if key in done:
                number = int(lines[key].machine_ids[0])
                found.append(
                    Renewed(machine_id=number, task=task, part=part, quantity=int(quantity))
                )
        return tuple(found)

    def _work(
        self, held: Held, answers: Mapping[str, object], *, on: date, by_whom: str
    ) -> tuple[RecordWork, ...]:
        wanted = set(lines_of(answers, "gone"))
        return tuple(
            RecordWork(
                machine_id=step.machine_id,
                day=on,
                by_whom=by_whom,
                lines=tuple(LineGiven(task=TaskCode(task)) for task in step.tasks),
            )
            for key, step in held.gone
            if key in wanted
        )

    def _finish(
        self, held: Held, answers: Mapping[str, object], *, on: date, by_whom: str
    ) -> FinishRun:
        """The act that ends the run, with what is off or open by the steps that were done."""
        done = set(lines_of(answers, "done")) - set(lines_of(answers, "faults"))
        off = codes_of(self._loose, held.machine_ids)
        for line in held.lines if held.sort is RunSort.PUTTING_AWAY else ():
            for number in line.machine_ids if line.key in done else ():
                left = [code for code in off[number] if code not in line.puts_back]
                off[number] = [*left, *(code for code in line.leaves if code not in left)]
        return FinishRun(
            run_id=0,
            day=on,
            by_whom=by_whom,
            off_or_open=tuple(
                (int(number), ", ".join(self.said.left(code) for code in codes))
                for number, codes in off.items()
                if codes
            ),
            jobs=tuple(jobs_after(self._row, held.sort, held.machine_ids, self.said)),
            note=text(answers, "note"),
        )


def codes_of(
    loose: Sequence[LeftOffFacts], numbers: Sequence[MachineId]
) -> dict[MachineId, list[LeftCode]]:
    """What is off or open at these machines before the sheet."""
    found: dict[MachineId, list[LeftCode]] = {number: [] for number in numbers}
    for one in loose:
        if one.machine_id in found:
            found[one.machine_id].append(one.code)
    return found
