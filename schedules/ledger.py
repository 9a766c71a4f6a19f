"""What is in each vessel after a run of fuel events, and where all of it went.

Lots are kept apart and stand oldest first. Drawing takes every lot in proportion, split to the
whole microlitre by largest remainder, ties to the older lot. Law, for each vessel and for all of
them: what came in is what is held and what went out, to the microlitre.
"""

from __future__ import annotations

from bisect import insort
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from enum import StrEnum

from schedules.facts import FuelSort, Gone, LotFacts, VesselId, VesselSort
from schedules.keeping import ETHANOL


class FuelMove(StrEnum):
    """What an event does to the fuel. PUT: in, from outside. POUR: into another vessel. TAKE: out.
    LEVEL: this much is in it now. TREAT: stabiliser added. OIL: oil added, to make a mix."""

    PUT = "put"
    POUR = "pour"
    TAKE = "take"
    LEVEL = "level"
    TREAT = "treat"
    OIL = "oil"


@dataclass(frozen=True, slots=True, kw_only=True)
class FuelMoved:
    """One event. `volume_ul` None: all there is (POUR, TAKE), or a full vessel (PUT). `gone`:
    where a TAKE went, or what a LEVEL found missing; None: nobody said. `found`: a PUT that was in
    it already; `oil_ratio`: a PUT of so many parts of petrol to one of oil."""

    move: FuelMove
    vessel_id: VesselId
    day: date
    volume_ul: int | None = None
    lot: LotFacts | None = None
    to_vessel_id: VesselId | None = None
    gone: Gone | None = None
    found: bool = False
    oil_ratio: int | None = None


@dataclass(frozen=True, slots=True)
class Holds:
    """How much a vessel holds, and what sort of vessel it is."""

    capacity_ul: int
    sort: VesselSort


@dataclass(frozen=True, slots=True, kw_only=True)
class Account:
    """What came into a vessel and went out of it, in microlitres; `held` is the difference."""

    bought_ul: int = 0
    found_ul: int = 0
    oil_ul: int = 0
    poured_in_ul: int = 0
    poured_out_ul: int = 0
    burnt_ul: int = 0
    drained_ul: int = 0
    spilled_ul: int = 0
    disposed_ul: int = 0
    lost_ul: int = 0

    @property
    def held_ul(self) -> int:
        came = self.bought_ul + self.found_ul + self.oil_ul + self.poured_in_ul
        went = self.burnt_ul + self.drained_ul + self.spilled_ul + self.disposed_ul + self.lost_ul
        return came - went - self.poured_out_ul


@dataclass(frozen=True, slots=True, kw_only=True)
class Ledger:
    """Where it all stands after the last event: lots oldest first, how much was in each vessel
    from which day on, and the accounts."""

    lots: Mapping[VesselId, tuple[LotFacts, ...]]
    levels: Mapping[VesselId, tuple[tuple[date, int], ...]]
    accounts: Mapping[VesselId, Account]


