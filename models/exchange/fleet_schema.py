"""What a `fleet.json` may say, as JSON Schema, made from the tables.

The same is shipped as `fleet.schema.json` beside this module; a test holds the two together.
"""

from __future__ import annotations

from typing import Any

from sqlalchemy import Boolean, Column, Date, Enum, LargeBinary, String, Table

from models.exchange.fields import field_name, link_target
from models.exchange.fleet import FLEET_SCHEMA, MOST_LINES
from models.tables.base import CODE_LENGTH, Instant
from models.tables.household import HouseholdRow
from models.tables.schema import TABLES
from models.tables.stores import SheetRow


def fleet_json_schema() -> dict[str, Any]:
    """The schema, draft 2020-12."""
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "Firstpull household",
        "type": "object",
        "required": ["schema"],
        "additionalProperties": False,
        "properties": {
            "schema": {"const": FLEET_SCHEMA},
            **{table.name: _rows(table) for table in TABLES},
        },
    }


def _rows(table: Table[Any]) -> dict[str, Any]:
    columns = [column for column in table.columns if not column.primary_key]
    rows: dict[str, Any] = {
        "type": "array",
        "items": {
            "type": "object",
            "required": [
                field_name(column)
                for column in columns
                if column.name == "uid" or (column.default is None and not column.nullable)
            ],
            "additionalProperties": False,
            "properties": {field_name(column): _value(column) for column in columns},
        },
    }
    if table.name == HouseholdRow.__tablename__:
        rows["maxItems"] = 1
    return rows


def _value(column: Column[Any]) -> dict[str, Any]:
    shape = _shape(column)
    if column.nullable:
        return {"anyOf": [shape, {"type": "null"}]}
    return shape


def _shape(column: Column[Any]) -> dict[str, Any]:
    kind, target = column.type, link_target(column)
    if target is not None:
        described = f"uid of a row of {target}"
        return {"type": "string", "maxLength": CODE_LENGTH, "description": described}
    if column is SheetRow.__table__.c.lines:
        described = "JSON: a list of lines with machine and job (uids), tasks and text"
        return {"type": "string", "minLength": 2, "maxLength": MOST_LINES, "description": described}
    if isinstance(kind, Enum):
        return {"enum": list(kind.enums)}
    if isinstance(kind, LargeBinary):
        most = column.info["high"] // 3 * 4 + 8
        return {"type": "string", "contentEncoding": "base64", "maxLength": most}
    if isinstance(kind, String):
        return {"type": "string", "minLength": column.info["least"], "maxLength": kind.length}
    if isinstance(kind, Boolean):
        return {"type": "boolean"}
    if isinstance(kind, Date):
        return {"type": "string", "format": "date"}
    if isinstance(kind, Instant):
        return {"type": "string", "format": "date-time"}
    return {"type": "integer", "minimum": column.info["low"], "maximum": column.info["high"]}
