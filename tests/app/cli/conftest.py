from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import jsonschema
import pytest

import resources
from app.__main__ import main


@dataclass(frozen=True, slots=True)
class Said:
    """How a call of the program ended and what it said."""

    code: int
    out: str
    err: str

    @property
    def data(self) -> Any:
        return json.loads(self.out)


Run = Callable[..., Said]
SCHEMAS = Path(resources.__file__).parent / "schemas"


@pytest.fixture(autouse=True)
def own_folders(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The user's folders are the test's own, the language is British."""
    home = tmp_path / "home"
    for name in ("XDG_DATA_HOME", "XDG_STATE_HOME", "XDG_CACHE_HOME"):
        monkeypatch.setenv(name, str(home / name.lower()))
    monkeypatch.setenv("LC_ALL", "en_GB.UTF-8")
    return home


@pytest.fixture
def firstpull(capsys: pytest.CaptureFixture[str]) -> Run:
    """Calls the program as the command line does."""

    def run(*arguments: object) -> Said:
        capsys.readouterr()
        try:
            code = main([str(argument) for argument in arguments])
        except SystemExit as end:  # the parser leaves this way
            code = end.code if isinstance(end.code, int) else 1
        out, err = capsys.readouterr()
        return Said(int(code), out, err)

    return run


@pytest.fixture
def holds() -> Callable[[str, Any], None]:
    """Holds an answer to the shipped schema."""

    def check(name: str, data: Any) -> None:
        schema = json.loads((SCHEMAS / f"{name}.schema.json").read_text())
        jsonschema.Draft202012Validator.check_schema(schema)
        jsonschema.validate(data, schema, jsonschema.Draft202012Validator)

    return check
