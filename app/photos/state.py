"""What is shown of the photos of a machine, frozen and in words."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class PhotoCard:
    """One photo. `said`: all that is known of it in one line, for eyes and for readers."""

    photo_id: int
    said: str
    on_paper: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class PhotosState:
    """The photos of one machine. `watched`: what is said of the folder that is watched."""

    photos: tuple[PhotoCard, ...] = ()
    watched: str = ""
    fresh: int = 0
    can_write: bool = True
