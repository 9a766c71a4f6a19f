"""The lock files say exactly what is installed, from wherever pip fetches, for every system.

After a change of dependencies in pyproject.toml both are made anew, with uv, by

    uv pip compile pyproject.toml --group build --universal --python-version 3.11 \\
        --fork-strategy fewest --generate-hashes --no-emit-index-url --no-header \\
        -o requirements.lock
    uv pip compile pyproject.toml --group build --extra test -c requirements.lock --universal \\
        --python-version 3.11 --fork-strategy fewest --generate-hashes --no-emit-index-url \\
        --no-header -o requirements-test.lock

Add `--upgrade` to move to newer releases; without it the versions that are locked stay.
"""

import re
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest
from packaging.markers import Marker
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

ROOT = Path(__file__).resolve().parents[2]
STATED = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
LOCKS = ("requirements.lock", "requirements-test.lock")
MACHINES = [
    {
        "python_version": python,
        "python_full_version": f"{python}.2",
        "sys_platform": system,
        "platform_system": {"linux": "Linux", "darwin": "Darwin", "win32": "Windows"}[system],
        "platform_python_implementation": "CPython",
        "implementation_name": "cpython",
    }
    for python in ("3.11", "3.12", "3.13")
    for system in ("linux", "darwin", "win32")
]


@dataclass(frozen=True, slots=True, kw_only=True)
class Pin:
    name: str
    version: str
    marker: Marker | None
    hashes: list[str]

    def holds_on(self, machine: dict[str, str]) -> bool:
        return self.marker is None or self.marker.evaluate(dict(machine))


def pins_in(lock: str) -> list[Pin]:
    text = (ROOT / lock).read_text(encoding="utf-8").replace("\\\n", " ")
    pins: list[Pin] = []
    for line in text.splitlines():
        if not line.strip() or line.lstrip().startswith("#"):
            continue
        wanted = Requirement(re.split(r"\s--hash=", line, maxsplit=1)[0])
        exactly = re.fullmatch(r"==([^*]+)", str(wanted.specifier))
        assert exactly, f"{line.split()[0]} is not pinned to one version"
        pins.append(
            Pin(
                name=canonicalize_name(wanted.name),
                version=exactly[1],
                marker=wanted.marker,
                hashes=re.findall(r"--hash=(\S*)", line),
            )
        )
    return pins


def asked_for(*, with_tests: bool) -> Iterator[Requirement]:
    lines = [*STATED["project"]["dependencies"], *STATED["dependency-groups"]["build"]]
    if with_tests:
        lines += STATED["project"]["optional-dependencies"]["test"]
    yield from map(Requirement, lines)


def unmet(wanted: Requirement, pins: list[Pin], machine: dict[str, str]) -> bool:
    if wanted.marker is not None and not wanted.marker.evaluate(dict(machine)):
        return False
    taken = [
        pin.version
        for pin in pins
        if pin.name == canonicalize_name(wanted.name) and pin.holds_on(machine)
    ]
    return len(taken) != 1 or not wanted.specifier.contains(taken[0])


@pytest.mark.parametrize("lock", LOCKS)
def test_a_lock_names_no_host(lock: str):
    text = (ROOT / lock).read_text(encoding="utf-8")
    assert "http" not in text
    assert "://" not in text
    assert not re.search(r"^\s*-(?!-hash)", text, re.MULTILINE), "an option to pip stands in it"


@pytest.mark.parametrize("lock", LOCKS)
def test_each_line_of_a_lock_is_pinned_and_hashed(lock: str):
    pins = pins_in(lock)
    assert pins
    assert not [pin.name for pin in pins if not pin.hashes]
    whole = re.compile(r"sha256:[0-9a-f]{64}")
    assert not [text for pin in pins for text in pin.hashes if not whole.fullmatch(text)]


@pytest.mark.parametrize(("lock", "with_tests"), [(LOCKS[0], False), (LOCKS[1], True)])
def test_a_lock_satisfies_what_is_asked_for_on_every_system(lock: str, with_tests: bool):
    pins = pins_in(lock)
    assert not [
        f"{wanted} on {machine['python_version']} {machine['sys_platform']}"
        for wanted in asked_for(with_tests=with_tests)
        for machine in MACHINES
        if unmet(wanted, pins, machine)
    ]


def test_who_only_uses_the_program_gets_no_test_tools():
    names = {pin.name for pin in pins_in("requirements.lock")}
    assert not names & {"pytest", "hypothesis", "ruff", "pyright", "numpy", "scipy"}


def test_both_locks_agree():
    tested = {(pin.name, pin.version) for pin in pins_in("requirements-test.lock")}
    assert not [
        pin for pin in pins_in("requirements.lock") if (pin.name, pin.version) not in tested
    ]


def test_no_version_of_the_window_library_that_loses_none_on_3_11():
    for machine in MACHINES:
        if machine["python_version"] == "3.11":
            for pin in pins_in("requirements-test.lock"):
                if pin.name in {"pyside6-essentials", "shiboken6"} and pin.holds_on(machine):
                    assert tuple(map(int, pin.version.split(".")[:2])) < (6, 12)
