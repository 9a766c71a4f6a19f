"""From what the engine says of one machine to what its room shows: words only."""

from __future__ import annotations

from app.entry.manual import figures_of
from app.entry.short_way import first_looks, going_over
from app.entry.standing import PLATE_LABELS
from app.fleet.picture import Pictures
from app.machine.state import (
    FigureLine,
    FuelLine,
    MachineRoomState,
    PlateCard,
    QuestionLine,
)
from app.vessel_names import empty_said
from app.wording.benches import going_on, standing_said
from app.wording.languages import msg
from app.wording.wear import lives_said
from app.wording.wording import Wording
from models.facts.begun import BegunSearch
from models.facts.benches import BenchFacts
from models.facts.plates import PlateFacts
from models.facts.records import RecordedEntry
from resources.loader import Catalogue
from schedules.facts import HoursBasis, ItemSort, TaskCode, VesselVerdict
from schedules.plan import Judging
from schedules.states import TaskState

_ASKED = (TaskState.OVERDUE, TaskState.DUE, TaskState.NOT_KNOWN, TaskState.COMING)


class RoomPicture:
    """Makes the picture of one machine on one day."""

    def __init__(self, *, words: Wording, catalogue: Catalogue, pictures: Pictures) -> None:
        self.words = words
        self.catalogue = catalogue
        self.pictures = pictures

    def show(
        self,
        judging: Judging,
        records: tuple[RecordedEntry, ...],
        plates: tuple[PlateFacts, ...],
        *,
        can_write: bool,
        notice: str,
        bench: BenchFacts | None = None,
        begun: BegunSearch | None = None,
    ) -> MachineRoomState:
        """The room as it is. `bench`: what stopped half way there; `begun`: a search."""
        goes_on, goes_on_text = going_on(bench, begun, self.words)
        words, verdict = self.words, judging.verdict
        chosen = self.pictures.chosen(judging, records)
        return MachineRoomState(
            machine_id=chosen.machine_id,
            name=chosen.name,
            second=chosen.second,
            icon=chosen.icon,
            state=chosen.state,
            state_text=chosen.state_text,
            standing=chosen.standing_text,
            hours=self._hours(judging),
            hours_read=verdict.hours.basis in (HoursBasis.METER, HoursBasis.LOG),
            hours_ground=self._hours_ground(judging),
            plates=tuple(self._plate(one) for one in plates),
            fuel=tuple(self._fuel(one) for one in verdict.fuel),
            waiting=(*standing_said(bench, begun, words), *self._waiting(judging)),
            goes_on=goes_on,
            goes_on_text=goes_on_text,
            question=self._question(judging),
            built=len(judging.facts.kind.features),
            going_over=going_over(judging, words),
            looks=tuple(first_looks(judging)),
            tasks=chosen.tasks,
            records=chosen.records,
            figures=self._figures(judging),
            lives=self._lives(judging),
            laid_up=chosen.laid_up,
            can_write=can_write,
            notice=notice,
        )

    def _hours(self, judging: Judging) -> str:
        now = judging.verdict.hours
        if now.seconds is None:
            return self.words.text(msg("hours not known"))
        read = now.basis in (HoursBasis.METER, HoursBasis.LOG)
        return self.words.run_time(now.seconds, estimated=not read)

    def _hours_ground(self, judging: Judging) -> str:
        """What the hours rest on, how far off they may be, and when the meter was last read."""
        words, now = self.words, judging.verdict.hours
        said = [words.word(now.basis)] if now.seconds is not None else []
        if now.low is not None and now.high is not None and now.low != now.high:
            low, high = words.run_time(now.low), words.run_time(now.high)
            said.append(words.text(msg("between {low} and {high}"), low=low, high=high))
        read = judging.items[0].facts.hours.readings
        if read:
            last = max(read, key=lambda reading: reading.day)
            shown = words.run_time(last.seconds)
            said.append(
                words.text(msg("{hours} in all on {day}"), hours=shown, day=words.day(last.day))
            )
        else:
            said.append(words.text(msg("no meter was read yet")))
        return " · ".join(said)

    def _plate(self, facts: PlateFacts) -> PlateCard:
        words = self.words
        rows = [(words.text(label), getattr(facts, name)) for name, label in PLATE_LABELS.items()]
        came = facts.fitted_on or facts.came_on
        label = msg("Here since") if facts.fitted_on is None else msg("On it since")
        rows.append((words.text(label), words.day(came)))
        title = words.word(facts.sort)
        if facts.sort is ItemSort.MACHINE:
            return PlateCard(title=words.text(msg("The machine")), rows=tuple(rows), act="change")
        return PlateCard(
            title=title[:1].upper() + title[1:], rows=tuple(rows), act=f"unit-{facts.item_id}"
        )

    def _fuel(self, vessel: VesselVerdict) -> FuelLine:
        words = self.words
        name = words.word(vessel.sort)
        amount = empty_said(vessel, words)
        if vessel.lots and vessel.volume_ul <= 1:
            amount = words.text(msg("amount not known"))
        elif vessel.lots:
            amount = words.text(
                msg("{volume} of {size}"),
                volume=words.litres(vessel.volume_ul),
                size=words.litres(vessel.capacity_ul),
            )
        verdict = words.band(vessel.band) if vessel.lots else ""
        return FuelLine(name=name[:1].upper() + name[1:], amount=amount, verdict=verdict)

    def _waiting(self, judging: Judging) -> tuple[str, ...]:
        """On the bench: what is waited for, and for the sake of what."""
        return tuple(
            self.words.text(
                msg("On the bench, waiting for {thing}: {job}"), thing=job.waits_for, job=job.text
            )
            for job in judging.facts.jobs
            if job.waits_for
        )

    def _question(self, judging: Judging) -> QuestionLine | None:
        """The next thing to be said once: what most of the work now asked for hangs on."""
        words, facts = self.words, judging.facts
        answered = {code for code, _ in facts.features}
        asked: dict[str, list[TaskCode]] = {}
        states = {verdict.code: verdict.state for verdict in judging.verdict.tasks}
        for task in facts.kind.tasks:
            if states.get(task.code, TaskState.DUE) not in _ASKED:
                continue
            for condition in task.applies:
                if condition.feature not in answered and condition.feature in facts.kind.features:
                    asked.setdefault(condition.feature, []).append(task.code)
        if not asked:
            return None
        code = max(asked, key=lambda one: (len(asked[one]), one))
        feature = next(f for key, f in self.catalogue.features.items() if key == code)
        because = words.text(
            msg("Asked once. It decides: {work}."),
            work=words.listed([words.task(task) for task in asked[code][:2]]),
        )
        return QuestionLine(
            code=code,
            question=words.text(feature.question),
            because=because,
            answers=tuple((value, words.text(said)) for value, said in feature.values),
        )

    def _lives(self, judging: Judging) -> dict[str, str]:
        found = {
            verdict.code: judging.once.lives(verdict.code) for verdict in judging.verdict.tasks
        }
        return {
            str(code): lives_said(self.words, lives)
            for code, lives in found.items()
            if lives is not None
        }

    def _figures(self, judging: Judging) -> dict[str, tuple[FigureLine, ...]]:
        return {
            str(verdict.code): tuple(
                FigureLine(key=one.key, name=one.name, amount=one.amount, whose=one.whose)
                for one in figures_of(judging, verdict.code, self.words)
            )
            for verdict in judging.verdict.tasks
        }
