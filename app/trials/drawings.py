"""Which line drawing shows how a limit is measured."""

from __future__ import annotations

from collections.abc import Mapping

DRAWINGS: Mapping[str, str] = {
    "L01": "plug-gap",
    "L02": "plug-gap",
    "L03": "plug-gap",
    "L06": "compression",
    "L07": "compression",
    "L09": "cable-play",
    "L10": "paddle",
    "L11": "paddle",
    "L12": "paddle",
    "L14": "scraper",
    "L15": "scraper",
    "L18": "skid-shoe",
    "L19": "skid-shoe",
    "L20": "friction-wheel",
    "L21": "friction-wheel",
    "L23": "belt-deflection",
    "L24": "belt-deflection",
    "L30": "blade",
    "L31": "blade",
    "L36": "chain",
    "L37": "chain",
    "L41": "battery",
    "L52": "leak",
}


def drawing_of(limit: str) -> str:
    """The drawing's name; "" where there is none."""
    return DRAWINGS.get(limit, "")
