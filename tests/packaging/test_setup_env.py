"""The set-up script says in one sentence what is missing, and does nothing it was not asked for."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from app import setup_env

ROOT = Path(__file__).resolve().parents[2]
SCRIPT = ROOT / "app" / "setup_env.py"
NOWHERE = setup_env.Part(
    apt="libnowhere9", dnf="nowhere-libs", pacman="nowhere", sonames=("libnowhere.so.9",)
)
NO_WINDOW = setup_env.Part(
    apt="libnopane9",
    dnf="nopane-libs",
    pacman="nopane",
    sonames=("libnopane.so.9",),
    only_for_a_window=True,
)

linux = pytest.mark.skipif(not sys.platform.startswith("linux"), reason="wheels carry all there")


@pytest.fixture
def bare(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Path:
    """A machine with fonts, without any package tool, without a display, in an empty folder."""
    for name in ("DISPLAY", "WAYLAND_DISPLAY"):
        monkeypatch.delenv(name, raising=False)
    fonts = tmp_path / "fonts"
    fonts.mkdir()
    (fonts / "plain.TTF").touch()
    monkeypatch.setenv("PATH", str(tmp_path))
    monkeypatch.setattr(setup_env, "FONT_FOLDERS", (str(fonts),))
    monkeypatch.setattr(setup_env, "LIBRARIES", ())
    monkeypatch.setattr(setup_env, "ENVIRONMENT", tmp_path / ".venv")
    monkeypatch.setattr(setup_env, "STAMP", tmp_path / ".venv" / "stamp.json")
    monkeypatch.setattr(setup_env, "PYTHON", tmp_path / ".venv" / "python")
    return tmp_path


def tool(folder: Path, name: str) -> None:
    (folder / name).write_text("#!/bin/sh\nexit 0\n", encoding="utf-8")
    (folder / name).chmod(0o755)


def test_an_older_python_gets_a_sentence_and_no_traceback():
    source = (
        "import sys\nsys.version_info = (3, 9, 2, 'final', 0)\n"
        f"exec(compile(open({str(SCRIPT)!r}).read(), 'setup_env.py', 'exec'), "
        "{'__file__': 'app/setup_env.py', '__name__': '__main__'})"
    )
    told = subprocess.run(
        [sys.executable, "-c", source], capture_output=True, text=True, check=False
    )
    assert told.returncode == 2
    assert "needs Python 3.11 or newer" in told.stderr
    assert "Traceback" not in told.stderr


def test_it_needs_the_standard_library_only():
    told = subprocess.run(
        [sys.executable, "-I", "-S", str(SCRIPT), "--help"],
        capture_output=True,
        text=True,
        check=False,
    )
    assert told.returncode == 0, told.stderr
    assert "--only" in told.stdout


@linux
@pytest.mark.parametrize(
    ("present", "line"),
    [
        ("dnf", "sudo dnf install nowhere-libs"),
        ("pacman", "sudo pacman -S --needed nowhere"),
    ],
)
def test_a_missing_library_is_named_with_the_line_for_this_system(
    bare: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    present: str,
    line: str,
):
    monkeypatch.setattr(setup_env, "LIBRARIES", (NOWHERE,))
    tool(bare, present)
    assert setup_env.main(["--only"]) == 2
    told = capsys.readouterr().err.splitlines()
    assert [text.strip() for text in told if "sudo" in text] == [line]
    assert not (bare / ".venv").exists()


@linux
def test_on_an_unknown_system_the_line_of_each_family_is_given(
    bare: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
):
    monkeypatch.setattr(setup_env, "LIBRARIES", (NOWHERE,))
    assert setup_env.main([]) == 2
    told = capsys.readouterr().err
    for package in ("libnowhere9", "nowhere-libs", "--needed nowhere"):
        assert package in told


@linux
def test_what_only_a_window_needs_can_wait_until_there_is_a_display(
    bare: Path, monkeypatch: pytest.MonkeyPatch
):
    monkeypatch.setattr(setup_env, "LIBRARIES", (NO_WINDOW,))
    setup_env.ensure_system()
    monkeypatch.setenv("DISPLAY", ":0")
    with pytest.raises(setup_env.SetupError, match="libnopane9"):
        setup_env.ensure_system()


@linux
def test_a_machine_without_any_font_is_asked_for_one(bare: Path, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr(setup_env, "FONT_FOLDERS", (str(bare / "none"),))
    with pytest.raises(setup_env.SetupError, match="fonts-dejavu-core"):
        setup_env.ensure_system()


@linux
def test_a_python_without_its_environment_half_is_asked_for_it(
    bare: Path, monkeypatch: pytest.MonkeyPatch
):
    monkeypatch.setattr(setup_env.importlib.util, "find_spec", lambda _name: None)
    with pytest.raises(setup_env.SetupError, match=r"python3\.\d+-venv"):
        setup_env.ensure_system()


@linux
@pytest.mark.skipif(os.name != "posix" or os.geteuid() != 0, reason="only root installs")
def test_root_with_apt_installs_without_asking(
    bare: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
):
    monkeypatch.setattr(setup_env, "LIBRARIES", (NOWHERE,))
    record = bare / "asked"
    (bare / "apt-get").write_text(
        f'#!/bin/sh\necho "$DEBIAN_FRONTEND $*" >> {record}\n', encoding="utf-8"
    )
    (bare / "apt-get").chmod(0o755)
    # The stand-in installs nothing, so the library is still missing afterwards.
    assert setup_env.main(["--only"]) == 2
    assert (
        "Installing with apt-get, since this runs as root: libnowhere9" in capsys.readouterr().out
    )
    update, install = record.read_text(encoding="utf-8").splitlines()
    assert update.startswith("noninteractive")
    assert update.endswith("update")
    assert install.endswith("install -y --no-install-recommends libnowhere9")


def test_it_never_runs_sudo_nor_names_a_host():
    source = SCRIPT.read_text(encoding="utf-8")
    assert "://" not in source
    assert '"sudo"' not in source


def test_a_changed_lock_asks_for_a_new_installation(tmp_path: Path):
    lock = tmp_path / "some.lock"
    lock.write_text("a==1\n", encoding="utf-8")
    before = setup_env.key_of([lock])
    assert setup_env.key_of([lock]) == before
    lock.write_text("a==2\n", encoding="utf-8")
    assert setup_env.key_of([lock]) != before


def test_what_follows_two_dashes_is_passed_on(bare: Path, monkeypatch: pytest.MonkeyPatch):
    started: list[list[str]] = []
    monkeypatch.setattr(setup_env, "ensure_system", lambda: None)
    monkeypatch.setattr(setup_env, "install", lambda **_: None)

    def start(arguments: list[str]) -> int:
        started.append(arguments)
        return 7

    monkeypatch.setattr(setup_env, "start", start)
    assert setup_env.main(["--test", "--", "-k", "fuel"]) == 7
    assert setup_env.main(["--", "--on", "2026-11-01"]) == 7
    assert setup_env.main(["--only"]) == 0
    assert started[0][0] == "pytest"
    assert started[0][-2:] == ["-k", "fuel"]
    assert started[1:] == [["app", "demo", "--window", "--on", "2026-11-01"]]
