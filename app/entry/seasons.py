"""Forms for a place's own year: when a type of machine works there, how warm each month is."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from datetime import date
from fractions import Fraction

from babel.dates import get_month_names

from app.entry.questions import Made, Questions, Wish
from app.pieces.asked import Said, choice, text
from app.pieces.form import Field, FieldSort
from app.wording.languages import msg
from app.wording.wording import Wording
from models.acts.places import MonthWeather, RemovePlace, SetSeasons, SetWeather
from models.facts.places import OwnMonth, PlaceFacts
from models.facts.settings import HouseholdSettings
from resources.loader import Catalogue
from schedules.facts import KindCode, MonthDay, Window
from schedules.seasons import windows_of
from schedules.units import Dimension, Quantity, Unit, UnitRefusedError, parse_amount

USUAL, OWN, NEVER = "usual", "own", "never"
MONTHS = range(1, 13)
LEAP_YEAR = 2000
ENDS = (("first", msg("From")), ("last", msg("to")))


class Year:
    """Makes the forms for the year of a place, and the acts of their answers."""

    def __init__(self, *, words: Wording, catalogue: Catalogue) -> None:
        self.words = words
        self.catalogue = catalogue
        self.ask = Questions(words)

    def ways(self, place: PlaceFacts, onward: Mapping[str, Callable[[], Wish]]) -> Wish:
        """What can be said of a place: ways onward."""
        words = self.words
        ways = (
            ("change", words.text(msg("Name, climate, shelter…"))),
            ("seasons", words.text(msg("When a type of machine works there…"))),
            ("weather", words.text(msg("How warm each month is…"))),
            ("remove", words.text(msg("It is no place of ours: take it out"))),
        )
        page = self.ask.ways("about_place", msg("The place"), ways, lead=place.name)

        def make(answers: Mapping[str, object]) -> Made:
            way = choice(answers, "way")
            if way == "remove":
                return RemovePlace(place_id=place.place_id)
            return onward[way]()

        return Wish(page, make)

    # -- seasons -------------------------------------------------------------------------------

    def seasons(self, place: PlaceFacts, used: Iterable[KindCode]) -> Wish:
        """Which type, and then its season; types of this household come first."""
        words, first = self.words, set(used)
        kinds = sorted(
            self.catalogue.kinds, key=lambda code: (code not in first, words.kind(code).casefold())
        )
        page = self.ask.ways(
            "seasons",
            msg("When a type of machine works there"),
            tuple((str(code), words.kind(code)) for code in kinds),
            lead=place.name,
            details={str(code): self._said(place, code) for code in kinds},
        )

        def make(answers: Mapping[str, object]) -> Made:
            return self._season(place, KindCode(choice(answers, "way")))

        return Wish(page, make)

    def _said(self, place: PlaceFacts, code: KindCode) -> str:
        """The windows in force there, in words."""
        words, own = self.words, place.own_windows(code)
        windows = windows_of(self.catalogue.kinds[code].windows, own, south=place.south)
        if not windows:
            return words.text(msg("no season there") if own is not None else msg("kept ready"))
        spans = [
            words.text(
                msg("{first} to {last}"),
                first=words.day_short(_in_a_year(window.first)),
                last=words.day_short(_in_a_year(window.last)),
            )
            for window in windows
        ]
        whose = msg("{spans} (your own)") if own is not None else msg("{spans}")
        return words.text(whose, spans=words.listed(spans))

    def _season(self, place: PlaceFacts, code: KindCode) -> Wish:
        words, own = self.words, place.own_windows(code)
        windows = windows_of(self.catalogue.kinds[code].windows, own, south=place.south)
        now = USUAL if own is None else OWN if own else NEVER
        ways = (
            (USUAL, words.text(msg("as usual"))),
            (OWN, words.text(msg("in these days"))),
            (NEVER, words.text(msg("never there"))),
        )
        fields = [
            self.ask.field("how", msg("It works"), FieldSort.TILES, choices=ways, default=now)
        ]
        for number in (1, 2):
            window = windows[number - 1] if len(windows) >= number else None
            fields += self._window_fields(number, window)
        page = self.ask.page(
            "season",
            msg("When it works there"),
            tuple(fields),
            lead=words.text(
                msg("{kind} at {place}: {season}."),
                kind=words.kind(code),
                place=place.name,
                season=self._said(place, code),
            ),
        )

        def make(answers: Mapping[str, object]) -> Made:
            how = choice(answers, "how")
            found: tuple[Window, ...] | None = None if how == USUAL else ()
            if how == OWN:
                read = self._windows(answers)
                if isinstance(read, Said):
                    return read
                found = read
            return SetSeasons(place_id=place.place_id, kind=code, windows=found)

        return Wish(page, make)

    def _window_fields(self, number: int, window: Window | None) -> list[Field]:
        """From a day of a month to another; the second pair can wait."""
        names = get_month_names("wide", locale=self.words.language)
        months = [("", self.words.text(msg("not known")))] if number > 1 else []
        months += [(str(month), str(names[month])) for month in MONTHS]
        fields: list[Field] = []
        for end, label in ENDS:
            at = None if window is None else window.first if end == "first" else window.last
            said = label if number == 1 else msg("And again from") if end == "first" else label
            fields += [
                self.ask.field(
                    f"{end}_day_{number}",
                    said,
                    FieldSort.TEXT,
                    default="" if at is None else str(at.day),
                    placeholder=self.words.text(msg("day of the month")),
                    later=number > 1 and window is None,
                ),
                self.ask.field(
                    f"{end}_month_{number}",
                    msg("in"),
                    FieldSort.CHOICE,
                    choices=tuple(months),
                    default="" if at is None else str(at.month),
                    later=number > 1 and window is None,
                ),
            ]
        return fields

    def _windows(self, answers: Mapping[str, object]) -> tuple[Window, ...] | Said:
        found: list[Window] = []
        for number in (1, 2):
            ends: list[MonthDay] = []
            for end, _ in ENDS:
                typed = text(answers, f"{end}_day_{number}")
                month = choice(answers, f"{end}_month_{number}")
                if number > 1 and not typed:
                    continue
                if not (typed.isascii() and typed.isdecimal() and len(typed) <= 2 and month):
                    wanted = msg("A season wants a day and a month, like 15 November.")
                    return Said(self.words.text(wanted), f"{end}_day_{number}")
                ends.append(MonthDay(int(month), int(typed)))
            if len(ends) == 1:
                wanted = msg("A season wants its first and its last day.")
                return Said(self.words.text(wanted), f"first_day_{number}")
            if ends:
                found.append(Window(ends[0], ends[1]))
        return tuple(found)

    # -- temperatures --------------------------------------------------------------------------

    def _degrees(self, mean_mc: int) -> str:
        return self.words.quantity(Quantity(Fraction(mean_mc), Unit.MILLIDEGREE_CELSIUS))

    def weather(
        self, place: PlaceFacts, own: Mapping[int, OwnMonth], settings: HouseholdSettings
    ) -> Wish:
        """The mean of each month outdoors; emptied, it is as in the place's climate again. `own`:
        the months that were set."""
        words = self.words
        names = get_month_names("wide", locale=words.language)
        fields = tuple(
            self.ask.field(
                f"month_{month}",
                str(names[month]),
                FieldSort.TEXT,
                default=self._degrees(own[month].mean_mc) if month in own else "",
                placeholder=self._degrees(place.month_means_mc[month - 1]),
            )
            for month in MONTHS
        )
        page = self.ask.page(
            "weather",
            msg("How warm each month is"),
            fields,
            lead=words.text(
                msg(
                    "{place}: the mean of each month outdoors. Months left empty are as in its "
                    "climate. It decides how fast fuel ages."
                ),
                place=place.name,
            ),
        )

        def make(answers: Mapping[str, object]) -> Made:
            months: list[MonthWeather] = []
            for month in MONTHS:
                typed = text(answers, f"month_{month}")
                if not typed:
                    continue
                try:
                    mean = parse_amount(
                        typed,
                        Dimension.TEMPERATURE,
                        system=settings.unit_system,
                        decimal_comma=False,
                    )
                except UnitRefusedError as refused:
                    return Said(words.amount_refused(refused), f"month_{month}")
                months.append(_month(month, mean.stored, own.get(month)))
            return SetWeather(place_id=place.place_id, months=tuple(months))

        return Wish(page, make)


def _month(month: int, mean_mc: int, before: OwnMonth | None) -> MonthWeather:
    """With its coldest and warmest as they were, as long as the mean lies between them."""
    low = None if before is None else before.low_mc
    high = None if before is None else before.high_mc
    return MonthWeather(
        month=month,
        mean_mc=mean_mc,
        low_mc=low if low is None or low <= mean_mc else None,
        high_mc=high if high is None or high >= mean_mc else None,
    )


def _in_a_year(at: MonthDay) -> date:
    return date(LEAP_YEAR, at.month, at.day)
