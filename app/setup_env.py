"""Set the program up on this machine with nothing but Python's standard library, then start it.

    python3 app/setup_env.py                 set up, then open the program on the sample household
    python3 app/setup_env.py --test          set up with the test tools, then run every test
    python3 app/setup_env.py --only          set up and stop; with --test, the test tools too
    python3 app/setup_env.py --test -- -k fuel      what follows -- goes to pytest or the program

On Windows write `py` for `python3`. Every step may be repeated; a second run finds its work done.
Exit code 2: something is missing that only a person can install, and it has been named.
"""

import sys

# First of all, so that an older Python gives this sentence and not a traceback from further down.
if sys.version_info < (3, 11):  # noqa: UP036  # the script is started by whatever python3 is there
    sys.stderr.write(
        f"Firstpull needs Python 3.11 or newer; this is {sys.version.split()[0]}.\n"
        "Install a newer Python beside it and start this script with that one,"
        " for example: python3.11 app/setup_env.py, on Windows: py -3.11 app\\setup_env.py\n"
    )
    raise SystemExit(2)

import argparse
import ctypes
import hashlib
import importlib
import importlib.util
import json
import os
import platform
import shutil
import subprocess
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
ENVIRONMENT = ROOT / ".venv"
STAMP = ENVIRONMENT / "firstpull-setup.json"
LOCK = ROOT / "requirements.lock"
TEST_LOCK = ROOT / "requirements-test.lock"
WINDOWS = sys.platform == "win32"
PYTHON = ENVIRONMENT / ("Scripts/python.exe" if WINDOWS else "bin/python")
FONT_FOLDERS = ("/usr/share/fonts", "/usr/local/share/fonts", "~/.fonts", "~/.local/share/fonts")
STRAY = {"PYTHONHOME", "PYTHONPATH", "VIRTUAL_ENV"}
FONT_SUFFIXES = (".ttf", ".otf", ".ttc", ".pfb")


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """Something the operating system has to bring, and its package's name on three families."""

    apt: str
    dnf: str
    pacman: str
    sonames: tuple[str, ...] = ()
    only_for_a_window: bool = False


# Found with ldd over the Qt modules and plug-ins, then proved in an empty Debian 12.
LIBRARIES = (
    Part(
        apt="libglib2.0-0",
        dnf="glib2",
        pacman="glib2",
        sonames=("libglib-2.0.so.0", "libgthread-2.0.so.0"),
    ),
    Part(apt="libegl1", dnf="libglvnd-egl", pacman="libglvnd", sonames=("libEGL.so.1",)),
    Part(apt="libgl1", dnf="libglvnd-glx", pacman="libglvnd", sonames=("libGL.so.1",)),
    Part(apt="libx11-6", dnf="libX11", pacman="libx11", sonames=("libX11.so.6",)),
    Part(
        apt="libfontconfig1",
        dnf="fontconfig",
        pacman="fontconfig",
        sonames=("libfontconfig.so.1",),
    ),
    Part(apt="libfreetype6", dnf="freetype", pacman="freetype2", sonames=("libfreetype.so.6",)),
    Part(apt="libdbus-1-3", dnf="dbus-libs", pacman="dbus", sonames=("libdbus-1.so.3",)),
    Part(
        apt="libxkbcommon0",
        dnf="libxkbcommon",
        pacman="libxkbcommon",
        sonames=("libxkbcommon.so.0",),
    ),
    Part(
        apt="libxcb-cursor0",
        dnf="xcb-util-cursor",
        pacman="xcb-util-cursor",
        sonames=("libxcb-cursor.so.0",),
        only_for_a_window=True,
    ),
    Part(
        apt="libxcb-icccm4",
        dnf="xcb-util-wm",
        pacman="xcb-util-wm",
        sonames=("libxcb-icccm.so.4",),
        only_for_a_window=True,
    ),
    Part(
        apt="libxcb-keysyms1",
        dnf="xcb-util-keysyms",
        pacman="xcb-util-keysyms",
        sonames=("libxcb-keysyms.so.1",),
        only_for_a_window=True,
    ),
    Part(
        apt="libxcb-shape0",
        dnf="libxcb",
        pacman="libxcb",
        sonames=("libxcb-shape.so.0",),
        only_for_a_window=True,
    ),
    Part(
        apt="libxkbcommon-x11-0",
        dnf="libxkbcommon-x11",
        pacman="libxkbcommon-x11",
        sonames=("libxkbcommon-x11.so.0", "libxcb-xkb.so.1"),
        only_for_a_window=True,
    ),
)
FONT = Part(apt="fonts-dejavu-core", dnf="dejavu-sans-fonts", pacman="ttf-dejavu")
VENV = Part(
    # Debian keeps this half of Python in a package of its own, one for each Python.
    apt=f"python{sys.version_info[0]}.{sys.version_info[1]}-venv",
    dnf="python3",
    pacman="python",
)


