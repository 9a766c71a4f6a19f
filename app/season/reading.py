"""What the season room reads of the file in one going."""

from __future__ import annotations

from dataclasses import dataclass

from app.hub import Hub
from app.season.laying import Row
from app.season.paper import codes_by_machine
from models.facts.fleet import read_fleet
from models.facts.places import read_places
from models.facts.reading import Reading
from models.facts.runs import LeftOffFacts, RunFacts, read_left_off, read_not_yet, read_runs
from models.facts.settings import HouseholdSettings, read_settings
from models.moment import Moment
from resources.loader import Catalogue
from schedules.plan import judge


@dataclass(frozen=True, slots=True, kw_only=True)
class Shed:
    """The machines as a sitting wants them, the runs, and what is off or open."""

    row: Row
    runs: tuple[RunFacts, ...]
    loose: tuple[LeftOffFacts, ...]
    settings: HouseholdSettings


def read_shed(hub: Hub, catalogue: Catalogue, *, run_id: int) -> Shed:
    """Read it all, or what one run is about. A run that is finished is there when it is named.
    Raises Trouble."""
    with hub.read() as session:
        return _read(session, hub.moment(), catalogue, run_id)


def _read(session: Reading, moment: Moment, catalogue: Catalogue, run_id: int) -> Shed:
    settings = read_settings(session)
    kept = read_runs(session, only=(run_id,)) if run_id else ()
    here = frozenset(one.machine_id for run in kept for one in run.machines)
    on = moment.today
    facts = read_fleet(session, on=on, catalogue=catalogue, only=here or None)
    places = read_places(session, catalogue=catalogue).values()
    loose = read_left_off(session)
    limits, policy = catalogue.limits, settings.policy
    row = Row(
        machines={one.machine_id: judge(one, on=on, policy=policy, limits=limits) for one in facts},
        shelters={place.name: place.shelter for place in places},
        left=codes_by_machine(loose),
        not_yet={one.machine_id: read_not_yet(session, one.machine_id) for one in facts},
        policy=policy,
        catalogue=catalogue,
        on=on,
    )
    over = tuple(run for run in kept if run.finished_on is not None)
    return Shed(row=row, runs=(*read_runs(session), *over), loose=loose, settings=settings)
