"""What finding a fault is expected to cost, minutes, model by model, as a table.

    python -m tests.fault_table [SYMPTOM ...]

Without any test; by the one-step rule; by the plan that looks further; the best there is, where
everything can be looked at in reasonable time (`tests/golden/faults.toml`). First with all tests
before the repairs, then with cures between the tests. Takes some minutes for all models.

By rule: followed to the end where that was counted apart from this program. Elsewhere (marked ~)
as the look ahead counts it: what comes about less than twice in ten thousand is reckoned one step
ahead there and no further, so that the figure lies a little above the rule's own, never below.
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
        counted = known.get("by_rule" if play is Play.TESTS_FIRST else "cures_by_rule")
        rule = plan.rule_minutes if counted is None else counted
        row += [rule, plan.minutes, best, plan.minutes / best if best else None]
    return row


def guessed(symptom: str) -> set[int]:
    """Places in the row whose rule was only counted by the look ahead."""
    known = known_best(symptom)
    return {place for place, name in ((1, "by_rule"), (5, "cures_by_rule")) if name not in known}


def told(row: list[float | None], guesses: set[int]) -> str:
    shares = (4, 8)
    said = [
        "-" if one is None else f"{one:.{4 if place in shares else 2}f}"
        for place, one in enumerate(row)
    ]
    said = [f"~{one}" if place in guesses and one != "-" else one for place, one in enumerate(said)]
    return " ".join(f"{one:>8}" for one in said)


def main() -> int:
    asked = sys.argv[1:] or sorted(MODELS.models)
    print(f"{'':5} {'':8} {'tests first':^35} {'cures between':^35}")
    print(f"{HEAD[0]:5} " + " ".join(f"{one:>8}" for one in HEAD[1:]))
    for symptom in asked:
        print(f"{symptom:5} {told(figures(symptom), guessed(symptom))}", flush=True)
    return 0


if __name__ == "__main__":
    sys.exit(main())