class SetupError(Exception):
    """Carries the sentence a person has to read; the script then ends with exit code 2."""


def say(sentence: str) -> None:
    print(sentence, flush=True)


def loads(soname: str) -> bool:
    try:
        ctypes.CDLL(soname)
    except OSError:
        return False
    return True


def font_present() -> bool:
    for folder in FONT_FOLDERS:
        for _, _, names in os.walk(Path(folder).expanduser()):
            if any(name.lower().endswith(FONT_SUFFIXES) for name in names):
                return True
    return False


def display_present() -> bool:
    return bool(os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY"))


def missing_parts() -> list[Part]:
    missing: list[Part] = []
    importlib.invalidate_caches()
    if importlib.util.find_spec("ensurepip") is None and not same_python():
        missing.append(VENV)
    if sys.platform.startswith("linux"):
        missing += [part for part in LIBRARIES if not all(map(loads, part.sonames))]
        if not font_present():
            missing.append(FONT)
    return missing


def needed_now(parts: list[Part]) -> list[Part]:
    """Without a display the libraries that only a window needs can wait."""
    return [part for part in parts if display_present() or not part.only_for_a_window]


def packages_of(parts: list[Part], family: str) -> str:
    return " ".join(dict.fromkeys(str(getattr(part, family)) for part in parts))


def install_line(parts: list[Part]) -> str:
    """Names the parts and the one line that installs them, for each family if none is known."""
    lines = {
        "apt-get": f"sudo apt-get install {packages_of(parts, 'apt')}",
        "dnf": f"sudo dnf install {packages_of(parts, 'dnf')}",
        "pacman": f"sudo pacman -S --needed {packages_of(parts, 'pacman')}",
    }
    here = [line for tool, line in lines.items() if shutil.which(tool)] or list(lines.values())
    return (
        "Firstpull needs parts of the operating system that are not there yet.\n"
        "Install them with this line for your system, then start this script again:\n    "
        + "\n    ".join(here)
    )


def may_install() -> bool:
    return hasattr(os, "geteuid") and os.geteuid() == 0 and shutil.which("apt-get") is not None


def apt_get(*arguments: str) -> None:
    told = subprocess.run(
        ["apt-get", "-qq", "-o", "DPkg::Lock::Timeout=120", *arguments],
        env={**os.environ, "DEBIAN_FRONTEND": "noninteractive"},
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        errors="replace",
        check=False,
    )
    if told.returncode:
        say(told.stdout)


def apt_install(parts: list[Part]) -> None:
    """A stale list or a failed step is no reason to stop; what is missing afterwards decides."""
    packages = packages_of(parts, "apt").split()
    say(f"Installing with apt-get, since this runs as root: {' '.join(packages)}")
    apt_get("update")
    apt_get("install", "-y", "--no-install-recommends", *packages)


def ensure_system() -> None:
    """Raises SetupError with the line to run when a part is missing that cannot be installed."""
    missing = missing_parts()
    if missing and may_install():
        apt_install(missing)
        missing = missing_parts()
    if needed_now(missing):
        raise SetupError(install_line(missing))


def key_of(locks: list[Path]) -> str:
    """What an installation rests on: a change in any of it asks for a new one."""
    digest = hashlib.sha256()
    for part in (str(ROOT), platform.python_version(), platform.machine(), sys.platform):
        digest.update(part.encode() + b"\0")
    for path in (*locks, ROOT / "pyproject.toml", Path(__file__)):
        digest.update(path.read_bytes() + b"\0")
    return digest.hexdigest()


def stamped() -> dict[str, str]:
    try:
        return dict(json.loads(STAMP.read_text(encoding="utf-8")))
    except (OSError, ValueError):
        return {}


def surroundings() -> dict[str, str]:
    """The environment variables without those that would point .venv at another Python's parts."""
    kept = {name: value for name, value in os.environ.items() if name not in STRAY}
    return kept | {"PIP_USER": "0", "PIP_NO_INPUT": "1", "PIP_DISABLE_PIP_VERSION_CHECK": "1"}


def run(command: list[str], otherwise: str) -> None:
    """Raises SetupError with the sentence `otherwise` when the command fails."""
    try:
        code = subprocess.run(command, cwd=ROOT, env=surroundings(), check=False).returncode
    except OSError as fault:
        raise SetupError(f"{otherwise} ({fault})") from fault
    if code:
        raise SetupError(otherwise)


def same_python() -> bool:
    if not PYTHON.exists():
        return False
    told = subprocess.run(
        [str(PYTHON), "-c", "import platform, pip; print(platform.python_version())"],
        capture_output=True,
        text=True,
        check=False,
    )
    return told.stdout.strip() == platform.python_version()


def make_environment() -> None:
    if same_python():
        return
    say(f"Making the environment in {ENVIRONMENT}")
    # From within an environment the interpreter beneath it is asked, or --clear would saw it off.
    base = str(getattr(sys, "_base_executable", sys.executable))
    run(
        [base, "-m", "venv", "--clear", str(ENVIRONMENT)],
        f"The environment could not be made in {ENVIRONMENT}.",
    )


def install(*, with_tests: bool) -> None:
    """Bring .venv to what the lock files say; nothing is fetched that they do not name."""
    stage, lock = ("test", TEST_LOCK) if with_tests else ("program", LOCK)
    key = key_of([LOCK, lock])
    before = stamped()
    if before.get(stage) == key and PYTHON.exists():
        return
    if before.get("root", str(ROOT)) != str(ROOT):
        say("The folder has moved; the environment is made anew.")
        shutil.rmtree(ENVIRONMENT, ignore_errors=True)
    STAMP.unlink(missing_ok=True)
    make_environment()
    pip = [str(PYTHON), "-m", "pip", "install"]
    if not sys.stdout.isatty():
        pip.append("--quiet")
    say("Fetching the libraries, once; about 120 MB, with the test tools 250 MB.")
    run(
        [*pip, "--require-hashes", "--only-binary", ":all:", "-r", str(lock)],
        "The libraries could not be fetched. Is this machine connected, and does pip reach its"
        " package index?",
    )
    run(
        [*pip, "--no-index", "--no-deps", "--no-build-isolation", "-e", "."],
        "The program itself could not be installed into its environment.",
    )
    run(
        [str(PYTHON), "-c", "import PySide6.QtWidgets, PySide6.QtSvg, PySide6.QtPrintSupport"],
        "The window library was fetched but does not load; its message stands above.",
    )
    marks = {"root": str(ROOT), stage: key}
    if with_tests:
        marks["program"] = key_of([LOCK, LOCK])
    STAMP.write_text(json.dumps(marks), encoding="utf-8")


def start(arguments: list[str]) -> int:
    """Exit code of the program, or 130 when it was interrupted from the keyboard."""
    try:
        command = [str(PYTHON), "-m", *arguments]
        return subprocess.run(command, cwd=ROOT, env=surroundings(), check=False).returncode
    except KeyboardInterrupt:
        return 130


def run_tests(arguments: list[str]) -> int:
    # Never on the screen of the person at work, unless asked for by name.
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    # By file, so that what a file builds once is built once, in the order that tests/conftest.py
    # gives; four at most, for the memory.
    spread = ["-n", "auto", "--maxprocesses", "4", "--dist", "loadfile", "--no-loadscope-reorder"]
    return start(["pytest", "-q", *spread, *arguments])


def main(argv: list[str]) -> int:
    passed_on: list[str] = []
    if "--" in argv:
        at = argv.index("--")
        argv, passed_on = argv[:at], argv[at + 1 :]
    parser = argparse.ArgumentParser(
        prog="setup_env.py",
        description="Set Firstpull up in .venv and open it on the sample household.",
        epilog="What follows -- goes to the program, or with --test to pytest.",
    )
    parser.add_argument("--test", action="store_true", help="set up for tests and run them")
    parser.add_argument("--only", action="store_true", help="set up, start nothing")
    wanted = parser.parse_args(argv)
    try:
        ensure_system()
        install(with_tests=wanted.test)
    except SetupError as fault:
        print(fault, file=sys.stderr, flush=True)
        return 2
    program = Path(".venv", "Scripts" if WINDOWS else "bin", "firstpull")
    say(f"Firstpull is set up; from now on {program} starts it.")
    if wanted.only:
        return 0
    if wanted.test:
        return run_tests(passed_on)
    return start(["app", "demo", "--window", *passed_on])


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
