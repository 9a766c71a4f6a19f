"""What a household's file, the catalogue and the engine give together. Built by the door alone."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Self

from app.wording.units import unit_choice
from app.wording.wording import Wording
from models.facts.fleet import read_cans, read_fleet
from models.facts.settings import HouseholdSettings, read_settings
from models.file import Household, open_household
from models.moment import Moment
from resources.loader import Catalogue, load_catalogue
from schedules.facts import MachineId, VesselVerdict
from schedules.fuel import judge_vessel
from schedules.plan import Judging, judge


@dataclass(frozen=True, slots=True, kw_only=True)
class Services:
    """An open household with all that is needed to ask it something."""

    household: Household
    settings: HouseholdSettings
    catalogue: Catalogue
    wording: Wording

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.household.close()

    def fleet(self, *, on: date, only: frozenset[MachineId] | None = None) -> tuple[Judging, ...]:
        """Every machine there is on the day (or only those), judged."""
        with self.household.read() as session:
            facts = read_fleet(session, on=on, catalogue=self.catalogue, only=only)
        policy, limits = self.settings.policy, self.catalogue.limits
        return tuple(judge(one, on=on, policy=policy, limits=limits) for one in facts)

    def cans(self, *, on: date) -> tuple[VesselVerdict, ...]:
        """The fuel of every can that belongs to no machine."""
        with self.household.read() as session:
            facts = read_cans(session, on=on, catalogue=self.catalogue)
        return tuple(judge_vessel(one, on=on) for one in facts)


def services_of(household: Household) -> Services:
    """Services for a household that is open."""
    catalogue = load_catalogue()
    with household.read() as session:
        settings = read_settings(session)
    units = unit_choice(settings.unit_system, settings.units)
    return Services(
        household=household,
        settings=settings,
        catalogue=catalogue,
        wording=Wording(settings.language, units, catalogue),
    )


def open_services(path: Path, *, moment: Moment, write: bool) -> Services:
    """Open a household's file. Raises Trouble."""
    household = open_household(path, moment=moment, write=write)
    opened = False
    try:
        services = services_of(household)
        opened = True
    finally:
        if not opened:
            household.close()
    return services
