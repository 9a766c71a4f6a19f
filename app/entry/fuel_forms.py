"""The form for what happened to the fuel of a machine: one page, four taps."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from app.pieces.asked import Said, choice, day, text
from app.pieces.form import Field, FieldSort, FormPage
from app.wording.languages import msg
from app.wording.wording import Wording
from models.acts.fuel import Drain, Fill, LookAtFuel, SetLevel, Stabilise
from models.facts.settings import HouseholdSettings
from models.writer import Act
from schedules.facts import FuelSort, FuelUse, Look, VesselFacts
from schedules.units import Dimension, Typed, UnitRefusedError, parse_amount

FILL, STALE, DRAIN, LEVEL, TREAT = "fill", "found", "drain", "level", "treat"
LOOKS = {f"look-{look}": look for look in Look}
_PETROL = (FuelSort.E0, FuelSort.E5, FuelSort.E10, FuelSort.ALKYLATE)
_MIX = (FuelSort.PREMIX, FuelSort.PREMIX_ALKYLATE)


def fuel_page(vessels: tuple[VesselFacts, ...], today: date, words: Wording) -> FormPage:
    """What happened to the fuel, in which vessel, when and how much."""
    doings = (
        (FILL, words.text(msg("filled or topped up with fresh"))),
        (DRAIN, words.text(msg("drained: all of it is out"))),
        (LEVEL, words.text(msg("this much is in it now, by eye"))),
        (TREAT, words.text(msg("added stabiliser"))),
        (STALE, words.text(msg("put in old fuel, nobody knows how old"))),
        (f"look-{Look.SHARP_CLEAR}", words.text(msg("looked: clear, and smells sharp"))),
        (f"look-{Look.SOUR_OR_DARK}", words.text(msg("looked: dark, or smells sour"))),
        (f"look-{Look.LAYERS}", words.text(msg("looked: cloudy, or water below"))),
    )
    burns = {vessel.burns for vessel in vessels}
    first = _MIX if burns == {FuelUse.TWO_STROKE} else _PETROL
    sorts = tuple((str(sort), words.word(sort)) for sort in (*first, *_rest(first)))
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
            field("doing", msg("What happened"), FieldSort.CHOICE, choices=doings),
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


def _rest(first: tuple[FuelSort, ...]) -> tuple[FuelSort, ...]:
    return tuple(sort for sort in FuelSort if sort not in first)


def made_fuel(
    answers: Mapping[str, object], settings: HouseholdSettings, words: Wording
) -> Act | Said:
    """The act the answers come to."""
    volume = typed_volume(text(answers, "volume"), settings, words)
    if isinstance(volume, Said):
        return volume
    vessel, when, note = int(choice(answers, "vessel")), day(answers, "day"), text(answers, "note")
    doing = choice(answers, "doing")
    stored = None if volume is None else volume.stored
    if doing in LOOKS:
        return LookAtFuel(vessel_id=vessel, day=when, look=LOOKS[doing], note=note)
    match doing:
        case "drain":
            return Drain(vessel_id=vessel, day=when, volume_ul=stored, typed=volume, note=note)
        case "treat":
            return Stabilise(vessel_id=vessel, day=when, note=note)
        case "level":
            if volume is None:
                return Said(words.text(msg("Say how much is in it, like 2 L.")), "volume")
            return SetLevel(
                vessel_id=vessel, day=when, volume_ul=volume.stored, typed=volume, note=note
            )
        case _:
            return Fill(
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
