import argparse
from importlib.metadata import PackageNotFoundError, version


def program_version() -> str:
    try:
        return version("firstpull")
    except PackageNotFoundError:  # started from a tree that was never installed
        return "0.1.0"


def main(argv: list[str] | None = None) -> int:
    parser = argparse.ArgumentParser(prog="firstpull")
    parser.add_argument("--version", action="version", version=f"firstpull {program_version()}")
    parser.parse_args(argv)
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
