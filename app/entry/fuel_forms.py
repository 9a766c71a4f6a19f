"""The form for what happened to the fuel of a machine: one page, four taps."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from datetime import date

from app.entry.danger import danger_of
from app.entry.missing import about_missing
from app.entry.questions import Made, Questions, Wish
from app.pieces.asked import Said, choice, day, text
from app.pieces.form import Field, FieldSort, FormPage
from app.wording.languages import msg
from app.wording.wording import Wording
from models.acts.fuel import AddOil, Drain, Fill, LookAtFuel, Refill, SetLevel, Stabilise
from models.facts.settings import HouseholdSettings
from schedules.facts import FuelSort, FuelUse, Gone, Look, VesselFacts
from schedules.units import Dimension, Typed, UnitRefusedError, parse_amount

FILL, STALE, DRAIN, LEVEL, TREAT = "fill", "found", "drain", "level", "treat"
OIL = "oil"
REFILL = "refill"
GONE = {
    DRAIN: Gone.DRAINED,
    "burnt": Gone.BURNT,
    "spilled": Gone.SPILLED,
    "disposed": Gone.DISPOSED,
}
LOOKS = {f"look-{look}": look for look in Look}
_PETROL = (FuelSort.UNKNOWN, FuelSort.E5, FuelSort.E10, FuelSort.E0, FuelSort.ALKYLATE)
_MIX = (FuelSort.PREMIX, FuelSort.PREMIX_ALKYLATE)


def fuel_page(
    vessels: tuple[VesselFacts, ...], today: date, words: Wording, *, doing: str = FILL
) -> FormPage:
    """What happened to the fuel, in which vessel, when and how much. `doing`: what most likely."""
    doings = (
        (FILL, words.text(msg("filled or topped up with fresh"))),
        (REFILL, words.text(msg("emptied, and filled with fresh"))),
        (DRAIN, words.text(msg("drained or taken out"))),
        (LEVEL, words.text(msg("this much is in it now, by eye"))),
        (TREAT, words.text(msg("added stabiliser"))),
        ("burnt", words.text(msg("burnt by running"))),
        ("spilled", words.text(msg("spilled"))),
        ("disposed", words.text(msg("taken to a collection point"))),
        (OIL, words.text(msg("added two-stroke oil"))),
        (STALE, words.text(msg("put in old fuel, nobody knows how old"))),
        (f"look-{Look.SHARP_CLEAR}", words.text(msg("looked: clear, and smells sharp"))),
        (f"look-{Look.SOUR_OR_DARK}", words.text(msg("looked: dark, or smells sour"))),
        (f"look-{Look.LAYERS}", words.text(msg("looked: cloudy, or water below"))),
    )
    sorts = sort_choices({vessel.burns for vessel in vessels}, words)
    where = tuple(
        (str(vessel.vessel_id), f"{vessel.name}, {words.word(vessel.sort)}") for vessel in vessels
    )

    def field(name: str, label: str, sort: FieldSort, **more: object) -> Field:
        return Field(name=name, label=words.text(label), sort=sort, **more)  # type: ignore[arg-type]  # the fields of a field

    return FormPage(
        key="fuel",
        title=words.text(msg("Fuel")),
        fields=(
            field("vessel", msg("Which tank or bowl"), FieldSort.CHOICE, choices=where),
            field("doing", msg("What happened"), FieldSort.CHOICE, choices=doings, default=doing),
            field("day", msg("Day"), FieldSort.DAY, default=today),
            field(
                "volume",
                msg("How much"),
                FieldSort.TEXT,
                hint=words.text(msg("Leave it empty for full, or for all of it.")),
            ),
            field("sort", msg("What sort, when fuel went in"), FieldSort.CHOICE, choices=sorts),
            field("treated", msg("Stabiliser went in with it"), FieldSort.YES),
            field("note", msg("Note"), FieldSort.NOTE),
        ),
        done=words.text(msg("Save")),
        cancel=words.text(msg("Cancel")),
    )


def sort_choices(burns: set[FuelUse], words: Wording) -> tuple[tuple[str, str], ...]:
    """The sorts of fuel to pick from, those that engines of that kind burn in front."""
    first = _PETROL
    if burns == {FuelUse.TWO_STROKE}:
        first = _MIX
    elif burns == {FuelUse.DIESEL}:
        first = (FuelSort.DIESEL,)
    rest = tuple(sort for sort in FuelSort if sort not in first)
    petrol = first == _PETROL
    return tuple((str(sort), sort_said(sort, words, petrol=petrol)) for sort in (*first, *rest))


def sort_said(sort: FuelSort, words: Wording, *, petrol: bool) -> str:
    """A sort in words. `petrol`: it went into something that burns petrol, so that much of a fuel
    that nobody named is known."""
    if sort is FuelSort.UNKNOWN and petrol:
        return words.text(msg("petrol, alcohol not known"))
    return words.word(sort)


def made_fuel(
    answers: Mapping[str, object],
    vessels: tuple[VesselFacts, ...],
    settings: HouseholdSettings,
    words: Wording,
    *,
    reckoned: Callable[[VesselFacts, date], int | None],
) -> Made:
    """The act the answers come to, or what is to be asked first: what is dangerous to the engine
    is answered twice. `reckoned`: what a vessel's machine burnt by its hours up to a day."""
    made = _made(answers, settings, words)
    if isinstance(made, Said):
        return made
    about = made.fill if isinstance(made, Refill) else made
    one = next(each for each in vessels if int(each.vessel_id) == about.vessel_id)
    if isinstance(made, SetLevel):
        ran = reckoned(one, made.day)
        return about_missing(made, one, one.name, words, reckoned_ul=ran)
    sorts = (about.sort,) if isinstance(about, Fill) else ()
    if isinstance(made, AddOil):
        sorts = (FuelSort.PREMIX,)
    danger = danger_of(sorts, one, one.name, words)
    if not danger:
        return made
    page = replace(
        Questions(words).page("sure", msg("Are you sure?"), (), lead=danger),
        done=words.text(msg("It happened: keep it")),
    )
    return Wish(page, lambda _answers: made)


