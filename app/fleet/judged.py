"""The machines as they were judged: read and judged some at a time, kept for whoever shows them."""

from __future__ import annotations

from collections.abc import Generator, Iterable, Mapping
from dataclasses import replace
from datetime import date

from PySide6.QtCore import QElapsedTimer, QObject, QTimer, Signal

from app.fleet.headline import Summary
from app.fleet.names import plain_name
from app.fleet.picture import Pictures
from app.fleet.since import Meanwhile, meanwhile
from app.fleet.state import MachineLine
from app.hub import Hub
from app.pieces.slices import Slices
from app.wording.benches import going_on
from models.errors import Trouble
from models.facts.begun import BegunSearch, read_begun
from models.facts.benches import BenchFacts, read_benches
from models.facts.fleet import read_fleet
from models.facts.hands import read_hands
from models.facts.ids import read_can_ids, read_cans_among, read_machine_ids
from models.facts.papers import read_shelf
from models.facts.settings import HouseholdSettings, read_settings
from resources.loader import Catalogue
from schedules.choice import Job, jobs_of
from schedules.facts import MachineFacts, MachineId, VesselVerdict
from schedules.fuel import judge_vessel
from schedules.plan import Judging, judge, pre_season

CHUNK = 12
"""Machines read in one go: some hundredths of a second."""
FEW = 3
"""So few are judged before anything else happens."""
FIRST_SHOWN = 12
LONG_MS = 500
LATER_MS = 300
"""While nobody looks, what one entry after the other touches is judged in one go."""
NOTHING = frozenset[MachineId]()


