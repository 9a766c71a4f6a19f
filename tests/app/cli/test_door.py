import io
import os
import socket
import subprocess
import sys
from pathlib import Path

import pytest

from app import errors
from app.cli import due
from app.cli.output import Output, printable
from app.screen import has_screen
from tests.app.cli.conftest import Run

HEAVY = ("sqlalchemy", "alembic", "reportlab", "babel", "PySide6", "resources.loader", "sqlite3")


def python(*arguments: str, **environment: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, *arguments],
        capture_output=True,
        text=True,
        check=False,
        env={**os.environ, **environment},
    )


def test_the_version_is_said_without_loading_anything_heavy():
    probe = (
        "import sys\nfrom app.__main__ import main\n"
        "try:\n    main(['--version'])\nexcept SystemExit:\n    pass\n"
        f"print([name for name in {HEAVY!r} if name in sys.modules])"
    )
    said = python("-c", probe)
    assert said.returncode == 0, said.stderr
    version, heavy = said.stdout.splitlines()
    assert version.startswith("firstpull ")
    assert heavy == "[]"


def test_the_program_starts_as_a_module():
    said = python("-m", "app", "--version")
    assert said.returncode == 0
    assert said.stdout.startswith("firstpull ")


@pytest.mark.parametrize(
    ("day", "sentence"),
    [
        ("2026-13-01", "“2026-13-01” is no day"),
        ("yesterday", "“yesterday” is no day"),
        ("20261201", "“20261201” is no day"),
        ("2026-W01-1", "“2026-W01-1” is no day"),
        ("٢٠٢٦-٠١-٠١", "is no day"),
        ("%s{0}", "“%s{0}” is no day"),
        ("9999-12-31", "is too far off"),
        ("0001-01-01", "is too far off"),
    ],
)
def test_a_bad_day_is_a_sentence_and_two(firstpull: Run, day: str, sentence: str):
    said = firstpull("due", "--on", day)
    assert said.code == 2
    assert sentence in said.err
    assert "usage:" not in said.err
    assert len(said.err.splitlines()) == 1


@pytest.mark.parametrize(
    "arguments",
    [
        ["mend"],
        ["due", "--fil", "x"],
        ["sheet", "preseason"],
        ["sheet", "poster", "-o", "x.pdf"],
        ["sheet", "card", "-o", "x.pdf", "--machine", "red"],
        ["sheet", "card", "-o", "x.pdf", "--paper", "a5"],
        ["export"],
        ["find", "will-not-start"],
        ["calendar", "out.ics"],
    ],
)
def test_what_cannot_be_asked_is_a_sentence_and_two(firstpull: Run, arguments: list[str]):
    said = firstpull(*arguments)
    assert said.code == 2
    assert len(said.err.splitlines()) == 1
    assert "--help" in said.err
    assert said.out == ""


@pytest.mark.parametrize("command", ["due", "fuel", "check", "backup"])
def test_a_missing_file_is_a_sentence_and_three(firstpull: Run, tmp_path: Path, command: str):
    path = tmp_path / "not here.firstpull"
    said = firstpull(command, "--file", path)
    assert said.code == 3
    assert said.err.startswith(f"There is no file at {path}.")
    assert len(said.err.splitlines()) == 1
    assert not path.exists()


def test_without_a_name_the_file_is_the_one_in_the_data_folder(firstpull: Run, own_folders: Path):
    said = firstpull("due")
    assert said.code == 3
    assert str(own_folders / "xdg_data_home" / "firstpull" / "household.firstpull") in said.err


@pytest.mark.parametrize(
    "content", [b"", b"no household at all", b"SQLite format 3\0" + bytes(200)]
)
def test_a_file_of_another_kind_is_a_sentence_and_three(
    firstpull: Run, tmp_path: Path, content: bytes
):
    path = tmp_path / "other"
    path.write_bytes(content)
    for command in ("due", "fuel", "check", "backup"):
        said = firstpull(command, "--file", path)
        assert said.code == 3
        assert str(path) in said.err
        assert path.read_bytes() == content
    assert firstpull("due", "--file", tmp_path).code == 3


def test_options_may_stand_before_the_command_or_after_it(firstpull: Run, tmp_path: Path):
    before = firstpull("--file", tmp_path / "a", "due")
    after = firstpull("due", "--file", tmp_path / "a")
    assert (before.code, before.err) == (after.code, after.err)


def test_a_fault_of_the_program_is_one_calm_sentence_and_a_log(
    firstpull: Run, own_folders: Path, monkeypatch: pytest.MonkeyPatch
):
    def breaks(call: object) -> int:
        raise RuntimeError("a wire came off {here} 100%")

    monkeypatch.setattr(due, "run_due", breaks)
    said = firstpull("due")
    log = own_folders / "xdg_state_home" / "firstpull" / errors.LOG_NAME
    assert said.code == 3
    assert len(said.err.splitlines()) == 1
    assert "Traceback" not in said.err
    assert str(log) in said.err
    assert "a wire came off {here} 100%" in log.read_text()
    assert "Traceback" in log.read_text()


