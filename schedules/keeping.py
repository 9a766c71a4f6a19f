"""How long each sort of fuel keeps in each sort of vessel, and where the bands of a vessel lie.

Every figure can be changed and carries what it rests on; `resources/fuel.toml` shows the same.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from fractions import Fraction

from schedules.facts import FigureMark, FuelSort, FuelUse, Mark, SourceId, VesselSort


@dataclass(frozen=True, slots=True, kw_only=True)
class Keeping:
    """Days at 20 degrees until fuel is stale, the spread of what is said, and what it rests on."""

    days: int
    least_days: int | None = None
    most_days: int | None = None
    mark: Mark = Mark.OUR_JUDGEMENT
    sources: tuple[SourceId, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class KeepingRow:
    """How long one sort of fuel keeps in one sort of vessel, untreated and stabilised fresh."""

    sort: FuelSort
    vessel: VesselSort
    plain: Keeping
    treated: Keeping


@dataclass(frozen=True, slots=True, kw_only=True)
class FuelTable:
    """All figures of the clock and the bands. Ages are in lives: 1 is stale.

    `floor`: the slowest a day may count; `doubling_degrees`: so many degrees more make fuel age
    twice as fast. `dose`: parts of stabiliser to one of petrol. `vapour_limit`: the share lost to
    the air at which starting gets hard; `can_loss` what a closed can loses of it a day, and the
    two factors what a vented tank and that of a hand-held machine breathe out against the
    equation; fuel of summer and winter grade at `summer_psi` and `winter_psi`. A tank of unknown
    level is taken as `usual_fill` full, a nearly empty one as no emptier than `least_fill`.
    A row without sources is marked for what it is; `marks` says it of the other figures.
    """

    rows: tuple[KeepingRow, ...]
    floor: Fraction = Fraction(1, 4)
    use_first_at: Fraction = Fraction(1, 2)
    stale_at: Fraction = Fraction(1)
    spoilt_at: Fraction = Fraction(3)
    spoilt_share: Fraction = Fraction(1, 4)
    gum_limit: Fraction = Fraction(2)
    gum_cap: Fraction = Fraction(5)
    unknown_share: Fraction = Fraction(1, 4)
    ethanol_limit: Fraction = Fraction(1, 10)
    dose: Fraction = Fraction(1, 320)
    doubling_degrees: int = 10
    vapour_limit: Fraction = Fraction(1, 20)
    vented_factor: Fraction = Fraction(146, 100)
    hand_held_factor: Fraction = Fraction(1)
    can_loss: Fraction = Fraction(107, 1_000_000)
    summer_psi: Fraction = Fraction(9)
    winter_psi: Fraction = Fraction(27, 2)
    pounds_a_gallon: Fraction = Fraction(617, 100)
    usual_fill: Fraction = Fraction(1, 2)
    least_fill: Fraction = Fraction(1, 20)
    marks: tuple[FigureMark, ...] = ()
    _by_sort: dict[tuple[FuelSort, VesselSort], KeepingRow] = field(
        init=False, repr=False, compare=False
    )

    def __post_init__(self) -> None:
        """Raise ValueError when a row is missing, or stabiliser would make fuel age faster."""
        by_sort = {(row.sort, row.vessel): row for row in self.rows}
        if len(by_sort) != len(FuelSort) * len(VesselSort) or len(by_sort) != len(self.rows):
            raise ValueError("each sort of fuel needs one row for each sort of vessel")
        if any(not 0 < row.plain.days <= row.treated.days for row in self.rows):
            raise ValueError("stabilised fuel keeps at least as long as plain")
        if not self.use_first_at < self.stale_at < self.gum_limit <= self.spoilt_at:
            raise ValueError("the bands stand in order")
        object.__setattr__(self, "_by_sort", by_sort)

    def row(self, sort: FuelSort, vessel: VesselSort) -> KeepingRow:
        """The row of a sort of fuel in a sort of vessel."""
        return self._by_sort[sort, vessel]


def _rows(
    sorts: Iterable[FuelSort], vessel: VesselSort, plain: Keeping, treated: Keeping | None = None
) -> tuple[KeepingRow, ...]:
    return tuple(
        KeepingRow(sort=sort, vessel=vessel, plain=plain, treated=treated or plain)
        for sort in sorts
    )


_EXTENSION = SourceId("unl-ethanol")
_E15_ADVICE = SourceId("epa-e15")
_NONROAD = SourceId("epa-nonroad-code")
_CAN_RULE = SourceId("cfr-40-59-611")

_PETROL = (FuelSort.E0, FuelSort.E5, FuelSort.E10, FuelSort.E15, FuelSort.UNKNOWN)
_ALKYLATES = (FuelSort.ALKYLATE, FuelSort.PREMIX_ALKYLATE)
_TANK_PLAIN = Keeping(
    days=30, least_days=20, most_days=60, mark=Mark.PUBLISHED, sources=(_EXTENSION,)
)
_TANK_TREATED = Keeping(days=180, least_days=60, most_days=730)
_CAN_PLAIN = Keeping(days=180, least_days=90, most_days=365, mark=Mark.COMMON_PRACTICE)
_CAN_TREATED = Keeping(days=365, least_days=90, most_days=730, mark=Mark.MAKERS_DIFFER)
_ALKYLATE_CAN = Keeping(days=730, most_days=1825, mark=Mark.FROM_MEMORY)
_ALKYLATE_OPEN = Keeping(days=365, most_days=1825)
_DIESEL = Keeping(days=365, least_days=180, most_days=540, mark=Mark.COMMON_PRACTICE)

FUEL_TABLE = FuelTable(
    rows=(
        *_rows(_PETROL, VesselSort.TANK, _TANK_PLAIN, _TANK_TREATED),
        *_rows((FuelSort.E0, FuelSort.E5), VesselSort.CAN, _CAN_PLAIN, _CAN_TREATED),
        *_rows(
            (FuelSort.E10, FuelSort.E15, FuelSort.UNKNOWN),
            VesselSort.CAN,
            Keeping(days=90, least_days=30, most_days=180),
            _CAN_TREATED,
        ),
        *_rows((*_PETROL, FuelSort.PREMIX), VesselSort.BOWL, Keeping(days=30), Keeping(days=90)),
        *_rows(_ALKYLATES, VesselSort.CAN, _ALKYLATE_CAN),
        *_rows(_ALKYLATES, VesselSort.TANK, _ALKYLATE_OPEN),
        *_rows(_ALKYLATES, VesselSort.BOWL, _ALKYLATE_OPEN),
        *_rows((FuelSort.PREMIX,), VesselSort.TANK, Keeping(days=30), Keeping(days=180)),
        *_rows((FuelSort.PREMIX,), VesselSort.CAN, Keeping(days=90, least_days=30, most_days=365)),
        *_rows((FuelSort.DIESEL,), VesselSort.CAN, _DIESEL),
        *_rows((FuelSort.DIESEL,), VesselSort.TANK, _DIESEL),
        *_rows((FuelSort.DIESEL,), VesselSort.BOWL, _DIESEL),
    ),
    marks=(
        FigureMark(figure="doubling_degrees", mark=Mark.COMMON_PRACTICE),
        FigureMark(figure="ethanol_limit", mark=Mark.PUBLISHED, sources=(_E15_ADVICE,)),
        FigureMark(figure="dose", mark=Mark.MAKERS_DIFFER),
        *(
            FigureMark(figure=figure, mark=Mark.OUR_JUDGEMENT)
            for figure in ("floor", "use_first_at", "stale_at", "spoilt_at", "spoilt_share")
        ),
        *(
            FigureMark(figure=figure, mark=Mark.OUR_JUDGEMENT)
            for figure in ("gum_limit", "gum_cap", "unknown_share")
        ),
        *(
            FigureMark(figure=figure, mark=Mark.OUR_JUDGEMENT)
            for figure in ("vapour_limit", "winter_psi", "usual_fill", "least_fill")
        ),
        *(
            FigureMark(figure=figure, mark=Mark.PUBLISHED, sources=(_NONROAD,))
            for figure in ("vented_factor", "hand_held_factor", "summer_psi", "pounds_a_gallon")
        ),
        FigureMark(figure="can_loss", mark=Mark.PUBLISHED, sources=(_CAN_RULE,)),
    ),
)

ETHANOL: dict[FuelSort, Fraction | None] = {
    FuelSort.E0: Fraction(0),
    FuelSort.E5: Fraction(5, 100),
    FuelSort.E10: Fraction(10, 100),
    FuelSort.E15: Fraction(15, 100),
    FuelSort.ALKYLATE: Fraction(0),
    FuelSort.PREMIX_ALKYLATE: Fraction(0),
    FuelSort.DIESEL: Fraction(0),
    FuelSort.PREMIX: None,  # on whatever petrol the pump had
    FuelSort.UNKNOWN: None,
}
PUMP_AT_MOST = Fraction(10, 100)  # what is not known is taken as ordinary pump petrol
_PREMIXES = frozenset({FuelSort.PREMIX, FuelSort.PREMIX_ALKYLATE})
_STRAIGHT = frozenset({FuelSort.E0, FuelSort.E5, FuelSort.E10, FuelSort.E15, FuelSort.ALKYLATE})
WRONG_SORTS: dict[FuelUse, frozenset[FuelSort]] = {
    FuelUse.FOUR_STROKE: _PREMIXES | {FuelSort.DIESEL},
    FuelUse.TWO_STROKE: _STRAIGHT | {FuelSort.DIESEL},
    FuelUse.DIESEL: _STRAIGHT | _PREMIXES,
    FuelUse.NONE: frozenset(),
}
# Where fuel is taken to have stood before it came here, when nobody wrote it down.
CAME_FROM = {
    VesselSort.CAN: VesselSort.CAN,
    VesselSort.TANK: VesselSort.CAN,
    VesselSort.BOWL: VesselSort.TANK,
}
