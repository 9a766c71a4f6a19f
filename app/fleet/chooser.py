"""Chooses the work for the time there is, in slices, and puts it into a page."""

from __future__ import annotations

from collections.abc import Generator, Mapping
from dataclasses import dataclass
from heapq import nsmallest

from PySide6.QtCore import QObject, Signal

from app.fleet.judged import JudgedFleet
from app.fleet.sitting import sitting_page
from app.fleet.state import Page
from app.pieces.slices import Slices
from app.wording.wording import Wording
from resources.loader import Catalogue
from schedules.choice import Job, Visit, choosing, visits
from schedules.facts import MachineId
from schedules.plan import Judging

MOST_MISSING = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class Sitting:
    """What was chosen for so many minutes, with the machines it is at, as they were judged."""

    minutes: int
    visits: tuple[Visit, ...]
    judgings: Mapping[MachineId, Judging]
    page: Page


class TimeChooser(QObject):
    """`chosen` carries the Sitting."""

    chosen = Signal(object)

    def __init__(
        self, *, fleet: JudgedFleet, words: Wording, catalogue: Catalogue, parent: QObject
    ) -> None:
        super().__init__(parent)
        self._fleet = fleet
        self._words = words
        self._catalogue = catalogue
        self._slices = Slices(self)
        self.minutes = 0
        self.sitting: Sitting | None = None

    def choose(self, minutes: int) -> None:
        """Choose for so many minutes; 0 takes the question back."""
        self.minutes, self.sitting = minutes, None
        if minutes:
            self._slices.start(self._steps(minutes), self._found)
        else:
            self._slices.stop()

    def again(self) -> None:
        """Choose anew, after something was entered."""
        if self.minutes:
            self.choose(self.minutes)

    def stop(self) -> None:
        """Stop for good."""
        self._slices.stop()

    def _found(self, sitting: Sitting) -> None:
        self.sitting = sitting
        self.chosen.emit(sitting)

    def _steps(self, minutes: int) -> Generator[None, None, Sitting]:
        fleet, policy = self._fleet, self._fleet.settings.policy
        precedence = self._catalogue.precedence
        jobs = [job for found in fleet.jobs.values() for job in found]
        yield
        picked = yield from choosing(
            jobs,
            minutes=minutes,
            precedence=precedence,
            on_shelf=fleet.shelf,
            set_up_minutes=policy.set_up_minutes,
        )
        yield
        missing, missing_count = _missing(jobs, fleet.shelf)
        yield
        judgings: dict[MachineId, Judging] = {}
        for job in (*picked, *missing):
            if job.machine_id not in judgings:
                judging = fleet.one(job.machine_id)
                if judging is not None:
                    judgings[job.machine_id] = judging
                yield
        found = visits(
            (job for job in picked if job.machine_id in judgings),
            judgings,
            precedence=precedence,
            set_up_minutes=policy.set_up_minutes,
        )
        page = sitting_page(
            minutes,
            found,
            judgings,
            missing,
            missing_count,
            set_up_minutes=policy.set_up_minutes,
            words=self._words,
        )
        return Sitting(minutes=minutes, visits=found, judgings=judgings, page=page)


def _missing(jobs: list[Job], shelf: Mapping[str, int]) -> tuple[list[Job], int]:
    """The heaviest of the jobs whose parts do not lie ready, and how many there are in all."""
    found = [
        job
        for job in jobs
        if job.parts and any(shelf.get(part, 0) < quantity for part, quantity in job.parts)
    ]
    first = nsmallest(MOST_MISSING, found, key=lambda job: (-job.weight, job.key))
    return first, len(found)
