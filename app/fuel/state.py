"""Everything the fuel room shows, as one frozen value: words and drawings, nothing to reckon."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from app.sheets.vessel import DayLine, VesselFigure
from app.wording.lines import CautionText, Line
from schedules.facts import Band


@dataclass(frozen=True, slots=True, kw_only=True)
class VesselLine:
    """One vessel of the shelf. `second`: how much of what it holds, and where; `band` None: it is
    empty. `short`: age and end of the band as
    they stand on the shelf; `said` is the whole of it in words."""

    vessel_id: int
    machine_id: int | None
    name: str
    second: str
    band: Band | None
    band_text: str
    because: str
    until: str
    short: str
    age: str
    ethanol: str
    stabiliser: str
    said: str
    figure: VesselFigure


@dataclass(frozen=True, slots=True, kw_only=True)
class LotLine:
    """One fill that is still in the vessel."""

    bought: str
    amount: str
    sort: str
    age: str
    how: str
    treated: str


@dataclass(frozen=True, slots=True, kw_only=True)
class EntryLine:
    """One thing that was entered about the vessel; `counts` False: corrected since."""

    entry_id: int
    day: str
    text: str
    second: str
    counts: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Chosen:
    """The vessel that is looked at. `why` opens its grounds; `advice` what to do about it."""

    vessel_id: int
    name: str
    lots: tuple[LotLine, ...]
    why: Callable[[], tuple[Line, ...]]
    days: DayLine | None
    days_said: str
    advice: tuple[str, ...]
    cautions: tuple[CautionText, ...]
    rest: tuple[str, ...]
    entries: tuple[EntryLine, ...]
    empty: bool
    is_can: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class FuelRoomState:
    """The room. `plan`: who burns what first; `buy`: what to buy for four weeks."""

    lead: str
    vessels: tuple[VesselLine, ...]
    chosen: Chosen | None
    plan: tuple[str, ...]
    buy: tuple[str, ...]
    can_write: bool
    notice: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class PourPreview:
    """What a pour would do: both vessels after it, and what becomes of what they hold. `refused`:
    why it cannot be done so; `danger`: what is to be answered twice."""

    source: VesselFigure
    target: VesselFigure
    source_said: str
    target_said: str
    amount: str
    share: float
    refused: str = ""
    danger: str = ""