class JudgedFleet(QObject):
    """`advanced`: there is more to show, or all. `failed` carries the Trouble of reading."""

    advanced = Signal()
    failed = Signal(object)

    def __init__(
        self, *, hub: Hub, catalogue: Catalogue, settings: HouseholdSettings, parent: QObject
    ) -> None:
        super().__init__(parent)
        self._hub = hub
        self._catalogue = catalogue
        self.settings = settings
        self.lines: dict[int, MachineLine] = {}
        self.summaries: dict[int, Summary] = {}
        self.jobs: dict[int, tuple[Job, ...]] = {}
        self.meanwhile: dict[int, Meanwhile] = {}
        self.cans: tuple[VesselVerdict, ...] = ()
        self.shelf: Mapping[str, int] = {}
        self.kept: Judging | None = None
        self.keep_id: int | None = None
        self.away_since: date | None = None
        self.done, self.total = 0, 0
        self.halted = False
        self.pictures: Pictures | None = None
        self._hands: dict[int, str] = {}
        self._benches: dict[int, BenchFacts] = {}
        self._begun: dict[int, BegunSearch] = {}
        self._queue: list[MachineId] = []
        self._readings = 0
        self._cans_asked = False
        self._slices = Slices(self)
        self._spent = QElapsedTimer()
        self._put_off = False
        self._later = QTimer(self)
        self._later.setSingleShot(True)
        self._later.setInterval(LATER_MS)
        self._later.timeout.connect(self.settle)

    @property
    def running(self) -> bool:
        """Whether machines are still to be judged."""
        return self._slices.running or self._put_off

    @property
    def takes_long(self) -> bool:
        """Whether it has gone on so long that somebody wants to know."""
        return self.running and self.total > CHUNK and self._spent.elapsed() > LONG_MS

    # -- beginning -----------------------------------------------------------------------------

    def read(
        self,
        pictures: Pictures,
        only: frozenset[MachineId] | None,
        *,
        fuel: bool = False,
        later: bool = False,
    ) -> None:
        """Read all machines again, or only those; what is known stays until it is known anew.
        `fuel`: the cans may have changed; `later`: nobody is looking."""
        self.pictures, self.halted = pictures, False
        self._cans_asked = self._cans_asked or fuel or only is None
        try:
            with self._hub.read() as session:
                self.settings = read_settings(session)
                self.shelf = read_shelf(session)
                ids = read_machine_ids(session) if only is None else tuple(sorted(only))
        except Trouble as trouble:
            self.failed.emit(trouble)
            return
        self._readings += 1
        if only is None:
            for gone in set(self.lines) - set(ids):
                self._forget(gone)
            self._queue = list(ids)
            self.done, self.total = 0, len(ids)
            self._spent.start()
        else:
            self._queue = [*ids, *(one for one in self._queue if one not in only)]
            self.total = self.done + len(self._queue)
        if self._slices.running and only is not None and len(ids) > FEW:
            return
        if later:
            self._put_off = True
            self._later.start()
        else:
            self._begin(frozenset(ids))

    def settle(self) -> None:
        """Judge what was put off while nobody was looking."""
        if self._put_off:
            self._begin(frozenset(self._queue))

    def _begin(self, ids: frozenset[MachineId]) -> None:
        self._put_off = False
        self._later.stop()
        self._slices.start(self._steps(), self._finished)
        if len(ids) <= FEW:
            self._judge_at_once(ids)

    def _judge_at_once(self, ids: frozenset[MachineId]) -> None:
        """So few that nobody waits."""
        while self._slices.running and (not self._queue or ids & set(self._queue)):
            self._slices.step()
        if self._queue:
            self.advanced.emit()

    # -- in slices -----------------------------------------------------------------------------

    def _steps(self) -> Generator[None, None, None]:
        told = FIRST_SHOWN
        while self._queue or self._cans_asked:
            if not self._queue:
                self._cans_asked = False
                yield from self._judge_cans()
                continue
            chunk, reading = self._queue[:CHUNK], self._readings
            facts = self._read(chunk)
            if facts is None:
                self._queue.clear()
                return
            yield
            there = {machine.machine_id: machine for machine in facts}
            for number in chunk:
                if self._readings != reading:
                    break  # others were put in front, or what was read of these is old by now
                machine = there.get(number)
                if machine is None:
                    self._forget(number)
                else:
                    self._judge(machine)
                self._queue.pop(0)
                self.done += 1
                if self._queue and self.done == told:
                    told *= 4
                    self.advanced.emit()
                yield

    def _judge_cans(self) -> Generator[None, None, None]:
        found: list[VesselVerdict] = []
        pictures = self.pictures
        if pictures is None:
            return
        try:
            with self._hub.read() as session:
                ids = read_can_ids(session)
            for place in range(0, len(ids), CHUNK):
                yield
                with self._hub.read() as session:
                    cans = read_cans_among(
                        session,
                        on=pictures.on,
                        catalogue=self._catalogue,
                        only=ids[place : place + CHUNK],
                    )
                found += [judge_vessel(can, on=pictures.on) for can in cans]
        except Trouble as trouble:
            self.failed.emit(trouble)
            return
        self.cans = tuple(found)

    def _read(self, chunk: Iterable[MachineId]) -> tuple[MachineFacts, ...] | None:
        if self.pictures is None:
            return None
        only, on = frozenset(chunk), self.pictures.on
        try:
            with self._hub.read() as session:
                for number in only:
                    self._hands.pop(number, None)
                    self._benches.pop(number, None)
                    self._begun.pop(number, None)
                self._hands.update(read_hands(session, on=on, machines=only))
                self._benches.update(read_benches(session, machines=only))
                self._begun.update(read_begun(session, machines=only))
                return read_fleet(session, on=on, catalogue=self._catalogue, only=only)
        except Trouble as trouble:
            self.failed.emit(trouble)
            return None

    def judged(self, facts: MachineFacts, on: date) -> Judging:
        """One machine judged by the settings in force."""
        limits = self._catalogue.limits
        return judge(facts, on=on, policy=self.settings.policy, limits=limits)

    def _judge(self, facts: MachineFacts) -> None:
        pictures = self.pictures
        if pictures is None:
            return
        judging = self.judged(facts, pictures.on)
        season = pre_season(judging, precedence=self._catalogue.precedence)
        number = int(facts.machine_id)
        hand = plain_name(self._hands.get(number, ""))
        bench, begun = self._benches.get(number), self._begun.get(number)
        line, self.summaries[number] = pictures.line(judging, season, hand=hand)
        goes_on, text = going_on(bench, begun, pictures.words)
        ground = pictures.bench(bench, begun) or line.ground_text
        self.lines[number] = replace(line, ground_text=ground, goes_on=goes_on, goes_on_text=text)
        self.jobs[number] = jobs_of(judging, season)
        if number == self.keep_id:
            self.kept = judging
        if self.away_since is not None:
            found = meanwhile(judging, last=self.away_since, on=pictures.on, words=pictures.words)
            if found is not None:
                self.meanwhile[number] = found

    def _forget(self, number: int) -> None:
        for known in (self.lines, self.summaries, self.jobs, self.meanwhile):
            known.pop(number, None)
        if self.kept is not None and self.kept.facts.machine_id == number:
            self.kept = None

    def _finished(self, _nothing: object) -> None:
        self.advanced.emit()

    # -- asked from outside --------------------------------------------------------------------

    def one(self, number: int) -> Judging | None:
        """One machine, read and judged now; None when it is not there. Emits `failed`."""
        if self.kept is not None and self.kept.facts.machine_id == number:
            return self.kept
        found = self._read([MachineId(number)])
        if not found or self.pictures is None:
            return None
        judging = self.judged(found[0], self.pictures.on)
        if number == self.keep_id:
            self.kept = judging
        return judging

    def halt(self) -> None:
        """Stop for now; what is judged stays."""
        self._slices.hold()
        self.halted = True
        self.advanced.emit()

    def go_on(self) -> None:
        """Judge the rest."""
        self.halted = False
        self._slices.go_on()
        self.advanced.emit()

    def stop(self) -> None:
        """Stop for good."""
        self._put_off = False
        self._later.stop()
        self._slices.stop()
        self._queue.clear()
