"""What all forms are made of: pages and fields in the household's words."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date
from typing import TypeAlias

from app.pieces.asked import Said
from app.pieces.form import Field, FieldSort, FormPage
from app.wording.languages import msg
from app.wording.wording import Wording
from models.changes import Changes
from models.errors import Refused, RefusedCode
from models.writer import Act

# The start of the name of a step that leads to a storage sheet; its number follows.
STORAGE_SHEET = "storage_sheet-"
# The start of the name of a step that leads to why a machine will not start; what was said of its
# rest follows.
FIND_WHY = "find_why-"
FIELD_NAMES = {
    "shown_seconds": "shown",
    "run_seconds": "run",
    "on": "day",
    "put_away_on": "day",
    "since_on": "day",
}


@dataclass(frozen=True, slots=True)
class Step:
    """The answer leads on: to the form or the place of the program of that name, about a machine
    (0: the one that is shown)."""

    name: str
    machine_id: int = 0


_DOUBTS = frozenset(
    {
        RefusedCode.READING_TWICE,
        RefusedCode.READING_OF_INCHES,
        RefusedCode.READING_TEN_TIMES,
        RefusedCode.READING_FAR,
        RefusedCode.READING_WORN_BEFORE,
        RefusedCode.READING_WRONG_WAY,
    }
)


@dataclass(frozen=True, slots=True)
class Wish:
    """A form that is open: its page, and how its answers become an act, or another form.

    `then`: the form that follows when it was kept; `step`: where it leads instead; `said`: what
    is told then.
    """

    page: FormPage
    make: Callable[[Mapping[str, object]], Made]
    then: Callable[[Changes], Wish | None] | None = None
    said: str = ""
    step: str = ""

    def field_of(self, refused: Refused) -> str:
        """The field a refusal stands beside; "" for the foot of the form."""
        named = dict(refused.values).get("field")
        if isinstance(named, str):
            return FIELD_NAMES.get(named, named)
        names = {field.name for field in self.page.fields}
        if refused.code in _DOUBTS and "sure" in names:
            return "sure"  # which folds open what holds the tick it speaks of
        return "shown" if "shown" in names else ""


Made: TypeAlias = Act | Refused | Said | Step | Wish


@dataclass(frozen=True, slots=True)
class Questions:
    """Makes pages and fields."""

    words: Wording

    def page(self, key: str, title: str, fields: tuple[Field, ...], *, lead: str = "") -> FormPage:
        """A page with our two buttons."""
        words = self.words
        return FormPage(
            key=key,
            title=words.text(title),
            lead=lead,
            fields=fields,
            done=words.text(msg("Save")),
            cancel=words.text(msg("Cancel")),
            later=words.text(msg("More")),
        )

    def ways(
        self,
        key: str,
        title: str,
        ways: tuple[tuple[str, str], ...],
        *,
        lead: str = "",
        details: Mapping[str, str] | None = None,
    ) -> FormPage:
        """A page that is answered by pressing one of its ways onward; all in words already."""
        words = self.words
        way = Field(
            name="way",
            label=words.text(title),
            sort=FieldSort.PICK,
            choices=ways,
            details=details or {},
        )
        return FormPage(
            key=key,
            title=words.text(title),
            lead=lead,
            fields=(way,),
            done="",
            cancel=words.text(msg("Not now")),
        )

    def field(self, name: str, label: str, sort: FieldSort, **more: object) -> Field:
        """One question."""
        return Field(name=name, label=self.words.text(label), sort=sort, **more)  # type: ignore[arg-type]  # the fields of a field

    def day(self, today: date, label: str = msg("Day")) -> Field:
        """On which day."""
        return self.field("day", label, FieldSort.DAY, default=today)

    def note(self) -> Field:
        """Whatever else there is to say."""
        return self.field("note", msg("Note"), FieldSort.NOTE)