def shares(volumes: Sequence[int], part: int) -> tuple[int, ...]:
    """`part` microlitres split in proportion to the volumes, by largest remainder, ties to the
    first. Law: the shares sum to `part`. Raises ValueError when there is not that much."""
    whole = sum(volumes)
    if not 0 <= part <= whole:
        raise ValueError(f"{part} of {whole} microlitres")
    if part == whole:
        return tuple(volumes)
    floors = [volume * part // whole for volume in volumes]
    missing = part - sum(floors)
    if missing:
        rests = [-(volume * part % whole) for volume in volumes]
        order = sorted(range(len(volumes)), key=rests.__getitem__)  # stable: ties to the first
        for index in order[:missing]:
            floors[index] += 1
    return tuple(floors)


def in_order(moves: Iterable[FuelMoved]) -> tuple[FuelMoved, ...]:
    """By day, those of one day as they were entered: a late entry takes its place in time."""
    return tuple(sorted(moves, key=lambda moved: moved.day))


def lots_after(
    moves: Iterable[FuelMoved], vessels: Mapping[VesselId, Holds]
) -> dict[VesselId, tuple[LotFacts, ...]]:
    """The lots in each vessel after the moves, in their order, oldest first."""
    return dict(replay(moves, vessels).lots)


def replay(moves: Iterable[FuelMoved], vessels: Mapping[VesselId, Holds]) -> Ledger:
    """Everything in the order given. Drawing more than there is empties the vessel: the level was
    seen by eye, and the eye is believed over the sum.

    What goes in was seen too: what the vessel has no room for beside it was used without a word.
    A lot that is poured keeps where it stood before, so that its age goes with it. What a level
    finds missing went where somebody said; else it was burnt from a tank or bowl and is lost from
    a can. Above the sum, the rest was found and nobody knows how old it is.
    """
    books = {vessel: _Book(holds) for vessel, holds in vessels.items()}
    for moved in moves:
        book = books.get(moved.vessel_id)
        if book is None:
            book = books[moved.vessel_id] = _Book(None)
        match moved.move:
            case FuelMove.PUT:
                book.put(moved)
            case FuelMove.POUR:
                _pour(book, moved, books)
            case FuelMove.TAKE:
                book.spend(moved.volume_ul, moved.gone or Gone.BURNT)
            case FuelMove.LEVEL:
                book.level(moved.volume_ul or 0, moved.day, moved.gone)
            case FuelMove.TREAT:
                book.treat(moved.day)
            case FuelMove.OIL:
                book.oil(moved.volume_ul or 0)
        book.note(moved.day)
    return Ledger(
        lots={vessel: book.facts() for vessel, book in books.items()},
        levels={vessel: tuple(book.levels) for vessel, book in books.items()},
        accounts={vessel: book.account() for vessel, book in books.items()},
    )


def _pour(source: _Book, moved: FuelMoved, books: dict[VesselId, _Book]) -> None:
    if moved.to_vessel_id is None:
        source.spend(moved.volume_ul, Gone.LOST)
        return
    into = books.get(moved.to_vessel_id)
    if into is None:
        into = books[moved.to_vessel_id] = _Book(None)
    volume = moved.volume_ul
    if volume is None and into.holds is not None:
        volume = min(into.holds.capacity_ul, source.volume)
    taken = source.take(volume)
    whole = sum(lot.volume for lot in taken)
    source.counts["poured_out_ul"] += whole
    into.counts["poured_in_ul"] += whole
    into.make_room(whole)
    for lot in taken:
        into.add(lot.moved(source.holds, moved.day))
    into.note(moved.day)


# -- one vessel -------------------------------------------------------------------------------


class _Lot:
    """A lot on its way through the ledger; `facts` say all but how much is left of it."""

    __slots__ = ("facts", "key", "oil", "volume")

    def __init__(self, facts: LotFacts, volume: int, oil: int) -> None:
        self.facts = facts
        self.volume = volume
        self.oil = oil
        known = facts.bought_on or facts.since  # of unknown day: by the day it came
        self.key = 0 if known is None else known.toordinal()

    def part(self, volume: int) -> _Lot:
        """So much of it, with its share of the oil."""
        oil = self.oil * volume // self.volume if self.oil else 0
        self.volume -= volume
        self.oil -= oil
        return _Lot(self.facts, volume, oil)

    def moved(self, source: Holds | None, day: date) -> _Lot:
        """As it arrives in another vessel; it remembers where it stood."""
        facts = self.facts
        came = facts.since or facts.bought_on
        if source is None or came is None:
            facts = replace(facts, since=day)
        else:
            facts = replace(facts, since=day, earlier=(*facts.earlier, (source.sort, came)))
        return _Lot(facts, self.volume, self.oil)

    def mixed(self, oil: int) -> None:
        """With so much oil in it, it is a mix; what was read at the pump still holds."""
        facts = self.facts
        sort = _MIXED.get(facts.sort, facts.sort)
        share = ETHANOL[facts.sort]
        permille = facts.ethanol_permille
        if permille is None and share is not None:
            permille = int(share * 1000)
        self.facts = replace(facts, sort=sort, ethanol_permille=permille)
        self.volume += oil
        self.oil += oil


_MIXED = {
    FuelSort.E0: FuelSort.PREMIX,
    FuelSort.E5: FuelSort.PREMIX,
    FuelSort.E10: FuelSort.PREMIX,
    FuelSort.E15: FuelSort.PREMIX,
    FuelSort.UNKNOWN: FuelSort.PREMIX,
    FuelSort.ALKYLATE: FuelSort.PREMIX_ALKYLATE,
}
_COUNTED = {gone: f"{gone.value}_ul" for gone in Gone}
_NOTHING = dict.fromkeys(Account.__dataclass_fields__, 0)


class _Book:
    """What is in one vessel, and its account."""

    __slots__ = ("counts", "holds", "levels", "lots", "volume", "waiting_oil")

    def __init__(self, holds: Holds | None) -> None:
        self.holds = holds
        self.lots: list[_Lot] = []
        self.volume = 0
        self.waiting_oil = 0  # oil that went into an empty vessel waits for its petrol
        self.counts = dict(_NOTHING)
        self.levels: list[tuple[date, int]] = []

    def facts(self) -> tuple[LotFacts, ...]:
        return tuple(
            lot.facts
            if lot.facts.volume_ul == lot.volume and lot.facts.oil_ul == lot.oil
            else replace(lot.facts, volume_ul=lot.volume, oil_ul=lot.oil)
            for lot in self.lots
        )

    def account(self) -> Account:
        return Account(**self.counts)

    def note(self, day: date) -> None:
        """Remember the level at the end of the day."""
        if self.levels and self.levels[-1][0] == day:
            self.levels[-1] = (day, self.volume)
        elif not self.levels or self.levels[-1][1] != self.volume:
            self.levels.append((day, self.volume))

    def add(self, lot: _Lot) -> None:
        if self.waiting_oil:
            lot.mixed(self.waiting_oil)
            self.counts["oil_ul"] += self.waiting_oil
            self.waiting_oil = 0
        insort(self.lots, lot, key=_oldest)
        self.volume += lot.volume
        self.make_room(0)

    def put(self, moved: FuelMoved) -> None:
        if moved.lot is None:
            return
        volume = moved.volume_ul
        if volume is None:
            capacity = 0 if self.holds is None else self.holds.capacity_ul
            volume = max(0, capacity - self.volume - self.waiting_oil)
        if volume <= 0:
            return
        self.make_room(volume)
        self.counts["found_ul" if moved.found else "bought_ul"] += volume
        oil = moved.lot.oil_ul if moved.oil_ratio is None else volume // (moved.oil_ratio + 1)
        facts = moved.lot
        if facts.since is None or facts.volume_ul != volume:
            facts = replace(facts, volume_ul=volume, since=facts.since or moved.day)
        self.add(_Lot(facts, volume, min(oil, volume)))

    def make_room(self, volume: int) -> None:
        over = 0 if self.holds is None else self.volume + volume - self.holds.capacity_ul
        if over > 0:
            self.spend(over, self._unsaid())

    def take(self, volume: int | None) -> list[_Lot]:
        """So much of every lot, None: all; it is no longer in the vessel."""
        if volume is None or volume >= self.volume:
            taken, self.lots, self.volume, self.waiting_oil = self.lots, [], 0, 0
            return taken
        split = shares([lot.volume for lot in self.lots], volume)
        taken = [lot.part(share) for lot, share in zip(self.lots, split, strict=True) if share]
        self.lots = [lot for lot in self.lots if lot.volume]
        self.volume -= volume
        return taken

    def spend(self, volume: int | None, gone: Gone) -> None:
        """The same, where nobody asks any more what it was."""
        if volume is None or volume >= self.volume:
            self.counts[_COUNTED[gone]] += self.volume
            self.lots, self.volume, self.waiting_oil = [], 0, 0
            return
        split = shares([lot.volume for lot in self.lots], volume)
        emptied = False
        for lot, share in zip(self.lots, split, strict=True):
            if lot.oil:
                lot.oil -= lot.oil * share // lot.volume
            lot.volume -= share
            emptied = emptied or not lot.volume
        if emptied:
            self.lots = [lot for lot in self.lots if lot.volume]
        self.volume -= volume
        self.counts[_COUNTED[gone]] += volume

    def _unsaid(self) -> Gone:
        """Where fuel went that is not there and was not entered."""
        can = self.holds is None or self.holds.sort is VesselSort.CAN
        return Gone.LOST if can else Gone.BURNT

    def level(self, volume: int, day: date, said: Gone | None) -> None:
        gone = said or self._unsaid()
        unseen = [lot for lot in self.lots if not lot.facts.amount_known]
        if unseen:  # somebody has seen by now what there is
            self.counts[_COUNTED[gone]] += sum(lot.volume for lot in unseen)
            self.lots = [lot for lot in self.lots if lot.facts.amount_known]
            self.volume = sum(lot.volume for lot in self.lots)
        # Oil that waits is in what was seen; where less was seen, so much of it is left.
        self.waiting_oil = min(self.waiting_oil, volume)
        rest = volume - self.volume - self.waiting_oil
        if rest < 0:
            self.spend(-rest, gone)
        elif rest > 0:
            # More than anyone put in: nobody knows how old the rest is.
            facts = LotFacts(bought_on=None, volume_ul=rest, sort=FuelSort.UNKNOWN, since=day)
            self.counts["found_ul"] += rest
            self.add(_Lot(facts, rest, 0))

    def treat(self, day: date) -> None:
        for lot in self.lots:
            if lot.facts.stabilised_on is None:
                lot.facts = replace(lot.facts, stabilised_on=day)

    def oil(self, volume: int) -> None:
        if self.holds is not None:
            volume = min(volume, self.holds.capacity_ul)
        if volume <= 0:
            return
        self.make_room(volume)
        if not self.lots:
            self.waiting_oil += volume
            return
        self.counts["oil_ul"] += volume
        by_lot = [lot.volume for lot in self.lots]
        scaled = shares(by_lot, volume) if volume <= self.volume else _spread(by_lot, volume)
        for lot, share in zip(self.lots, scaled, strict=True):
            lot.mixed(share)
        self.volume += volume


def _oldest(lot: _Lot) -> int:
    return lot.key


def _spread(volumes: list[int], part: int) -> tuple[int, ...]:
    """As `shares`, where the part is larger than the whole."""
    times, rest = divmod(part, sum(volumes))
    return tuple(
        volume * times + one for volume, one in zip(volumes, shares(volumes, rest), strict=True)
    )
