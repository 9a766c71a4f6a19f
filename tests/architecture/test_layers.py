"""The direction of imports: the contracts hold, and each of them can be broken."""

import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
LINT_IMPORTS = "from importlinter.cli import lint_imports_command; lint_imports_command()"

# One trespass for each contract, in the order in which pyproject.toml states them.
TRESPASSES = {
    "models/tables.py": "import app.hub\n",
    "schedules/plan.py": "import sqlalchemy\n",
    "models/file.py": "import reportlab\n",
    "resources/kinds.py": "import sqlite3\n",
    "app/sheets/card.py": "import app.hub\n",
    "app/fleet.py": "import sqlalchemy\n",
    "models/writer.py": "import schedules.plan\n",
    "schedules/facts.py": "import schedules.reasons\n",
    "schedules/reasons.py": "import schedules.facts\n",
    "app/hub.py": "import PySide6\n",
    "schedules/units.py": "",
    "app/wording/words.py": "",
    "sample_db/build.py": "",
}


def lint_imports(folder: Path) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-P", "-c", LINT_IMPORTS, "--no-cache"],
        cwd=folder,
        capture_output=True,
        text=True,
        check=False,
    )


def contract_names() -> list[str]:
    stated = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    return [contract["name"] for contract in stated["tool"]["importlinter"]["contracts"]]


@pytest.mark.lint
def test_every_contract_is_kept():
    told = lint_imports(ROOT)
    assert told.returncode == 0, told.stdout + told.stderr


def test_every_contract_can_be_broken(tmp_path: Path):
    (tmp_path / "pyproject.toml").write_bytes((ROOT / "pyproject.toml").read_bytes())
    for name, source in TRESPASSES.items():
        file = tmp_path / name
        file.parent.mkdir(parents=True, exist_ok=True)
        (file.parent / "__init__.py").touch()
        file.write_text(source, encoding="utf-8")
    told = lint_imports(tmp_path)
    kept = [name for name in contract_names() if f"{name} BROKEN" not in told.stdout]
    assert not kept, told.stdout + told.stderr