_Entered = Fill | Refill | Drain | Stabilise | LookAtFuel | AddOil | SetLevel


def _made(
    answers: Mapping[str, object], settings: HouseholdSettings, words: Wording
) -> _Entered | Said:
    volume = typed_volume(text(answers, "volume"), settings, words)
    if isinstance(volume, Said):
        return volume
    vessel, when, note = int(choice(answers, "vessel")), day(answers, "day"), text(answers, "note")
    doing = choice(answers, "doing")
    stored = None if volume is None else volume.stored
    if doing in LOOKS:
        return LookAtFuel(vessel_id=vessel, day=when, look=LOOKS[doing], note=note)
    match doing:
        case _ if doing in GONE:
            gone = GONE[doing]
            return Drain(
                vessel_id=vessel, day=when, volume_ul=stored, typed=volume, gone=gone, note=note
            )
        case "oil":
            if volume is None:
                return Said(words.text(msg("Say how much oil it was, like 100 ml.")), "volume")
            return AddOil(
                vessel_id=vessel, day=when, volume_ul=volume.stored, typed=volume, note=note
            )
        case "treat":
            return Stabilise(vessel_id=vessel, day=when, note=note)
        case "level":
            if volume is None:
                return Said(words.text(msg("Say how much is in it, like 2 L.")), "volume")
            return SetLevel(
                vessel_id=vessel, day=when, volume_ul=volume.stored, typed=volume, note=note
            )
        case _:
            fill = Fill(
                vessel_id=vessel,
                day=when,
                sort=FuelSort(choice(answers, "sort")),
                volume_ul=stored,
                typed=volume,
                to_brim=volume is None,
                age_known=doing != STALE,
                stabilised=bool(answers["treated"]),
                note=note,
            )
            return Refill(fill=fill) if doing == REFILL else fill


def typed_volume(typed: str, settings: HouseholdSettings, words: Wording) -> Typed | Said | None:
    """A volume as typed; None when nothing was typed."""
    if not typed:
        return None
    try:
        return parse_amount(
            typed,
            Dimension.VOLUME,
            system=settings.unit_system,
            decimal_comma=False,
            implied=dict(settings.units).get(Dimension.VOLUME),
        )
    except UnitRefusedError as refused:
        like = words.text(msg("Like {amount}."), amount=words.litres(1_000_000))
        return Said(f"{words.amount_refused(refused)} {like}", "volume")
