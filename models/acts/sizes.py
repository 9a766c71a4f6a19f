"""How much a tank holds when nobody measured it."""

from __future__ import annotations

from collections.abc import Mapping

from schedules.facts import KindCode

# Our judgement: a common size of each kind, in the middle of what is sold. The owner's figure
# takes their place.
_TANK_UL: Mapping[str, int] = {
    "K01": 1_500_000,
    "K02": 3_000_000,
    "K04": 1_000_000,
    "K05": 7_500_000,
    "K07": 500_000,
    "K08": 600_000,
    "K09": 400_000,
    "K11": 500_000,
    "K12": 400_000,
    "K13": 3_000_000,
    "K14": 2_500_000,
    "K15": 12_000_000,
    "K16": 4_000_000,
    "K17": 4_000_000,
    "K18": 3_500_000,
}
_OTHER_TANK_UL = 2_000_000

# Our judgement: what a float bowl of a small engine holds.
BOWL_UL = 50_000


def tank_ul(kind: KindCode) -> int:
    """Capacity of the tank of a machine of that kind, in microlitres. Our judgement."""
    return _TANK_UL.get(kind, _OTHER_TANK_UL)
