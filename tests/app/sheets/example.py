"""An invented machine on paper, at the length of a real one, and machines judged by the engine."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from functools import cache

from app.sheets.build import MachineNotes, SheetMachine
from app.sheets.buyer import BuyerSheet, Done, Measured, Need
from app.sheets.card import Card, Log, Question
from app.sheets.lettering import Run, Voice, reckoned, starred
from app.sheets.pieces import Answer, Blank, Caution, Choice, Fact
from app.sheets.preseason import Buying, PreSeasonSheet, Stage
from app.sheets.steps import Finding, Step
from resources.loader import load_catalogue
from schedules.facts import (
    CheckFailed,
    Doing,
    FaultFacts,
    FuelSort,
    FuelUse,
    HoursFacts,
    HoursReading,
    ItemFacts,
    ItemId,
    ItemSort,
    JobFacts,
    JobId,
    KindCode,
    LimitCode,
    LimitReading,
    LotFacts,
    MachineFacts,
    MachineId,
    Past,
    Phase,
    Policy,
    Severity,
    StorageFacts,
    TaskCode,
    VesselFacts,
    VesselId,
    VesselSort,
)
from schedules.plan import judge, pre_season

ON = date(2025, 9, 20)


def words(msgid: str, /, **values: object) -> str:
    """Fixed labels as they stand, values put in."""
    return msgid.format(**values) if values else msgid


def ticks(*said: str) -> tuple[Choice, ...]:
    """Boxes before words; a word in capitals is the one that means trouble."""
    return (Choice(words=said),)


def both(unit: str) -> tuple[Answer, ...]:
    return (Blank(label="L"), Blank(label="R", unit=unit))


def _finding(*answers: Answer, limit: str = "", mark: str = "") -> tuple[Finding, ...]:
    return (Finding(limit=limit, mark=mark, answers=answers),)


def _caution(signal: Severity, text: str, tick: str = "") -> Caution:
    return Caution(signal=signal, word=signal.name, text=text, tick=tick)


LEAD_OFF = _caution(
    Severity.DANGER,
    "Key out, lead pulled and tied back, everything at rest, before a hand goes near the auger.",
    "Key out and lead off. Nothing below until this box is ticked.",
)
DROPPINGS = _caution(
    Severity.WARNING, "Droppings of mice: mask on, wet them, wipe them up; no brush, no air."
)
STICK = _caution(
    Severity.DANGER,
    "No hand into chute or auger, whatever stands still. Take the stick: a stuck auger leaps.",
)
PINS = _caution(
    Severity.CAUTION,
    "Pins made for this machine only. Anything harder passes the next stone on to the gears.",
)
BELTS = _caution(
    Severity.WARNING,
    "A running belt takes fingers with it into the pulley. Lead off before the cover comes off.",
)
TIPPED = _caution(
    Severity.CAUTION,
    "Tank nearly empty before it is tipped, carburettor side up, and a block under the housing.",
)
GREASE = _caution(Severity.NOTICE, "A drop of oil on the friction ring ruins it.")
FUMES = _caution(
    Severity.DANGER,
    "Outdoors only. Under a roof the fumes kill, with the door open too, and give no warning.",
)

_COLD = (
    Step(
        what="Nests: shroud, starter, air box",
        look=True,
        findings=_finding(Blank(label="found"), *ticks("gone")),
        minutes="3 min",
        cautions=(DROPPINGS,),
    ),
    Step(
        what="Oil level",
        look=True,
        how="On the level, stick wiped once.",
        findings=_finding(*ticks("low", "good", "HIGH"), limit="between both marks", mark="d"),
        stop="Stop use if it is above the upper mark or smells of petrol: the float valve leaks.",
        minutes="2 min",
    ),
    Step(
        what="Fuel of 9 April, treated",
        look=True,
        how="Nose and a glass jar. Anything but clear and sharp: out with it, cold, outdoors.",
        findings=_finding(*ticks("good", "sour", "water")),
        minutes="2 min",
    ),
    Step(
        what="Hose, cap, drips",
        look=True,
        how="A hose that cracks when bent is changed.",
        findings=_finding(*ticks("dry", "WET")),
        stop="Stop use if a drop falls anywhere.",
        minutes="3 min",
    ),
    Step(
        what="Auger turns on its shaft by hand, both halves",
        how="Stiff: pins out, grease, turn, pins in. Four nipples.",
        findings=_finding(*ticks("left", "right", "greased")),
        minutes="15 min",
        cautions=(STICK,),
    ),
    Step(
        what="Shear pins: two whole, two more in the box",
        look=True,
        findings=_finding(Blank(unit="spare")),
        minutes="2 min",
        cautions=(PINS,),
    ),
    Step(
        what="Belts, cover off",
        look=True,
        how="Cracks, shine, loose cords; a chalk mark to see it turn. Play of the cable.",
        findings=_finding(
            *ticks("good", "order"), Blank(unit="mm"), limit="3 mm to 6.35 mm", mark="d"
        ),
        minutes="5 min",
        cautions=(BELTS,),
    ),
    Step(
        what="Friction ring: rubber above the metal",
        look=True,
        how="Quite dry, no grease.",
        findings=_finding(Blank(unit="mm"), limit="more than 1.5 mm", mark="o"),
        stop="Stop use if it is cracked or down to the metal.",
        minutes="10 min",
        cautions=(TIPPED, GREASE),
    ),
    Step(
        what="Scraper clear of the housing, shoes of one height",
        how="A shoe worn on one side is turned over.",
        findings=_finding(*both("mm"), limit="gravel 25 mm, paving 3 mm", mark="d"),
        minutes="4 min",
    ),
    Step(
        what="Impeller to housing, widest place",
        look=True,
        findings=_finding(Blank(unit="mm"), limit="less than 6 mm", mark="c"),
        minutes="3 min",
        cautions=(STICK,),
    ),
    Step(
        what="Tyres, cold",
        look=True,
        findings=_finding(*both("kPa"), limit="103 kPa to 138 kPa", mark="d"),
        minutes="3 min",
    ),
    Step(
        what="Spark plug",
        findings=_finding(
            Blank(label="colour"), *ticks("new"), limit="0.7 mm to 0.8 mm", mark="p, d"
        ),
        minutes="5 min",
    ),
    Step(
        what="Chute, cables, bolts, lamp, wax",
        look=True,
        findings=_finding(*ticks("good", "not good")),
    ),
)

_RUNNING = (
    Step(what="Started after", look=True, findings=_finding(Blank(unit="pulls")), minutes="2 min"),
    Step(what="Five minutes, no drip", look=True, findings=_finding(*ticks("good", "not good"))),
    Step(
        what="Let go: the auger comes to rest",
        look=True,
        findings=_finding(*ticks("stops", "RUNS ON")),
        stop="Stop use if the auger runs on.",
        cautions=(STICK, FUMES),
    ),
    Step(what="Drives forwards and back", look=True, findings=_finding(*ticks("good", "not good"))),
)

SHEET = PreSeasonSheet(
    number="4127",
    machine="Uncle Bert",
    kind="two-stage snow thrower, 24 in",
    icon="k02",
    place="lean-to, left of the door",
    start="Start by 11 Oct 2025, 55 min (looks 25 min, work 30 min)",
    facts=(
        Fact(label="Hours", value=(reckoned("about 31.4 h"),)),
        Fact(label="Oil", value="5W-30, 0.6 L"),
        Fact(label="Spark plug", value=(Run("0.76 mm", Voice.STRONG), Run(", socket 13/16 in"))),
    ),
    buying=(
        Buying(
            label="Buy by 27 Sept 2025",
            things=(
                "4 shear pins 1/4 × 1-3/4 in (one hangs on nail 5)",
                "auger belt, 38-1/2 in, from the shop by the weir",
                "fresh petrol, 4 L",
            ),
        ),
    ),
    bring=("plug socket", "1/2 in and 9/16 in spanners", "hose clamp", "feeler gauge", "lamp"),
    last_time="howls in slush; right lamp flickers",
    stages=(
        Stage(cautions=(LEAD_OFF,), steps=_COLD),
        Stage(
            title="Now let it run",
            tick="Lead ON, key IN, valve ON, wait 2 minutes. Outdoors, nobody in front.",
            cautions=(FUMES,),
            steps=_RUNNING,
        ),
    ),
    sources=("US Army, TM 5-3895-383-24", "University of the Weir, Plugs"),
    marks=("(p) published", "(d) makers differ", "(o) our judgement", "(c) common practice"),
    household="Shed at Northfold",
    printed="printed 20 Sept 2025",
)

CARD = Card(
    machine="Uncle Bert",
    kind="two-stage snow thrower",
    icon="k02",
    place="lean-to, left of the door",
    before=(
        _caution(
            Severity.DANGER,
            "Outdoors only, at least 6.1\u00a0m (20\u00a0ft) from the house. The fumes kill.",
        ),
    ),
    steps=tuple(
        starred(step)
        for step in (
            "Doors open, push it *outside*.",
            "Oil: *between the marks*.",
            "Fuel in the tank? Fill it cold.",
            "Key *IN*.",
            "Valve to *ON*, count to 60.",
            "Throttle to *FAST*.",
            "Choke *FULL* when cold.",
            "Bulb: *three* presses.",
            "Pull slowly until it is stiff, then *one long pull*.",
            "It coughs: choke *HALF*. It runs: choke *OFF*.",
        )
    ),
    give_up=starred("Eight pulls: stop. *Turn the card over.*"),
    after=(_caution(Severity.DANGER, "Jammed: engine OFF, key OUT, wait, then the stick."),),
    questions=(
        Question(ask="Is the valve shut?", remedy="Open it. Count to 60."),
        Question(ask="Is the key out?", remedy="Push it in until it clicks."),
        Question(ask="Does the choke close?", remedy="Move it by hand."),
    ),
    branches=(starred("*Petrol smell:* choke off, six pulls."), starred("*No smell:* plug out.")),
    where=(Fact(label="Key hangs"), Fact(label="Cord hangs", value="nail by the freezer")),
    facts=(Fact(label="Oil", value="5W-30, 0.6 L"), Fact(label="Belt"), Fact(label="Tyres")),
    each_time=starred("*Each time:* oil; let go, the auger stops."),
    putting_away=starred("*Afterwards:* run it empty a minute, valve OFF."),
    log=Log(title="Storms", columns=(("date", 1.0), ("pulls", 1.0), ("what I saw", 2.0))),
    ring=(Fact(label="If stuck, ring"), Fact(label="Snow plough")),
    printed="printed 20 Sept 2025",
)

PAGE = BuyerSheet(
    machine="Uncle Bert",
    kind="two-stage snow thrower",
    icon="k02",
    state="Usable, but … it howls in slush.",
    known=(
        Fact(label="Came on", value="14 Nov 2021, used"),
        Fact(label="Hours", value=(reckoned("about 31.4 h"),)),
        Fact(label="Stands in", value="lean-to"),
    ),
    unknown=("What was done to it before 14 Nov 2021", "When last: Check the valve clearance"),
    faults=("howls in slush (since 3 Feb 2025; put off)",),
    measured=(
        Measured(day="4 Oct 2025", what="tyres", found="110 kPa", worn_when="below 103 kPa"),
    ),
    done=tuple(
        Done(day=f"{day} Oct {year}", what=f"Change the engine oil, {year}", note="renewed")
        for year in range(2025, 2000, -1)
        for day in (12, 4)
    ),
    spent=(Fact(label="Parts", value="£84.20"),),
    needs=(Need(by="31 Oct 2025", what="Grease the auger shaft", because="because of the season"),),
    handed_over=("manual", "keys", "this page"),
    household="Shed at Northfold",
    printed="printed 20 Sept 2025",
)


# -- machines as the engine judges them -------------------------------------------------------


def machine_facts(
    kind: str = "K01", *, name: str = "Uncle Bert", past: Past = Past.NEW, machine_id: int = 1
) -> MachineFacts:
    """A machine with half of its tasks done last October, fuel in its tank, a job and a fault."""
    catalogue = load_catalogue()
    found = catalogue.kinds[KindCode(kind)]
    came = date(2021, 11, 14)
    hours = HoursFacts(
        at_start=0 if past is Past.NEW else None,
        readings=(HoursReading(day=date(2025, 3, 20), seconds=31 * 3600),),
        year_seconds=found.year_seconds,
        month_shares=catalogue.shapes[found.shape, ""],
    )
    sorts = dict.fromkeys([ItemSort.MACHINE, *(task.item for task in found.tasks)])
    items: list[ItemFacts] = []
    for number, sort in enumerate(sorts, start=1):
        tasks = tuple(task for task in found.tasks if task.item is sort)
        items.append(
            ItemFacts(
                item_id=ItemId(machine_id * 10 + number),
                sort=sort,
                came_on=came,
                past=past,
                hours=hours,
                tasks=tasks,
                doings=tuple(
                    Doing(code=task.code, day=date(2024, 10, 12), replaced=task.replaces)
                    for task in tasks[::2]
                    if not task.rule.each_use
                ),
                readings=tuple(
                    LimitReading(code=task.code, limit=limit, day=date(2024, 10, 12), amount=2000)
                    for task in tasks
                    for limit in task.rule.limits
                    if limit == LimitCode("L14")
                ),
            )
        )
    return MachineFacts(
        machine_id=MachineId(machine_id),
        name=name,
        kind=found,
        place="lean-to, left",
        south=False,
        came_on=came,
        past=past,
        items=tuple(items),
        storage=(StorageFacts(put_away_on=date(2025, 4, 2)),),
        vessels=(_tank(machine_id),) if found.has_engine else (),
        faults=(FaultFacts(fault_id=1, text="howls in slush", since=ON, stops_use=False),),
        failed_checks=(CheckFailed(code=TaskCode("E4-09"), day=date(2025, 3, 2)),),
        jobs=(
            JobFacts(
                job_id=JobId(1),
                text="new valve in the left tyre",
                noted_on=date(2025, 3, 1),
                phase=Phase.BEFORE,
                minutes=15,
            ),
        ),
    )


def _tank(machine_id: int) -> VesselFacts:
    lot = LotFacts(
        bought_on=date(2025, 4, 2),
        volume_ul=2_500_000,
        sort=FuelSort.E10,
        stabilised_on=date(2025, 4, 2),
    )
    return VesselFacts(
        vessel_id=VesselId(machine_id),
        name="tank",
        sort=VesselSort.TANK,
        capacity_ul=3_000_000,
        lots=(lot,),
        month_means_mc=(5_000,) * 12,
        burns=FuelUse.FOUR_STROKE,
        machine_id=MachineId(machine_id),
    )


def judged(facts: MachineFacts, notes: MachineNotes | None = None) -> SheetMachine:
    catalogue = load_catalogue()
    judging = judge(facts, on=ON, policy=Policy(), limits=catalogue.limits)
    season = pre_season(judging, precedence=catalogue.precedence)
    return SheetMachine(judging=judging, season=season, notes=notes or MachineNotes())


@cache
def of_kind(kind: str, past: Past = Past.NEW) -> SheetMachine:
    """A machine of a kind, judged once."""
    return judged(machine_facts(kind, past=past))


@cache
def thrower() -> SheetMachine:
    """A single-stage thrower before its fifth winter."""
    return judged(machine_facts(), MachineNotes(last_time="howls in slush", oil="5W-30, 0.6 L"))


def renamed(machine: SheetMachine, **changes: object) -> SheetMachine:
    """The same machine with other facts, judged again."""
    return judged(replace(machine.judging.facts, **changes), machine.notes)
