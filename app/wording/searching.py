"""What a search for a fault says: chances in plain words, grounds of a step, what the file knew."""

from collections.abc import Mapping
from fractions import Fraction

from app.wording.languages import msg
from schedules.fault_facts import CostClass
from schedules.faults import AdviceKind, GroundCode

# Below so many in a hundred the odds are told as one in so many.
IN_TEN = Fraction(95, 1000)

GROUNDS: Mapping[GroundCode, str] = {
    GroundCode.WORKS_NOW: msg("After that it worked: {outcome}."),
    GroundCode.LEADS_TO_APPRAISAL: msg(
        "{outcome}: that is not put right on a bench like this. See first what it is worth."
    ),
    GroundCode.STOOD_LONG: msg(
        "It stood for {months}. What stood so long is looked over whole before anybody pulls on it."
    ),
    GroundCode.FREE_LOOK: msg(
        "A look that costs nothing comes first: what is simply off, shut or empty is found by it."
    ),
    GroundCode.TEST_PAYS: msg(
        "It settles most for its minutes: with it about {with_it} of work are to be expected until "
        "it runs, going straight at the repairs {without_it}."
    ),
    GroundCode.UNLOCKS: msg("Only after it this can be read: {reading}."),
    GroundCode.OUTCOME: msg("{outcome}: then {cause}, chance {odds}."),
    GroundCode.CURE_IS_NEXT: msg(
        "This is the cause in {odds} such cases, and to try its cure takes {minutes}."
    ),
    GroundCode.CURE_BEFORE_TEST: msg(
        "To try it now leaves about {with_it} to be expected, to test on first {without_it}."
    ),
    GroundCode.RECORD_COUNTED: msg("Taken from the file: {subject}."),
    GroundCode.ANSWER_COUNTED: msg("Your answer was counted, not the file: {subject}."),
}

SUBJECTS: Mapping[str, str] = {
    "months_parked": msg("how long it has stood ({value})"),
    "fuel_ageing": msg("how far its petrol has aged ({value})"),
    "bowl_left_wet": msg("whether petrol was left in its carburettor ({value})"),
    "hours_since_plug": msg("how old its spark plug is ({value})"),
    "hours_since_filter": msg("how old its air filter is ({value})"),
    "hours_since_sharpening": msg("when it was last sharpened ({value})"),
    "belt_years": msg("how old its belt is ({value})"),
    "battery_years": msg("how old its battery is ({value})"),
    "pack_years": msg("how old its battery pack is ({value})"),
    "rotor_hours": msg("how long its paddles have run ({value})"),
    "last_work": msg("what was last worked on ({value})"),
    "pins_used_this_season": msg("how often its shear pins broke this season ({value})"),
    "alkylate_only": msg("that its tank has held nothing but alkylate petrol"),
    "unknown_past": msg("that nobody knows its past"),
    "years_old": msg("its age ({value})"),
    "engine": msg("the sort of its engine"),
    "kind": msg("the type of machine"),
    "freezing": msg("that it freezes where it stands"),
}
RECORDED: Mapping[str, str] = {
    "yes": msg("yes"),
    "no": msg("no"),
    "belt": msg("a belt"),
    "carburettor": msg("the carburettor"),
    "blade": msg("the blade"),
    "paddles": msg("the paddles"),
    "shroud_or_starter": msg("the starter, or what is under its cover"),
}
OTHER_SUBJECT = msg("an entry of yours")

KINDS: Mapping[AdviceKind, str] = {
    AdviceKind.TEST: msg("Test"),
    AdviceKind.CURE: msg("Try this cure"),
    AdviceKind.WORKS: msg("It works"),
    AdviceKind.LOOK_OVER: msg("Look it over whole first"),
    AdviceKind.GO_ON: msg("Go on with another question"),
    AdviceKind.APPRAISE: msg("Is it worth it?"),
    AdviceKind.HAND_OVER: msg("Time to hand it over"),
}

LOOK_OVER_STEPS = msg(
    "Mice first: wet droppings down, mask on, nest out of starter, shroud, air box and silencer. "
    "Oil: between the marks, no petrol smell. Turn it by hand, plug out: does it turn? "
    "Old petrol out of tank and bowl, outdoors. Hose, cap and cables: look for cracks and for what "
    "sticks."
)
HAND_OVER_STEPS = msg(
    "What is left is beyond a home bench, or is nothing on our list. Take the record of this "
    "search with it to a workshop, or see first what the machine is worth."
)
APPRAISE_STEPS = msg(
    "Spend nothing more before you know what it is worth running and what this repair costs."
)
GO_ON_STEPS = msg("What you have seen belongs to another complaint. Go on there: {title}.")
WORKS_STEPS = msg(
    "Let it run ten minutes, at work if you can. Does it go on working? Then say what it was."
)

COSTS: Mapping[CostClass, str] = {
    CostClass.NONE: msg("costs nothing"),
    CostClass.SMALL: msg("needs a small part or a little fuel"),
    CostClass.PART: msg("needs a part to buy"),
    CostClass.WORKSHOP: msg("needs a workshop"),
}


def odds_words(share: float) -> tuple[str, int, int]:
    """A share of 1 as *6 in 10* or *1 in 30*: the sentence, and its two numbers."""
    exact = Fraction(share).limit_denominator(10**6)
    if exact >= IN_TEN:
        return msg("{n} in {of}"), max(1, min(round(exact * 10), 10)), 10
    for of in (15, 20, 30, 50, 100):
        if exact * of >= Fraction(3, 4):
            return msg("{n} in {of}"), 1, of
    return msg("less than {n} in {of}"), 1, 100
