"""The form that corrects an entry: what was entered stays, and what is true takes its place."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from datetime import date
from fractions import Fraction

from app.entry.amend import Amend
from app.entry.forms import Forms
from app.entry.questions import Made, Wish
from app.pieces.asked import Said
from app.pieces.form import Field, FieldSort, FormPage
from app.wording.languages import msg
from app.wording.units import reading_unit
from app.wording.wording import Wording
from models.acts.corrections import CorrectEntry, StrikeEntry
from models.acts.fuel import (
    AddOil,
    Drain,
    Fill,
    FuelAct,
    LookAtFuel,
    Pour,
    SetLevel,
    Stabilise,
    TopUp,
)
from models.acts.hours import ReadHours
from models.acts.readings import Measure
from models.acts.uses import LogUse
from models.acts.work import RecordWork
from models.changes import Area
from models.errors import Refused, RefusedCode
from models.facts.records import RecordedEntry
from models.facts.settings import HouseholdSettings
from schedules.facts import LimitCode
from schedules.plan import Judging
from schedules.units import Quantity, Unit, entry_text

_ACTS = (
    Measure,
    ReadHours,
    LogUse,
    RecordWork,
    Fill,
    TopUp,
    Pour,
    Drain,
    Stabilise,
    LookAtFuel,
    AddOil,
    SetLevel,
)
STRIKE = "strike"


class Corrections:
    """Makes the form for one entry of the machine that is chosen."""

    def __init__(
        self,
        *,
        forms: Forms,
        words: Wording,
        settings: HouseholdSettings,
        again: Callable[[RecordedEntry], RecordWork | FuelAct | None],
    ) -> None:
        self.forms = forms
        self.again = again
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
        return Wish(self._page(page), self._maker(entry, page, make))

    def _page(self, page: FormPage) -> FormPage:
        words = self.words
        if not page.fields:
            return replace(
                page,
                key="correct",
                title=words.text(msg("Strike an entry out")),
                lead=words.text(
                    msg("It will not count any more. Then enter what is true as a new entry.")
                ),
                done=words.text(msg("Strike it out")),
            )
        strike = Field(
            name=STRIKE,
            label=words.text(msg("This never happened: strike it out")),
            sort=FieldSort.YES,
        )
        return replace(
            page,
            key="correct",
            title=words.text(msg("Correct an entry")),
            lead=words.text(msg("What was entered first is kept beside it.")),
            fields=(*page.fields, strike),
        )

    @staticmethod
    def _maker(
        entry: RecordedEntry, page: FormPage, make: Callable[[Mapping[str, object]], Made]
    ) -> Callable[[Mapping[str, object]], Made]:
        untouched = page.given()

        def made(answers: Mapping[str, object]) -> Made:
            if answers.get(STRIKE):
                return StrikeEntry(area=entry.area, entry_id=entry.entry_id)
            if untouched and all(answers.get(name) == it for name, it in untouched.items()):
                return Refused(RefusedCode.NOTHING_CHANGED)
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
                shown = _hours(entry.shown)
                fields = forms.hours_fields(day, shown, entry.note, correcting=True)
                page = self._of("hours", fields)
                return page, lambda answers: forms.made_hours(answers, judging, settings)
            case Area.USES:
                fields = forms.use_fields(
                    day, _hours(entry.run), str(entry.count), str(entry.outcome or ""), entry.note
                )
                page = self._of("use", fields)
                return page, lambda answers: forms.made_use(answers, judging, settings)
            case Area.WORK | Area.FUEL:
                return self._again(entry, judging)
            case Area.READINGS:
                return self._reading(entry, judging, day)
            case _:
                return None, None

    def _again(
        self, entry: RecordedEntry, judging: Judging
    ) -> tuple[FormPage, Callable[[Mapping[str, object]], Made]]:
        """A record of work or fuel with all that hangs on it; else it can be struck out."""
        act = self.again(entry)
        amend = Amend(words=self.words, settings=self.settings)
        match act:
            case RecordWork():
                seconds = act.shown_seconds
                read = None if seconds is None else Quantity(Fraction(seconds), Unit.SECOND)
                return amend.work(act, judging, _hours(read))
            case None:
                return self._of("strike", ()), lambda _answers: StrikeEntry(
                    area=entry.area, entry_id=entry.entry_id
                )
            case _:
                volume = entry.volume_ul
                typed = "" if volume is None else _typed(volume, Unit.MICROLITRE, self.words)
                return amend.fuel(act, typed)

    def _reading(
        self, entry: RecordedEntry, judging: Judging, day: date
    ) -> tuple[FormPage, Callable[[Mapping[str, object]], Made]]:
        key = f"{entry.task_code}|{entry.limit_code}"
        limit = self.forms.catalogue.limits[LimitCode(entry.limit_code)]
        choice = (key, self.words.limit(limit.code))
        found = "" if entry.amount is None else _typed(entry.amount, limit.unit, self.words)
        if entry.seen is not None:
            found = self.words.text(msg("yes")) if entry.seen else self.words.text(msg("no"))
        fields = self.forms.measure_fields(
            (choice,),
            day,
            (),
            found=found,
            side=entry.side,
            after_work=entry.after_work,
            note=entry.note,
        )

        def make(answers: Mapping[str, object]) -> Made:
            return self.forms.made_measure(answers, judging, self.settings)

        return self._of("measure", fields), make

    def _of(self, key: str, fields: tuple[Field, ...]) -> FormPage:
        return FormPage(
            key=key,
            title="",
            fields=fields,
            done=self.words.text(msg("Save")),
            cancel=self.words.text(msg("Cancel")),
            later=self.words.text(msg("More")),
        )


def _hours(run: Quantity | None) -> str:
    """Run time as it can be typed: hours, else minutes, else seconds, whatever comes out even."""
    if run is None:
        return ""
    for unit, seconds in ((Unit.HOUR, 3600), (Unit.MINUTE, 60)):
        try:
            return entry_text(run.amount / seconds, unit, decimal_comma=False)
        except ValueError:
            continue
    return entry_text(run.amount, Unit.SECOND, decimal_comma=False)


def _typed(amount: int, unit: Unit, words: Wording) -> str:
    """A measurement in the unit the household reads, or as it is stored when that is not even."""
    shown, read = reading_unit(Fraction(amount), unit, words.units)
    try:
        return entry_text(shown, read, decimal_comma=False)
    except ValueError:
        return entry_text(Fraction(amount), unit, decimal_comma=False)
