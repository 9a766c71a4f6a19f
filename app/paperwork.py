"""Paper for machines of an open household: judged as they are, drawn as they are."""

from __future__ import annotations

from dataclasses import dataclass

from app.services import Services
from app.sheets.build import SheetMachine, buyer_pdf, card_pdf, preseason_pdf
from app.sheets.surface import Paper
from models.moment import Moment
from models.words import SheetSort
from schedules.facts import MachineId
from schedules.plan import pre_season
from schedules.stores import purchases


@dataclass(frozen=True, slots=True, kw_only=True)
class Paperwork:
    """Makes the paper of a household on one day. `numbers`: the four digits of each machine's
    sheet, for the sorts that come back."""

    services: Services
    moment: Moment

    def machines(self, only: frozenset[MachineId] | None) -> list[SheetMachine]:
        """The machines as judged, with their list before the season."""
        precedence = self.services.catalogue.precedence
        return [
            SheetMachine(judging=judging, season=pre_season(judging, precedence=precedence))
            for judging in self.services.fleet(on=self.moment.today, only=only)
        ]

    def make(
        self,
        sort: SheetSort,
        machines: list[SheetMachine],
        *,
        numbers: dict[MachineId, str],
        paper: Paper | None = None,
    ) -> bytes:
        """The PDF of a sort for these machines. Raises KeyError when a number is missing."""
        settings, wording = self.services.settings, self.services.wording
        paper = paper or Paper(str(settings.paper))
        on, household = self.moment.today, settings.name
        match sort:
            case SheetSort.CARD:
                return card_pdf(machines, wording=wording, paper=paper, on=on)
            case SheetSort.BUYER:
                return buyer_pdf(machines, wording=wording, paper=paper, household=household, on=on)
            case _:
                bought = purchases(
                    [(machine.judging, machine.season) for machine in machines],
                    policy=settings.policy,
                    on_shelf={},
                )
                return preseason_pdf(
                    machines,
                    numbers=numbers,
                    bought=bought,
                    wording=wording,
                    paper=paper,
                    household=household,
                    on=on,
                )
