"""The whole of the tables in one place. Whoever needs all of them starts here."""

from __future__ import annotations

from typing import Any

from sqlalchemy import Table

from models.tables import (
    answers,
    fuel,
    hours,
    household,
    machines,
    photos,
    places,
    runs,
    searches,
    stores,
    trials,
    work,
)
from models.tables.base import Base

SUBJECTS = (
    household,
    places,
    machines,
    hours,
    work,
    fuel,
    answers,
    stores,
    trials,
    searches,
    runs,
    photos,
)

# Parents before children; a table that points at itself stands where its other parents let it.
TABLES: tuple[Table[Any], ...] = tuple(Base.metadata.sorted_tables)
ENTRY_TABLES = frozenset(table.name for table in TABLES if "corrects_id" in table.columns)
