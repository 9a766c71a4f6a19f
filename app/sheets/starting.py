"""How machines are started, stopped and put away, in words for anyone: by kind and by feature.

Words between stars are said with weight. All steps are common practice, no source; what a machine
has decides which of them stand. A feature nobody answered leaves a step with *if it has one*.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from app.wording.languages import msg
from schedules.facts import CautionCode, FeatureCode, KindCode


class Sort(StrEnum):
    """What a machine is to someone who only wants to start it."""

    SNOW = "snow"
    MOWER = "mower"
    RIDE_ON = "ride_on"
    TILLER = "tiller"
    WASHER = "washer"
    GENERATOR = "generator"
    SPLITTER = "splitter"
    CHIPPER = "chipper"
    PUMP = "pump"
    FOUR_STROKE_HAND = "four_stroke_hand"
    SAW = "saw"
    TWO_STROKE_HAND = "two_stroke_hand"
    BATTERY_SNOW = "battery_snow"
    BATTERY_MOWER = "battery_mower"
    BATTERY_HAND = "battery_hand"


SORTS: Mapping[KindCode, Sort] = {
    KindCode("K01"): Sort.SNOW,
    KindCode("K02"): Sort.SNOW,
    KindCode("K03"): Sort.BATTERY_SNOW,
    KindCode("K04"): Sort.MOWER,
    KindCode("K05"): Sort.RIDE_ON,
    KindCode("K06"): Sort.BATTERY_MOWER,
    KindCode("K07"): Sort.TWO_STROKE_HAND,
    KindCode("K08"): Sort.FOUR_STROKE_HAND,
    KindCode("K09"): Sort.SAW,
    KindCode("K10"): Sort.BATTERY_HAND,
    KindCode("K11"): Sort.TWO_STROKE_HAND,
    KindCode("K12"): Sort.TWO_STROKE_HAND,
    KindCode("K13"): Sort.TILLER,
    KindCode("K14"): Sort.WASHER,
    KindCode("K15"): Sort.GENERATOR,
    KindCode("K16"): Sort.SPLITTER,
    KindCode("K17"): Sort.CHIPPER,
    KindCode("K18"): Sort.PUMP,
}

TWO_STROKE = frozenset({Sort.SAW, Sort.TWO_STROKE_HAND})
BATTERY = frozenset({Sort.BATTERY_SNOW, Sort.BATTERY_MOWER, Sort.BATTERY_HAND})

FIRST: Mapping[Sort, str] = {
    Sort.SNOW: msg("Doors open. Push it *outside*."),
    Sort.MOWER: msg("Push it *outside*, onto short grass or bare ground."),
    Sort.RIDE_ON: msg("Doors open. Sit on it: brake *down*, blades *off*, gear *neutral*."),
    Sort.TILLER: msg("Push it *outside*. Tines off the ground, lever *let go*."),
    Sort.WASHER: msg("Outside. Hose on, *water running*; squeeze the gun until no air comes."),
    Sort.GENERATOR: msg("Outside, level, exhaust *away from every house*. Nothing plugged in."),
    Sort.SPLITTER: msg("Outside, level, wheels wedged. *One person* at the levers."),
    Sort.CHIPPER: msg("Outside, level. Hopper *empty*, guards shut, nobody near."),
    Sort.PUMP: msg("Outside, beside the water. Fill its body with water: *never run it dry*."),
    Sort.FOUR_STROKE_HAND: msg("Outside, on bare ground. *Guard fitted*, nobody near."),
    Sort.SAW: msg("Outside, on bare ground. Chain brake *ON*, nobody near."),
    Sort.TWO_STROKE_HAND: msg("Outside, on bare ground. *Guard fitted*, nobody near."),
    Sort.BATTERY_SNOW: msg("Push it *outside*. Chute empty, cord or pack still *out*."),
    Sort.BATTERY_MOWER: msg("Push it *outside*. Handle folded out and *locked*."),
    Sort.BATTERY_HAND: msg("Outside. *Guard fitted*, nobody near."),
}

OIL = msg("Oil: stick out, wipe, in, out, read. *Between the marks.*")
FUEL = msg("Look into the tank: fuel? Fill it only when the engine is *cold*.")
MIX = msg("Fuel: *two-stroke mix*, never plain petrol. Shake the can first.")
KEY: Mapping[Sort, str] = {Sort.SNOW: msg("Key *IN*, switch *ON*.")}
SWITCH = msg("Switch *ON*.")
BRAKE_BAR = msg("Press the bar to the handle and *keep it there*.")
THROTTLE = msg("Throttle to *FAST*, if it has a lever.")
CHOKE = msg("Choke *FULL* when it is cold, *OFF* when it is warm.")
SAW_HOLD = msg("Saw on the ground, foot in the handle. *Never start it in the air.*")

VALVE: Mapping[str | None, str] = {
    "yes": msg("Fuel valve to *ON*. Count to 60."),
    None: msg("Fuel valve, *if it has one*, to *ON*. Count to 60."),
}
BULB: Mapping[str | None, str] = {
    "yes": msg("Bulb: *three* slow presses when cold, none when warm."),
    None: msg("Bulb, *if it has one*: *three* slow presses when cold, none when warm."),
}
BULB_SMALL: Mapping[str | None, str] = {
    "yes": msg("Bulb: press until you *see fuel* in it."),
    None: msg("Bulb, *if it has one*: press until you *see fuel* in it."),
}
START: Mapping[str | None, str] = {
    "cord": msg("Pull slowly until it is stiff, then *one long pull*."),
    "mains": msg(
        "Pull slowly until it is stiff, then *one long pull*. Or cord in, button 5 seconds."
    ),
    "battery": msg("Turn the key to *START*, 5 seconds at most. Wait a minute, again."),
    None: msg("Pull slowly until it is stiff, then *one long pull*."),
}
COUGHS = msg("It coughs: choke *HALF*, again. It runs: choke *OFF* slowly.")
COUGHS_SMALL = msg("It coughs, or after six pulls: choke *OFF*, pull until it runs.")
IDLE = msg("Tap the throttle once. At idle the tool must *stand still*.")

LAST: Mapping[Sort, str] = {
    Sort.GENERATOR: msg("Let it run 3 minutes, then plug in *one thing at a time*."),
    Sort.WASHER: msg("Trigger shut for *2 minutes at most*, or stop it."),
    Sort.SAW: IDLE,
    Sort.TWO_STROKE_HAND: IDLE,
    Sort.FOUR_STROKE_HAND: IDLE,
}

BATTERY_STEPS = (
    msg("Pack *charged* and not ice cold. Push it in until it *clicks*."),
    msg("Key *IN*."),
    msg("Both hands on. Press the button, *then* the bar or trigger."),
    msg("Let go once: everything has to *stop*."),
)

GIVE_UP = msg("Eight pulls and nothing: stop. *Turn the card over.*")
GIVE_UP_BATTERY = msg("Nothing moves? Pack out. *Turn the card over.*")


@dataclass(frozen=True, slots=True)
class Check:
    """A whole question and its remedy; it stands only where the feature is not `unless`."""

    ask: str
    remedy: str
    feature: FeatureCode | None = None
    unless: str = ""


_VALVE = Check(
    msg("Is the fuel valve shut?"),
    msg("Open it. Count to 60."),
    FeatureCode("fuel-valve"),
    "no",
)
_CHOKE = Check(msg("Does the choke close?"), msg("Look, and move it by hand at the engine."))
_TANK = Check(msg("Is the tank empty, or old?"), msg("Fresh fuel, engine cold, outdoors."))
_SWITCH = Check(msg("Is the switch off?"), msg("On. Then pull again."))
_KEY = Check(msg("Is the key out?"), msg("Push it in until it clicks."))
_BAR = Check(msg("Is the bar pressed?"), msg("Hold it tight to the handle."))
_SEAT = Check(msg("Seat, brake, blades?"), msg("Sit down, brake down, blades off."))
_LOW = Check(msg("Is the oil low?"), msg("The engine stops itself: fill to the upper mark."))
_WET = Check(msg("Did you pull long on choke?"), msg("Choke off, full throttle, pull it dry."))
_PACK = Check(msg("Is the pack empty or cold?"), msg("Charge it indoors, warm first."))
_CLICK = Check(msg("Did the pack click in?"), msg("Out, wipe the contacts, in again."))
_JAM = Check(msg("Is something stuck in it?"), msg("Pack out first. Then a stick, no hand."))

CHECKS: Mapping[Sort, tuple[Check, ...]] = {
    Sort.SNOW: (_VALVE, _KEY, _CHOKE, _TANK),
    Sort.MOWER: (_BAR, _VALVE, _TANK, _CHOKE),
    Sort.RIDE_ON: (_SEAT, _VALVE, _TANK, _CHOKE),
    Sort.GENERATOR: (_VALVE, _LOW, _SWITCH, _CHOKE),
    Sort.SAW: (_SWITCH, _WET, _TANK),
    Sort.TWO_STROKE_HAND: (_SWITCH, _WET, _TANK),
    Sort.BATTERY_SNOW: (_KEY, _CLICK, _PACK),
    Sort.BATTERY_MOWER: (_KEY, _CLICK, _PACK),
    Sort.BATTERY_HAND: (_CLICK, _PACK, _JAM),
}
CHECKS_ELSE = (_VALVE, _SWITCH, _CHOKE, _TANK)

SMELL = msg(
    "*You smell petrol:* choke off, throttle full, six pulls. Still nothing: wait 10 minutes."
)
NO_SMELL = msg(
    "*No smell:* lead off, plug out, 1 to 2 mL fresh petrol into its hole, plug *back in*, all "
    "wiped dry, can shut and 3 m (10 ft) away, lead on, pull."
)
NO_SMELL_MIX = msg(
    "*No smell:* lead off, plug out, 5 to 10 drops of *mix* into its hole, plug *back in*, all "
    "wiped dry, can shut and 3 m (10 ft) away, lead on, pull. Never starting spray."
)
OUTCOME = msg(
    "*Fires, then dies:* no fuel comes through. *Nothing at all:* no spark. Stop here: ring for "
    "help, or work through a fault sheet."
)
BATTERY_OUTCOME = msg(
    "*Runs, then stops:* let it cool, look for something stuck, pack out first. *Pack hot, swollen "
    "or smelling:* carry it outdoors, do not charge it again."
)

AWAY: Mapping[Sort, str] = {
    Sort.SNOW: msg(
        "*Afterwards:* run it empty for a minute, knock the snow off, key out, valve OFF."
    ),
    Sort.MOWER: msg("*Afterwards:* lead off, brush the deck while it is wet, valve OFF."),
    Sort.RIDE_ON: msg("*Afterwards:* blades off, brake on, key out, valve OFF."),
    Sort.WASHER: msg("*Afterwards:* engine off, water off, trigger squeezed, hose off, drained."),
    Sort.GENERATOR: msg("*Afterwards:* unplug everything, run 3 minutes, then off and valve OFF."),
    Sort.PUMP: msg("*Afterwards:* engine off, drain the body, strainer clean."),
    Sort.SAW: msg("*Afterwards:* brake on, bar covered, stood where no oil drips."),
    Sort.BATTERY_SNOW: msg("*Afterwards:* key and pack out, snow off, pack indoors."),
    Sort.BATTERY_MOWER: msg("*Afterwards:* key and pack out, brushed dry, no hose, pack indoors."),
    Sort.BATTERY_HAND: msg("*Afterwards:* pack out, wiped dry, blade covered, pack indoors."),
}
AWAY_ELSE = msg("*Afterwards:* switch off, wait until it stands still, valve OFF.")

OUTDOORS = msg(
    "Outdoors only, at least 6.1 m (20 ft) from the house, exhaust pointing away. The fumes kill, "
    "and nothing smells of them."
)
JAMMED = msg(
    "Jammed: engine OFF, key OUT, wait 10 seconds, then the stick. Never a hand, not even with the "
    "engine off: it can leap round."
)
JAMMED_BATTERY = msg(
    "Jammed: let go, key and pack OUT, wait 10 seconds, then the stick. Never a hand."
)

AFTER: Mapping[Sort, tuple[CautionCode, ...]] = {
    Sort.SNOW: (CautionCode("C-CARD"),),
    Sort.BATTERY_SNOW: (CautionCode("C-CARD"),),
    Sort.MOWER: (CautionCode("C-BLADE"), CautionCode("C-THROW")),
    Sort.BATTERY_MOWER: (CautionCode("C-BLADE"), CautionCode("C-THROW")),
    Sort.RIDE_ON: (CautionCode("C-BLADE"), CautionCode("C-THROW")),
    Sort.TILLER: (CautionCode("C-STOP"),),
    Sort.WASHER: (CautionCode("C-JET"), CautionCode("C-DRY")),
    Sort.GENERATOR: (CautionCode("C-BACK"),),
    Sort.SPLITTER: (CautionCode("C-HYD"),),
    Sort.CHIPPER: (CautionCode("C-STOP"), CautionCode("C-GUARD")),
    Sort.PUMP: (CautionCode("C-DRY"),),
    Sort.SAW: (CautionCode("C-KICK"),),
    Sort.TWO_STROKE_HAND: (CautionCode("C-EYE"), CautionCode("C-THROW")),
    Sort.FOUR_STROKE_HAND: (CautionCode("C-EYE"), CautionCode("C-THROW")),
    Sort.BATTERY_HAND: (CautionCode("C-STOP"), CautionCode("C-EYE")),
}
"""At most two, beneath the steps: what most often ends badly with this kind (our judgement)."""

LOG_SNOW = (
    (msg("date"), 1.3),
    (msg("pulls"), 0.8),
    (msg("good / bad"), 1.1),
    (msg("pins"), 0.7),
    (msg("what I saw"), 2.2),
)
LOG_MONTHLY = (
    (msg("date"), 1.3),
    (msg("minutes"), 1.0),
    (msg("load"), 1.2),
    (msg("good / bad"), 1.2),
    (msg("what I saw"), 1.6),
)
LOG_ELSE = (
    (msg("date"), 1.3),
    (msg("pulls"), 0.8),
    (msg("good / bad"), 1.1),
    (msg("what I saw"), 2.8),
)
LOG_BATTERY = (
    (msg("date"), 1.3),
    (msg("minutes"), 0.9),
    (msg("good / bad"), 1.1),
    (msg("what I saw"), 2.7),
)
