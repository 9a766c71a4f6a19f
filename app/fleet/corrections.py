"""The form that corrects an entry: what was entered stays, and what is true takes its place."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from datetime import date

from app.fleet.forms import Forms
from app.fleet.fuel_forms import fuel_page, made_fuel
from app.fleet.questions import Made, Wish
from app.pieces.asked import Said
from app.pieces.form import Field, FieldSort, FormPage
from app.wording.languages import msg
from app.wording.wording import Wording
from models.acts.corrections import CorrectEntry, StrikeEntry
from models.acts.fuel import Drain, Fill, LookAtFuel, SetLevel, Stabilise
from models.acts.hours import ReadHours
from models.acts.readings import Measure
from models.acts.uses import LogUse
from models.acts.work import RecordWork
from models.changes import Area
from models.facts.records import RecordedEntry
from models.facts.settings import HouseholdSettings
from schedules.facts import LimitCode
from schedules.plan import Judging
from schedules.units import Quantity, Unit, entry_text, from_stored

_ACTS = (RecordWork, Measure, ReadHours, LogUse, Fill, Drain, Stabilise, LookAtFuel, SetLevel)
STRIKE = "strike"


class Corrections:
    """Makes the form for one entry of the machine that is chosen."""

    def __init__(self, *, forms: Forms, words: Wording, settings: HouseholdSettings) -> None:
        self.forms = forms
        self.words = words
        self.settings = settings

    def begin(self, entry: RecordedEntry, judging: Judging) -> Wish | Said:
        """The form for an entry, filled in with what was entered."""
        if entry.superseded:
            said = msg("This was corrected already. Correct the entry that took its place.")
            return Said(self.words.text(said), "")
        page, make = self._asked(entry, judging)
        if page is None or make is None:
            said = msg("Storage is put right by putting it away or getting it out again.")
            return Said(self.words.text(said), "")
        return Wish(self._page(page), self._maker(entry, make))

    def _page(self, page: FormPage) -> FormPage:
        strike = Field(
            name=STRIKE,
            label=self.words.text(msg("This never happened: strike it out")),
            sort=FieldSort.YES,
        )
        return replace(
            page,
            key="correct",
            title=self.words.text(msg("Correct an entry")),
            lead=self.words.text(msg("What was entered first is kept beside it.")),
            fields=(strike, *page.fields),
        )

    @staticmethod
    def _maker(
        entry: RecordedEntry, make: Callable[[Mapping[str, object]], Made]
    ) -> Callable[[Mapping[str, object]], Made]:
        def made(answers: Mapping[str, object]) -> Made:
            if answers[STRIKE]:
                return StrikeEntry(area=entry.area, entry_id=entry.entry_id)
            by = make(answers)
            if isinstance(by, _ACTS):
                return CorrectEntry(entry_id=entry.entry_id, by=by)
            return by

        return made

    def _asked(
        self, entry: RecordedEntry, judging: Judging
    ) -> tuple[FormPage | None, Callable[[Mapping[str, object]], Made] | None]:
        forms, settings, day = self.forms, self.settings, entry.day
        match entry.area:
            case Area.HOURS:
                page = self._of("hours", forms.hours_fields(day, _hours(entry.shown), entry.note))
                return page, lambda answers: forms.made_hours(answers, judging, settings)
            case Area.USES:
                fields = forms.use_fields(
                    day, _hours(entry.run), str(entry.count), str(entry.outcome or ""), entry.note
                )
                page = self._of("use", fields)
                return page, lambda answers: forms.made_use(answers, judging, settings)
            case Area.WORK:
                codes = tuple(line.task_code for line in entry.lines if line.task_code)
                outcome = str(entry.lines[0].outcome) if entry.lines else ""
                page = self._of("work", forms.work_fields(judging, day, codes, outcome))
                return page, lambda answers: forms.made_work(answers, judging, settings)
            case Area.READINGS:
                return self._reading(entry, judging, day)
            case Area.FUEL:
                page = fuel_page(judging.facts.vessels, day, self.words)
                return page, lambda answers: made_fuel(answers, settings, self.words)
            case _:
                return None, None

    def _reading(
        self, entry: RecordedEntry, judging: Judging, day: date
    ) -> tuple[FormPage, Callable[[Mapping[str, object]], Made]]:
        key = f"{entry.task_code}|{entry.limit_code}"
        limit = self.forms.catalogue.limits[LimitCode(entry.limit_code)]
        choice = (key, self.words.limit(limit.code))
        found = "" if entry.amount is None else _typed(entry.amount, limit.unit)
        if entry.seen is not None:
            found = self.words.text(msg("yes")) if entry.seen else self.words.text(msg("no"))
        fields = tuple(
            replace(field, default=found) if field.name == "found" else field
            for field in self.forms.measure_fields((choice,), day, ())
        )

        def make(answers: Mapping[str, object]) -> Made:
            return self.forms.made_measure(answers, judging, self.settings)

        return self._of("measure", fields), make

    def _of(self, key: str, fields: tuple[Field, ...]) -> FormPage:
        return FormPage(
            key=key,
            title="",
            fields=fields,
            done=self.words.text(msg("Keep it")),
            cancel=self.words.text(msg("Leave it")),
        )


def _hours(run: Quantity | None) -> str:
    return "" if run is None else entry_text(run.amount / 3600, Unit.HOUR, decimal_comma=False)


def _typed(amount: int, unit: Unit) -> str:
    return entry_text(from_stored(amount, unit), unit, decimal_comma=False)
