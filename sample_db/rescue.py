"""How the big thrower, which nobody had looked after, was made to throw again: found, measured
before and after in the same snow, paid for. Told in the first winter."""

from __future__ import annotations

from datetime import timedelta

from models.acts.readings import Measured
from models.acts.trials import AddValues, BeginTrial, CloseTrial, SetConditions, Value
from models.changes import Area
from models.words import LineOutcome, PaymentSort, TrialSide
from sample_db.chronicle import Chronicle, Make
from sample_db.deeds import fault, line, measure, paid, put_right, work
from sample_db.house import TOMAS
from sample_db.snow import BIG
from sample_db.weather import storms

WEAK, THROWN = "throws weakly", "throws before and after"
_ALIKE = (
    ("snow", "packs"),
    ("depth", "middle"),
    ("surface", "smooth"),
    ("wind", "still"),
    ("chute", "yes"),
    ("revs", "yes"),
)
_METRES = {
    TrialSide.BEFORE: (4.1, 3.8, 4.4, 4.0, 3.6, 4.2, 3.9, 4.3),
    TrialSide.AFTER: (4.9, 5.3, 4.6, 5.1, 5.4, 4.8, 5.0, 4.7),
}


def tell(story: Chronicle) -> None:
    """From the day it came to the throws that proved the work."""
    came = story.begun
    story.add(
        came,
        fault(BIG, came, "Throws four metres, wet snow sticks in the chute", note="Said so there."),
        name=WEAK,
    )
    tried = storms(story)[1].day
    story.add(
        tried - timedelta(days=20),
        paid(
            tried - timedelta(days=20),
            PaymentSort.PART,
            1850,
            machine=BIG,
            text="rubber sheet and bolts for flaps",
        ),
    )
    story.add(tried, measure(BIG, tried, Measured(task="S2-10", limit="L13", amount=9_000)))
    story.add(tried, _begun(story), name=THROWN)
    for side in TrialSide:
        story.add(tried, _alike(side))
    story.add(tried, _thrown(story, TrialSide.BEFORE))
    fitted = line(
        "S2-10", LineOutcome.REPLACED, part="impeller-flaps", spec="four flaps cut from a sheet"
    )
    after = Measured(task="S2-10", limit="L13", amount=1_500, after_work=True)
    story.add(
        tried,
        work(BIG, tried, [fitted], measured=[after], minutes=95, by=TOMAS),
    )
    story.add(tried, put_right(WEAK, tried, "flaps on the impeller"))
    story.add(tried, _thrown(story, TrialSide.AFTER))
    story.add(
        tried,
        lambda shed: CloseTrial(trial_id=shed.of(Area.TRIALS, THROWN), day=tried),
    )


def _begun(story: Chronicle) -> Make:
    day = storms(story)[1].day
    return lambda shed: BeginTrial(
        machine_id=shed.machine(BIG),
        protocol="throw",
        day=day,
        job="Throw again once the flaps are on",
        work="flaps on the impeller",
    )


def _alike(side: TrialSide) -> Make:
    return lambda shed: SetConditions(
        trial_id=shed.of(Area.TRIALS, THROWN), side=side, answers=_ALIKE
    )


def _thrown(story: Chronicle, side: TrialSide) -> Make:
    day = storms(story)[1].day
    values = tuple(Value(amount=round(metres * 1_000_000)) for metres in _METRES[side])
    return lambda shed: AddValues(
        trial_id=shed.of(Area.TRIALS, THROWN), side=side, day=day, values=values
    )
