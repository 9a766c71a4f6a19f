"""Whether a fault model makes sense: odds that sum up, readings that tell causes apart."""

from __future__ import annotations

from resources.reading import Table
from schedules.fault_facts import NONE_OF_THESE, Cause, FaultModel, FaultTest, Question

ODDS = 100
ODDS_OFF = 0.01
# A reading that moves no cause by so much is not worth the owner's time; a cause that nothing
# moves by so much cannot be found. Both bounds are our judgement.
READING_MOVES = 0.25
CAUSE_MOVES = 0.15
SLACK = 1e-9


def refuse_what_tells_nothing(table: Table, model: FaultModel) -> None:
    """Raises CatalogueError for odds that do not sum up, and for what cannot be told apart."""
    total = sum(cause.odds for cause in model.causes)
    if abs(total - ODDS) > ODDS_OFF + SLACK:
        raise table.refuse("cause", f"the odds sum to {total:g}, not to {ODDS}")
    if NONE_OF_THESE not in {cause.cause_id for cause in model.causes}:
        raise table.refuse("cause", f"{NONE_OF_THESE}, none of these, is missing")
    if sum(test.is_gate for test in model.tests) > 1:
        raise table.refuse("test", "there is more than one gate")
    for one in (*model.questions, *model.tests):
        if spread(one) < READING_MOVES - SLACK:
            raise table.refuse(str(one.reading_id), "tells nothing apart")
    for cause in model.causes:
        if cause.cause_id != NONE_OF_THESE and moved(model, cause) < CAUSE_MOVES - SLACK:
            raise table.refuse(f"cause[{cause.cause_id}]", "nothing tells it from the rest")


def spread(reading: Question | FaultTest) -> float:
    """The widest difference in one outcome's probability between two causes."""
    rows = [row for cause, row in reading.rows.items() if cause != NONE_OF_THESE]
    return max(max(column) - min(column) for column in zip(*rows, strict=True))


def moved(model: FaultModel, cause: Cause) -> float:
    """How far a cause stands from the mean of the others in the reading that shows it best."""
    others = [one for one in model.causes if one.cause_id not in {cause.cause_id, NONE_OF_THESE}]
    total = sum(one.odds for one in others)
    furthest = 0.0
    for reading in (*model.questions, *model.tests):
        for place, mine in enumerate(reading.rows[cause.cause_id]):
            mean = sum(one.odds * reading.rows[one.cause_id][place] for one in others) / total
            furthest = max(furthest, abs(mine - mean))
    return furthest
