"""`fuel`: what stands in the cans and tanks, how old it is, what to do with it."""

from __future__ import annotations

from datetime import date

from app.cli.call import Call, Exit
from app.cli.output import Output
from app.cli.shapes import fuel_data
from app.services import Services
from app.vessel_names import turn_said
from app.wording.languages import msg
from app.wording.wording import Wording
from schedules.facts import Band, FuelSort, LotVerdict, VesselSort, VesselVerdict

# Bands that ask for something to be done, worst first.
ASKS = (Band.NOT_FOR_THIS, Band.DRAIN, Band.LOOK_FIRST, Band.BURN)
# A lot of less than one part in so many is a remainder nobody need read about.
LEAST = 100
_ORDER = (*ASKS, Band.USE_FIRST, Band.GOOD)


def run_fuel(call: Call) -> int:
    """Print the vessels. Gives 1 when the fuel of one asks for action."""
    why: bool = call.arguments.why
    with call.open_services(call.file, False) as services:
        return tell_fuel(services, on=call.moment.today, output=call.output, why=why)


def tell_fuel(services: Services, *, on: date, output: Output, why: bool) -> int:
    """The vessels of an open household: the cans first, then what is in the machines."""
    cans = services.cans(on=on)
    tanks = [
        (judging.facts.name, vessel)
        for judging in services.fleet(on=on)
        for vessel in judging.verdict.fuel
    ]
    vessels = [*cans, *(vessel for _, vessel in tanks)]
    wording = services.wording
    if output.as_json:
        output.data(fuel_data(vessels, on=on, wording=wording))
    else:
        named = [*(("", can) for can in cans), *tanks]
        named.sort(key=lambda one: (one[1].volume_ul == 0, _ORDER.index(one[1].band)))
        if not named:
            output.say(wording.text(msg("No can and no tank is entered yet.")))
        for machine, vessel in named:
            _tell_vessel(machine, vessel, wording, output, why=why)
    asked = any(vessel.volume_ul and vessel.band in ASKS for vessel in vessels)
    return Exit.ACTION if asked else Exit.DONE


def _tell_vessel(
    machine: str, vessel: VesselVerdict, wording: Wording, output: Output, *, why: bool
) -> None:
    parts = [machine, vessel.name if vessel.name != machine else ""]
    parts += [wording.word(vessel.sort)] if machine else []
    name = ", ".join(part for part in parts if part)
    if not vessel.volume_ul:
        if vessel.entered:
            output.say(wording.text(msg("{name}: empty."), name=name))
        elif vessel.sort is not VesselSort.BOWL:  # a bowl has what its tank has
            output.say(wording.text(msg("{name}: nothing was entered about it."), name=name))
        return
    output.say(
        wording.text(
            msg("{name}, {volume}: {band}."),
            name=name,
            volume=wording.litres(vessel.volume_ul),
            band=wording.band(vessel.band),
        )
    )
    if vessel.band is not Band.GOOD:
        because = wording.word(vessel.governed_by)
        output.say(wording.text(msg("because of {ground}"), ground=because), depth=1)
    told = [lot for lot in vessel.lots if lot.volume_ul * LEAST >= vessel.volume_ul]
    for lot in told:
        output.say(_lot(lot, wording), depth=1)
    rest = sum(lot.volume_ul for lot in vessel.lots) - sum(lot.volume_ul for lot in told)
    if rest:
        said = msg("and {volume} left over from older fills")
        output.say(wording.text(said, volume=wording.litres(rest)), depth=1)
    turns = turn_said(vessel, wording)
    if turns:
        output.say(turns, depth=1)
    if why:
        for line in wording.tree(vessel.reason)[1:]:
            source = f" [{line.source_text}]" if line.source_text else ""
            output.say(f"{line.text}{source}", depth=1 + line.depth)


def _lot(lot: LotVerdict, wording: Wording) -> str:
    sort = wording.word(lot.sort)
    if lot.sort is not FuelSort.UNKNOWN and lot.bought_on is None:
        sort = wording.text(msg("{sort}, nobody knows from when"), sort=sort)
    parts = [wording.litres(lot.volume_ul), sort]
    if lot.bought_on is not None:
        parts.append(wording.text(msg("bought {day}"), day=wording.day(lot.bought_on)))
    if lot.ageing is not None:
        gone = wording.shelf_life(lot.ageing)
        parts.append(wording.text(msg("{share} its shelf life gone"), share=gone))
    if lot.stabilised_on is not None:
        day = wording.day(lot.stabilised_on)
        parts.append(wording.text(msg("stabiliser added {day}"), day=day))
    return ", ".join(parts)
