"""Before and after: begun, measured, made alike, closed; each step undone and done again."""

from dataclasses import replace
from datetime import date, timedelta
from fractions import Fraction

from app.trials.compared import judged
from models.acts.corrections import StrikeEntry
from models.acts.machines import RemoveMachine
from models.acts.trials import AddValues, BeginTrial, CloseTrial, SetConditions, Value
from models.changes import Area
from models.errors import RefusedCode
from models.facts.trials import Trial, read_trials
from models.tables.trials import TrialValueRow
from models.words import TrialSide
from resources.protocols import load_protocols
from schedules.trials import Verdict
from schedules.units import Typed, Unit
from tests.models.acts.shed import LONG, Shed, number_of

DAY, LATER = date(2025, 1, 10), date(2025, 1, 12)
METRE = 1_000_000
BEFORE, AFTER = TrialSide.BEFORE, TrialSide.AFTER
ALIKE = (
    ("snow", "packs"),
    ("depth", "middle"),
    ("surface", "smooth"),
    ("wind", "still"),
    ("chute", "yes"),
    ("revs", "yes"),
)
BEGIN = BeginTrial(
    machine_id=1,
    protocol="throw",
    day=DAY,
    job="How far it throws, after the work",
    work="flaps on the impeller",
    reference="the neighbour's",
)


def begun(shed: Shed) -> int:
    return number_of(shed.run(BEGIN), Area.TRIALS)


def values(side: TrialSide, day: date, *metres: float, trial: int = 1) -> AddValues:
    found = tuple(Value(amount=round(each * METRE)) for each in metres)
    return AddValues(trial_id=trial, side=side, day=day, values=found)


def read(shed: Shed) -> Trial:
    with shed.household.read() as session:
        (found,) = read_trials(
            session,
            machine_id=1,
            protocols=load_protocols(),
            on=shed.today,
        )
    return found


def test_a_waiting_after_side_is_a_job(shed: Shed):
    begun(shed)
    (job,) = shed.machine().jobs
    assert (job.text, job.waits_for) == (BEGIN.job, BEGIN.work)
    shed.run(CloseTrial(trial_id=1, day=LATER))
    assert shed.machine().jobs == ()
    assert read(shed).closed_on == LATER


def test_a_trial_given_up_drops_its_job(shed: Shed):
    begun(shed)
    shed.run(CloseTrial(trial_id=1, day=LATER, why="no snow came"))
    assert shed.machine().jobs == ()
    shed.refuses(CloseTrial(trial_id=1, day=LATER), RefusedCode.CLOSED_ALREADY, what="trial", id=1)
    shed.refuses(values(AFTER, LATER, 6), RefusedCode.CLOSED_ALREADY)


def test_a_verdict_from_the_file(shed: Shed):
    begun(shed)
    for side in TrialSide:
        shed.run(SetConditions(trial_id=1, side=side, answers=ALIKE))
    shed.run(values(BEFORE, DAY, 4.1, 3.8, 4.4, 4.0, 3.6, 4.2, 3.9, 4.3))
    shed.run(values(AFTER, LATER, 4.9, 5.3, 4.6, 5.1, 5.4, 4.8, 5.0, 4.7))
    found = read(shed)
    assert (found.differing, found.own_differing) == ((), ())
    verdict = judged(found)
    assert verdict.verdict is Verdict.BETTER
    assert verdict.ratio is not None
    assert round(verdict.ratio, 4) == 1.2222


