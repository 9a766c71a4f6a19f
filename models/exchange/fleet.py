"""A whole household as one JSON file, out and in: `fleet.json`.

`{"schema": 1, "household": [...], "item": [...], ...}`: a list of rows for each table, a row a
line, parents before children, every column by name, every link as the uid of the row meant,
corrections and all. Nothing in it depends on the file it came from, so that out, in and out again
is the same to the byte. `fleet.schema.json` beside this module says it in JSON Schema.

Taking in merges. A row is known by its uid, else by what makes it the only one of its kind (a
place by its name): a known row takes the values that come in, except that an entry is never
changed, and except that what is known only by its kind stays as it is. The settings of the
household come in only while it has no machine. A sheet that is known keeps what was printed on it;
one that is not, and whose number is out here already, gets the next that is free.
"""

from __future__ import annotations

import json
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, cast

from sqlalchemy import Table, UniqueConstraint, func, insert, select, update
from sqlalchemy.exc import IntegrityError
from sqlalchemy.orm import Session

from models.acts.photos import refuse_full
from models.acts.sheets import next_place
from models.changes import ActCode, ActLabel, Area, Changes
from models.disk import trouble_of_system, trouble_of_writing, write_whole
from models.errors import Refused, RefusedCode, Trouble, TroubleCode
from models.exchange.fields import field_name, incoming, link_target, outgoing
from models.exchange.sheet_lines import (
    NO_LINES,
    check_lines,
    known_again,
    names_no_machine,
    outgoing_lines,
)
from models.exchange.strict_json import MOST_BYTES, parse_strict
from models.moment import Moment
from models.tables.household import HouseholdRow
from models.tables.machines import MachineRow
from models.tables.schema import ENTRY_TABLES, TABLES
from models.tables.stores import LONGEST_LINES, SheetMachineRow, SheetRow
from models.tables.work import JobRow

FLEET_SCHEMA = 1
FLEET_FILE = "fleet.json"
MOST_LINES = 4 * LONGEST_LINES
_SHOWN = 64

Row = Mapping[str, Any]


def export_fleet(session: Session) -> bytes:
    """Everything in the file, as UTF-8."""
    uids = {
        table.name: {row.id: row.uid for row in session.execute(select(table.c.id, table.c.uid))}
        for table in TABLES
    }
    lists = [f'"schema": {FLEET_SCHEMA}']
    for table in TABLES:
        rows = ",\n".join(_outgoing_rows(session, table, uids))
        lists.append(f'"{table.name}": [\n{rows}\n]' if rows else f'"{table.name}": []')
    return ("{\n" + ",\n".join(lists) + "\n}\n").encode()


def write_fleet(session: Session, folder: Path) -> Path:
    """Write `fleet.json` into a folder, made if it is not there. Raises Trouble."""
    data = export_fleet(session)
    target = folder / FLEET_FILE
    try:
        folder.mkdir(parents=True, exist_ok=True)
        write_whole(target, data)
    except OSError as error:
        raise trouble_of_writing(error, target) from error
    return target


def read_fleet(path: Path, *, kinds: Collection[str]) -> ImportFleet:
    """The act that takes in a `fleet.json`, or the one in a folder. Raises Refused, Trouble."""
    file = path / FLEET_FILE if path.is_dir() else path
    try:
        if not file.is_file():
            raise Trouble(TroubleCode.NO_FILE, path=str(file))
        size = file.stat().st_size
        if size > MOST_BYTES:
            raise Refused(RefusedCode.IMPORT_TOO_LARGE, bytes=size, most=MOST_BYTES)
        data = file.read_bytes()
    except OSError as error:
        raise trouble_of_system(error, file) from error
    return parse_fleet(data, kinds=kinds)


def parse_fleet(data: bytes, *, kinds: Collection[str]) -> ImportFleet:
    """The act that takes in the bytes of a `fleet.json`. `kinds`: the machine kinds there are.

    Raises Refused for what is not one: every field is looked at before anything is written.
    """
    said = parse_strict(data)
    if not isinstance(said, dict):
        raise Refused(RefusedCode.IMPORT_FIELD, where="", field="")
    fleet = cast("dict[str, Any]", said)
    schema: Any = fleet.pop("schema", None)
    if schema is True or schema != FLEET_SCHEMA:
        found = schema if isinstance(schema, int) else 0
        raise Refused(RefusedCode.IMPORT_SCHEMA, found=found, known=FLEET_SCHEMA)
    strange = sorted(set(fleet) - {table.name for table in TABLES})
    if strange:
        raise Refused(RefusedCode.IMPORT_FIELD, where="", field=_shown(strange[0]))
    return ImportFleet(
        rows={table.name: _checked(table, fleet.get(table.name, []), kinds) for table in TABLES}
    )


