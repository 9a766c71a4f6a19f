"""What finding a fault is expected to cost, minutes, model by model, as a table.

    python -m tests.fault_table [SYMPTOM ...]

Without any test; by the one-step rule; by the plan that looks further; the best there is, where
everything can be looked at in reasonable time (`tests/golden/faults.toml`). First with all tests
before the repairs, then with cures between the tests. Takes some minutes for all models.
"""

from __future__ import annotations

import sys
import tomllib
from collections.abc import Mapping
from pathlib import Path

from resources.fault_models import load_fault_models
from schedules.fault_facts import SymptomId
from schedules.fault_game import repair_cost, set_up
from schedules.fault_rule import Play
from schedules.fault_search import settled
from schedules.faults import begin

MODELS = load_fault_models()
GOLDEN = Path(__file__).parent / "golden" / "faults.toml"
HEAD = ("", "no test", "by rule", "ours", "best", "x best", "by rule", "ours", "best", "x best")


def known_best(symptom: str) -> Mapping[str, float]:
    rows = tomllib.loads(GOLDEN.read_text(encoding="utf-8"))["minutes"]
    return next((row for row in rows if row["symptom"] == symptom), {})


def figures(symptom: str) -> list[float | None]:
    """One row of the table; the best of two plays is None where nobody counted it."""
    game = set_up(MODELS.models[SymptomId(symptom)], begin(MODELS))
    start = game.start
    row: list[float | None] = [
        repair_cost(game, start.weights, start.open) / sum(start.weights),
    ]
    # The best of the two large models stands for fewer tests than they have.
    known = known_best(symptom)
    for play, name in ((Play.TESTS_FIRST, "best"), (Play.CURES_BETWEEN, "cures_best")):
        plan = settled(game, play)
        best = known.get(name)
        row += [plan.rule_minutes, plan.minutes, best, plan.minutes / best if best else None]
    return row


def told(row: list[float | None]) -> str:
    shares = (4, 8)
    return " ".join(
        f"{'-' if one is None else f'{one:.{4 if place in shares else 2}f}':>8}"
        for place, one in enumerate(row)
    )


def main() -> int:
    asked = sys.argv[1:] or sorted(MODELS.models)
    print(f"{'':5} {'':8} {'tests first':^35} {'cures between':^35}")
    print(f"{HEAD[0]:5} " + " ".join(f"{one:>8}" for one in HEAD[1:]))
    for symptom in asked:
        print(f"{symptom:5} {told(figures(symptom))}", flush=True)
    return 0


if __name__ == "__main__":
    sys.exit(main())
