"""How fixed labels come to paper: as British words, said in the language of the sheet."""

from __future__ import annotations

from typing import Protocol


class Words(Protocol):
    """Says a fixed British label in the language of the sheet."""

    def __call__(self, msgid: str, /, **values: object) -> str: ...