@dataclass(frozen=True, slots=True)
class ImportFleet:
    """Take in a fleet: rows by table, checked field by field, links still uids."""

    rows: Mapping[str, tuple[Row, ...]]

    @property
    def machines(self) -> int:
        """How many machines stand in it."""
        return len(self.rows[MachineRow.__tablename__])

    def run(self, session: Session, moment: Moment) -> Changes:  # noqa: ARG002  (an act)
        """Merge. Raises Refused when a link leads nowhere or an entry would change."""
        intake = _Intake(session)
        for table in TABLES:
            intake.take(table, self.rows[table.name])
        intake.take_lines(self.rows)
        refuse_full(session, 0)
        label = ActLabel(ActCode.IMPORT, (("machines", self.machines),))
        return Changes(areas=frozenset(Area), ids=frozenset(), label=label)


@dataclass(slots=True)
class _Intake:
    """One taking-in: which row of the file each uid stands for."""

    session: Session
    ids: dict[str, dict[str, int]] = field(default_factory=dict[str, dict[str, int]])
    new_sheets: dict[str, tuple[str, str]] = field(default_factory=dict[str, tuple[str, str]])

    def take(self, table: Table[Any], rows: tuple[Row, ...]) -> None:
        known = self.session.execute(select(table.c.uid, table.c.id))
        self.ids[table.name] = {row.uid: row.id for row in known}
        if table.name == HouseholdRow.__tablename__:
            self._settings(table, rows)
            return
        for number, row in enumerate(rows):
            where = f"{table.name}[{number}]"
            try:
                self._take_row(table, where, row)
            except IntegrityError as error:
                named = str(error.orig).rsplit(" ", 1)[-1]
                guard = named.removeprefix(f"ck_{table.name}_")
                raise Refused(RefusedCode.IMPORT_FIELD, where=where, field=guard) from error

    def _settings(self, table: Table[Any], rows: tuple[Row, ...]) -> None:
        machines = self.session.execute(select(func.count(MachineRow.id))).scalar_one()
        if rows and not machines:
            self.session.execute(update(table).values(dict(rows[0])))
            self.ids[table.name] = {rows[0]["uid"]: 1}

    def _take_row(self, table: Table[Any], where: str, row: Row) -> None:
        uid = row["uid"]
        values = self._linked(table, where, row)
        known = self.ids[table.name].get(uid)
        if table.name == SheetRow.__tablename__:
            values = self._sheet(values, where, is_known=known is not None)
        if known is None:
            known = self._alike(table, values)
            if known is None:
                made = insert(table).values(values).returning(table.c.id)
                known = self.session.execute(made).scalar_one()
        elif table.name in ENTRY_TABLES:
            self._same_entry(table, where, known, values)
        else:
            self.session.execute(update(table).where(table.c.id == known).values(values))
        self.ids[table.name][uid] = known

    def _sheet(self, values: dict[str, Any], where: str, *, is_known: bool) -> dict[str, Any]:
        """What is taken of a sheet. Its lines wait until the jobs they name are there."""
        if is_known:
            kept = {"number", "lines"}
            if values.get("entered_on") is None:
                kept.add("entered_on")
            return {name: value for name, value in values.items() if name not in kept}
        self.new_sheets[values["uid"]] = (where, values.pop("lines", NO_LINES))
        values["lines"] = NO_LINES
        number = values["number"]
        out = select(SheetRow.id).where(SheetRow.number == number, SheetRow.entered_on.is_(None))
        if values.get("entered_on") is None and self.session.execute(out).first() is not None:
            values["id"], values["number"] = next_place(self.session)
        return values

    def take_lines(self, rows: Mapping[str, tuple[Row, ...]]) -> None:
        """The lines of the sheets that came in, once everything they name is there."""
        machines: dict[str, list[str]] = {uid: [] for uid in self.new_sheets}
        of_sheet = {
            (row["sheet_id"], row["machine_id"]) for row in rows[SheetMachineRow.__tablename__]
        }
        if not self.new_sheets:
            return
        place = {row["uid"]: number for number, row in enumerate(rows[MachineRow.__tablename__])}
        for sheet, machine in sorted(of_sheet, key=lambda pair: place.get(pair[1], -1)):
            machines.setdefault(sheet, []).append(machine)
        jobs: dict[str, list[str]] = {}
        for row in rows[JobRow.__tablename__]:
            jobs.setdefault(row["machine_id"], []).append(row["uid"])
        for uid, (where, text) in self.new_sheets.items():
            if names_no_machine(text):
                self._keep_lines(uid, where, text)
                continue
            lines = [
                {
                    "machine_id": self._named(MachineRow.__tablename__, line.machine, where),
                    "tasks": line.tasks,
                    "job_id": None
                    if line.job is None
                    else self._named(JobRow.__tablename__, line.job, where),
                    "text": line.text,
                }
                for line in known_again(text, machines[uid], jobs)
            ]
            self._keep_lines(uid, where, json.dumps(lines, ensure_ascii=False))

    def _keep_lines(self, uid: str, where: str, kept: str) -> None:
        if len(kept) > LONGEST_LINES:
            raise Refused(RefusedCode.IMPORT_FIELD, where=where, field="lines")
        row_id = self.ids[SheetRow.__tablename__][uid]
        self.session.execute(
            update(SheetRow).where(SheetRow.id == row_id).values(lines=kept),
            execution_options={"synchronize_session": False},
        )

    def _named(self, table: str, uid: str, where: str) -> int:
        found = self.ids[table].get(uid)
        if found is None:
            raise Refused(RefusedCode.IMPORT_LINK, where=where, field="lines", uid=_shown(uid))
        return found

    def _linked(self, table: Table[Any], where: str, row: Row) -> dict[str, Any]:
        """The row's values with ids in place of uids."""
        values = dict(row)
        for column in table.columns:
            target = link_target(column)
            uid = values.get(column.name)
            if target is None or uid is None:
                continue
            found = self.ids[target].get(uid)
            if found is None:
                name = field_name(column)
                raise Refused(RefusedCode.IMPORT_LINK, where=where, field=name, uid=_shown(uid))
            values[column.name] = found
        return values

    def _alike(self, table: Table[Any], values: Row) -> int | None:
        """A row that is the same by what makes it the only one of its kind."""
        for constraint in table.constraints:
            if not isinstance(constraint, UniqueConstraint):
                continue
            names = [column.name for column in constraint.columns]
            if names in (["uid"], ["corrects_id"]) or any(values.get(n) is None for n in names):
                continue
            same = [table.c[name] == values[name] for name in names]
            found = self.session.execute(select(table.c.id).where(*same)).scalar_one_or_none()
            if found is not None:
                return found
        return None

    def _same_entry(self, table: Table[Any], where: str, known: int, values: Row) -> None:
        kept = self.session.execute(select(table).where(table.c.id == known)).mappings().one()
        if any(kept[name] != value for name, value in values.items()):
            uid = _shown(values["uid"])
            raise Refused(RefusedCode.IMPORT_CONFLICT, where=where, uid=uid)