def test_a_fault_that_cannot_be_written_down_is_still_said(
    firstpull: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    (tmp_path / "in the way").write_text("")
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "in the way"))

    def breaks(call: object) -> int:
        raise RuntimeError

    monkeypatch.setattr(due, "run_due", breaks)
    said = firstpull("due")
    assert said.code == 3
    assert "could not be written down" in said.err


def test_the_log_of_faults_does_not_grow_without_end(tmp_path: Path):
    log = tmp_path / errors.LOG_NAME
    log.write_text("x" * (errors.MOST_BYTES + 1))
    from app import clock

    assert errors.log_fault(RuntimeError("again"), tmp_path, now=clock.moment().now) == log
    assert log.stat().st_size < 10_000


@pytest.mark.parametrize("arguments", [["--help"], ["restore", "--list"]])
def test_a_reader_who_has_gone_is_no_fault(own_folders: Path, arguments: list[str]):
    listening, speaking = os.pipe()
    os.close(listening)
    with os.fdopen(speaking, "wb") as gone:
        said = subprocess.run(
            [sys.executable, "-m", "app", *arguments],
            stdout=gone,
            stderr=subprocess.PIPE,
            text=True,
            check=False,
        )
    assert said.stderr == ""
    assert not own_folders.joinpath("xdg_state_home").exists()


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("Red one", "Red one"),
        ("a\nb\tc", "a b c"),
        ("\x1b[31mred", "\ufffd[31mred"),
        ("\u202eback", "\ufffdback"),
        ("Grüne Säge “№ 1”", "Grüne Säge “№ 1”"),
    ],
)
def test_nothing_a_terminal_would_obey_is_printed(text: str, shown: str):
    assert printable(text) == shown


def test_a_terminal_without_our_letters_still_gets_the_sentence():
    raw = io.BytesIO()
    narrow = io.TextIOWrapper(raw, encoding="ascii")
    Output(narrow, narrow).say("“Säge” – fällig")
    narrow.flush()
    assert raw.getvalue().startswith(b"\\u201cS\\xe4ge")


def test_a_screen_is_there_when_somebody_answers(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr("app.screen.X_SOCKETS", str(tmp_path))
    monkeypatch.setattr("sys.platform", "linux")
    assert not has_screen({})
    assert not has_screen({"DISPLAY": ":7"})
    assert not has_screen({"WAYLAND_DISPLAY": "wayland-0", "XDG_RUNTIME_DIR": str(tmp_path)})
    assert has_screen({"QT_QPA_PLATFORM": "offscreen"})
    with socket.socket(socket.AF_UNIX) as server:
        server.bind(str(tmp_path / "X7"))
        server.listen()
        assert has_screen({"DISPLAY": ":7"})
        assert has_screen({"DISPLAY": ":7.0"})
        assert not has_screen({"DISPLAY": ":8"})


def test_without_a_screen_the_window_is_a_sentence(firstpull: Run, monkeypatch: pytest.MonkeyPatch):
    for name in ("QT_QPA_PLATFORM", "DISPLAY", "WAYLAND_DISPLAY"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setattr("sys.platform", "linux")
    said = firstpull()
    assert said.code == 2
    assert "no screen here" in said.err


def test_the_language_is_the_users(firstpull: Run, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setenv("LC_ALL", "en_US.UTF-8")
    said = firstpull("due", "--on", "1850-01-01")
    assert "Tue, Jan 1, 1850 is too far off" in said.err


@pytest.fixture
def window(monkeypatch: pytest.MonkeyPatch) -> list[dict[str, object]]:
    """What windows would be opened with, on a screen that is there."""
    monkeypatch.setenv("QT_QPA_PLATFORM", "offscreen")
    opened: list[dict[str, object]] = []

    def opens(path: Path, **given: object) -> int:
        opened.append({"path": path, **given})
        return 0

    monkeypatch.setattr("app.opening.open_window", opens)
    return opened


def test_only_the_file_in_its_own_place_is_begun_unasked(
    firstpull: Run, tmp_path: Path, window: list[dict[str, object]]
):
    file = tmp_path / "typo.firstpull"
    assert firstpull().code == firstpull("--file", file).code == 0
    assert firstpull("--new", "--file", file).code == 0
    assert [opened["begin"] for opened in window] == [True, False, True]
    file.write_bytes(b"x")
    said = firstpull("--new", "--file", file)
    assert said.code == 3
    assert f"There is already something at {file}" in said.err
    assert len(window) == 3