def test_other_snow_is_no_verdict_but_for_a_reference(shed: Shed):
    begun(shed)
    wet = tuple(("snow", "wet") if code == "snow" else (code, said) for code, said in ALIKE)
    shed.run(SetConditions(trial_id=1, side=BEFORE, answers=ALIKE))
    shed.run(SetConditions(trial_id=1, side=AFTER, answers=wet))
    shed.run(values(BEFORE, DAY, 4.1, 3.8, 4.4, 4.0))
    shed.run(values(AFTER, LATER, 4.9, 5.3, 4.6, 5.1))
    assert read(shed).differing == ("snow",)
    assert judged(read(shed)).verdict is Verdict.CONDITIONS_DIFFER
    for side, day, far in ((BEFORE, DAY, 5.0), (AFTER, LATER, 5.5)):
        shed.run(replace(values(side, day, far), of_reference=True))
    assert judged(read(shed)).reference_ratio == 1.1
    shed.run(SetConditions(trial_id=1, side=AFTER, answers=(("revs", "no"),)))
    assert read(shed).own_differing == ("revs",)
    assert judged(read(shed)).verdict is Verdict.CONDITIONS_DIFFER


def test_what_nobody_said_is_not_alike(shed: Shed):
    begun(shed)
    shed.run(SetConditions(trial_id=1, side=BEFORE, answers=ALIKE))
    assert set(read(shed).differing) == {code for code, _ in ALIKE}


def test_a_value_is_struck_and_stays_in_the_file(shed: Shed):
    begun(shed)
    typed = Typed(stored=5_486_400, amount=Fraction(18), unit=Unit.FOOT, text="18 ft")
    one = Value(amount=typed.stored, typed=typed)
    shed.run(AddValues(trial_id=1, side=BEFORE, day=DAY, values=(one, one)))
    changes = shed.run(StrikeEntry(area=Area.TRIALS, entry_id=1))
    assert {(Area.TRIALS, 1), (Area.MACHINES, 1)} <= changes.ids
    assert read(shed).amounts(BEFORE) == (5_486_400,)
    assert len(shed.rows(TrialValueRow)) == 3
    shed.refuses(StrikeEntry(area=Area.TRIALS, entry_id=1), RefusedCode.ALREADY_CORRECTED)


def test_refusals(shed: Shed):
    begun(shed)
    cases: tuple[tuple[object, RefusedCode], ...] = (
        (replace(BEGIN, protocol="bucket"), RefusedCode.UNKNOWN_CODE),
        (replace(BEGIN, machine_id=9), RefusedCode.NOT_THERE),
        (replace(BEGIN, job=" "), RefusedCode.NOTHING_GIVEN),
        (replace(BEGIN, work=LONG), RefusedCode.TOO_LONG),
        (replace(BEGIN, day=shed.today + timedelta(1)), RefusedCode.DAY_AHEAD),
        (values(BEFORE, DAY), RefusedCode.NOTHING_GIVEN),
        (values(BEFORE, DAY, 0), RefusedCode.OUT_OF_RANGE),
        (values(BEFORE, DAY, 41), RefusedCode.OUT_OF_RANGE),
        (values(BEFORE, DAY - timedelta(1), 4), RefusedCode.DAY_TOO_EARLY),
        (values(BEFORE, DAY, 4, trial=2), RefusedCode.NOT_THERE),
        (SetConditions(trial_id=1, side=BEFORE, answers=()), RefusedCode.NOTHING_CHANGED),
        (
            SetConditions(trial_id=1, side=BEFORE, answers=(("wood", "same"),)),
            RefusedCode.UNKNOWN_CODE,
        ),
        (
            SetConditions(trial_id=1, side=BEFORE, answers=(("snow", "blue"),)),
            RefusedCode.UNKNOWN_CODE,
        ),
        (CloseTrial(trial_id=1, day=DAY - timedelta(1)), RefusedCode.DAY_TOO_EARLY),
        (RemoveMachine(machine_id=1), RefusedCode.HAS_RECORDS),
    )
    for act, code in cases:
        shed.refuses(act, code)


def test_a_reference_is_named_before_it_is_measured(shed: Shed):
    shed.run(replace(BEGIN, reference=""))
    act = replace(values(BEFORE, DAY, 5), of_reference=True)
    shed.refuses(act, RefusedCode.NOTHING_GIVEN, field="reference")