def _outgoing_rows(
    session: Session, table: Table[Any], uids: Mapping[str, Mapping[int, str]]
) -> Iterator[str]:
    """Each row as a line of JSON."""
    columns = [column for column in table.columns if not column.primary_key]
    names = [field_name(column) for column in columns]
    targets = [link_target(column) for column in columns]
    for row in session.execute(select(*columns).order_by(table.c.id)).all():
        values = [
            outgoing(value) if target is None or value is None else uids[target][value]
            for value, target in zip(row, targets, strict=True)
        ]
        said = dict(zip(names, values, strict=True))
        if table.name == SheetRow.__tablename__:
            machines, jobs = uids[MachineRow.__tablename__], uids[JobRow.__tablename__]
            said["lines"] = outgoing_lines(said["lines"], machines, jobs)
        yield json.dumps(said, ensure_ascii=False)


def _checked(table: Table[Any], rows: Any, kinds: Collection[str]) -> tuple[Row, ...]:
    if not isinstance(rows, list):
        raise Refused(RefusedCode.IMPORT_FIELD, where=table.name, field="")
    listed = cast("list[Any]", rows)
    if table.name == HouseholdRow.__tablename__ and len(listed) > 1:
        raise Refused(RefusedCode.IMPORT_FIELD, where=f"{table.name}[1]", field="")
    checked: list[Row] = []
    seen: set[str] = set()
    for number, row in enumerate(listed):
        where = f"{table.name}[{number}]"
        values = _checked_row(table, row, where)
        if values["uid"] in seen:
            uid = _shown(values["uid"])
            raise Refused(RefusedCode.IMPORT_TWICE, where=where, uid=uid)
        if table.name == MachineRow.__tablename__ and values["kind_code"] not in kinds:
            raise Refused(RefusedCode.IMPORT_FIELD, where=where, field="kind_code")
        seen.add(values["uid"])
        checked.append(values)
    return tuple(checked)


def _checked_row(table: Table[Any], row: Any, where: str) -> dict[str, Any]:
    """A row's values by column. What may be left out: what can be empty, and what has a default."""
    if not isinstance(row, dict):
        raise Refused(RefusedCode.IMPORT_FIELD, where=where, field="")
    said = dict(cast("dict[str, Any]", row))
    values: dict[str, Any] = {}
    for column in table.columns:
        if column.primary_key:
            continue
        name = field_name(column)
        if name not in said:
            if name == "uid" or (column.default is None and not column.nullable):
                raise Refused(RefusedCode.IMPORT_FIELD, where=where, field=name)
            continue
        try:
            values[column.name] = _checked_value(column, said.pop(name))
        except ValueError:
            raise Refused(RefusedCode.IMPORT_FIELD, where=where, field=name) from None
    if said:
        raise Refused(RefusedCode.IMPORT_FIELD, where=where, field=_shown(min(said)))
    return values


def _checked_value(column: Any, value: Any) -> Any:
    if column is SheetRow.__table__.c.lines and isinstance(value, str):
        # Uids are longer than the row numbers that are kept in their place.
        if len(value) > MOST_LINES:
            raise ValueError(column.name)
        check_lines(value)
        return value
    if link_target(column) is None or value is None:
        return incoming(column, value)
    if not isinstance(value, str):
        raise ValueError(column.name)  # noqa: TRY004  (told as one with the others)
    return value


def _shown(text: str) -> str:
    return text[:_SHOWN].encode("utf-8", "replace").decode("utf-8")
