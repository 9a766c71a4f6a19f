"""The formats of the file: which revision made each, and what its schema looks like.

A revision never imports the tables of today. Whoever adds one adds its name and the digest of the
schema it leaves here; tests hold both to the truth.
"""

from __future__ import annotations

import hashlib
import re
import sqlite3
from dataclasses import dataclass
from functools import lru_cache
from importlib.resources import files
from pathlib import Path

_OWN_TABLES = frozenset({"sqlite_sequence", "sqlite_stat1", "sqlite_stat4"})


@dataclass(frozen=True, slots=True, kw_only=True)
class Formats:
    """Format n was made by revision n - 1 of `revisions` and has the n - 1st of `digests`."""

    revisions: tuple[str, ...]
    digests: tuple[str, ...]
    scripts: Path

    @property
    def newest(self) -> int:
        """The number of the newest format, `user_version` in the file."""
        return len(self.revisions)

    def revision(self, number: int) -> str:
        """The revision that made a format."""
        return self.revisions[number - 1]

    def digest(self, number: int) -> str:
        """The digest of a format's schema."""
        return self.digests[number - 1]


SHIPPED = Formats(
    revisions=("0001", "0002", "0003", "0004", "0005", "0006"),
    digests=(
        "121f379286b6030135da617055402247d6590417b7d95e9439d2a204d6d9b04c",
        "29222a5d05641a0d7c7eb7488ad0954f1b39efa09896e22bada6f4062c2f4a2d",
        "dd6afaee4dcf262e45ac78ce4b4096432f4b7ca4814056c81e39f6a6309ad5fb",
        "f11f93fda5ab4113f3dcb8a03bcc55625a281042a597095bb76bd00f25ab110f",
        "15b1c5a24b22df1809b6c965dcdedb4302e96257685c9786b19d44afb18aff11",
        "09ae42f731f997df9d641055c36ee750401397b71ad14f85e50270a0d4c2c034",
    ),
    scripts=Path(str(files("models.migrations"))),
)


def schema_rows(connection: sqlite3.Connection) -> frozenset[tuple[str, str, str]]:
    """Type, name and text of everything in the schema, line breaks and quotes evened out."""
    found = connection.execute("SELECT type, name, tbl_name, sql FROM sqlite_schema").fetchall()
    return frozenset(
        (kind, name, f"{table}: {_evened(sql or '')}")
        for kind, name, table, sql in found
        if not (kind == "table" and name in _OWN_TABLES)
    )


def schema_digest(connection: sqlite3.Connection) -> str:
    """SHA-256 of the schema's rows, in hexadecimal."""
    lines = sorted("\t".join(row) for row in schema_rows(connection))
    return hashlib.sha256("\n".join(lines).encode()).hexdigest()


@lru_cache(maxsize=1024)  # the same for every file of a format
def _evened(sql: str) -> str:
    return re.sub(r"\s+", " ", sql.replace('"', "")).replace("( ", "(").replace(" )", ")").strip()
