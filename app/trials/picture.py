"""From what the engine and the file say of one machine to what the room shows: words only."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from app.sheets.wear_rows import wear_rows
from app.trials.drawings import drawing_of
from app.trials.said import amount_said, grounds_said, verdict_said
from app.trials.state import CourseLine, TrialLine, TrialsState, ValueLine
from app.wording.languages import msg
from app.wording.lines import CautionText
from app.wording.wear import lives_said
from app.wording.wording import Wording
from models.facts.trials import Trial
from models.words import TrialSide
from resources.protocols import Protocols
from schedules.facts import Direction, LimitCode, LimitFacts, TaskFacts
from schedules.intervals import Item
from schedules.plan import Judging
from schedules.states import Severity
from schedules.units import UnitSystem

_GRAVEST = (Severity.DANGER, Severity.WARNING, Severity.CAUTION, Severity.NOTICE)


def gravest_first(cautions: Iterable[CautionText]) -> tuple[CautionText, ...]:
    """Danger before the rest."""
    return tuple(sorted(cautions, key=lambda one: _GRAVEST.index(one.severity)))


class TrialsPicture:
    """Makes the picture of one machine on one day."""

    def __init__(self, *, words: Wording, protocols: Protocols, system: UnitSystem) -> None:
        self.words = words
        self.protocols = protocols
        self.system = system

    def show(
        self, judging: Judging, trials: tuple[Trial, ...], *, can_write: bool, notice: str
    ) -> TrialsState:
        """The room as it is."""
        return TrialsState(
            machine_id=judging.facts.machine_id,
            name=judging.facts.name,
            second=self.words.kind(judging.facts.kind.code),
            courses=self._courses(judging),
            trials=tuple(self._trial(one) for one in trials),
            can_write=can_write,
            notice=notice,
        )

    # -- what wears ----------------------------------------------------------------------------

    def _courses(self, judging: Judging) -> tuple[CourseLine, ...]:
        """What was measured first, then what wears, then the rest."""
        found: list[tuple[int, CourseLine]] = []
        seen: set[LimitCode] = set()
        for item in judging.items:
            for task in item.tasks.values():
                for code in task.rule.limits:
                    limit = item.limits[code]
                    if code in seen and not limit.per_task:
                        continue
                    seen.add(code)
                    course = self._course(judging, item, task, limit)
                    rank = 0 if course.rows or course.seen else 1 if limit.wears else 2
                    found.append((rank, course))
        return tuple(course for _, course in sorted(found, key=lambda each: each[0]))

    def _course(
        self, judging: Judging, item: Item, task: TaskFacts, limit: LimitFacts
    ) -> CourseLine:
        words = self.words
        rows = wear_rows(judging, task, limit, words)
        seen = self._seen(item, task, limit)
        if rows is not None and limit.wears is None and not rows.is_past:
            standing = f"{rows.table[-1][0]}: {rows.table[-1][2]}"
        elif rows is not None:
            standing = rows.sentences[0] if rows.sentences else rows.table[-1][2]
        elif seen:
            standing = f"{seen[-1][0]}: {seen[-1][2]}"
        else:
            standing = words.text(msg("not measured yet"))
        name = words.limit(limit.code)
        lived = judging.once.lives(task.code) if rows is None and limit.per_task else None
        return CourseLine(
            key=f"{task.code}|{limit.code}",
            name=name[:1].upper() + name[1:],
            part=words.task(task.code) if limit.per_task else words.word(item.facts.sort),
            standing=standing,
            how=words.text(limit.how),
            worn=words.text(
                msg("Worn when: {worn}.") if limit.wears else msg("Act when: {worn}."),
                worn=words.worn_when(limit),
            ),
            drawing=drawing_of(limit.code),
            rows=rows,
            seen=seen,
            lived="" if lived is None else lives_said(words, lived),
        )

    def _seen(
        self, item: Item, task: TaskFacts, limit: LimitFacts
    ) -> tuple[tuple[str, str, str], ...]:
        if limit.direction is not Direction.EVENT:
            return ()
        words = self.words
        return tuple(
            (
                words.day(one.day),
                words.run_time(item.timeline.total(one.day.toordinal())),
                words.text(limit.event) if one.seen else words.text(msg("not so")),
            )
            for one in item.readings
            if one.limit == limit.code and (not limit.per_task or one.code == task.code)
        )

    # -- before and after ----------------------------------------------------------------------

    def _trial(self, trial: Trial) -> TrialLine:
        words, protocol = self.words, trial.protocol
        second = [words.day(trial.begun_on)]
        if trial.work:
            second.append(trial.work)
        second.append(words.text(msg("rough")) if trial.rough else words.text(msg("careful")))
        if trial.closed_on is not None:
            second.append(words.text(msg("done {day}"), day=words.day(trial.closed_on)))
        return TrialLine(
            trial_id=trial.trial_id,
            name=words.text(protocol.name),
            second=" · ".join(second),
            verdict=verdict_said(trial, words),
            grounds=grounds_said(trial, self.protocols, self.system, words),
            cautions=gravest_first(words.caution(code) for code in protocol.cautions),
            before=tuple(words.text(line) for line in protocol.before),
            steps=tuple(words.text(line) for line in protocol.steps),
            alike=self._alike(trial),
            values=tuple(
                ValueLine(
                    value_id=one.value_id,
                    side=self._side(trial, one.side, of_reference=one.of_reference),
                    day=words.day(one.day),
                    amount=amount_said(protocol, Fraction(one.amount), self.system, words),
                )
                for one in trial.values
            ),
            next_step=self._next(trial),
            is_open=trial.closed_on is None,
            has_reference=bool(trial.reference),
        )

    def _side(self, trial: Trial, side: TrialSide, *, of_reference: bool) -> str:
        said = self.words.word(side)
        return f"{said} · {trial.reference}" if of_reference else said

    def _alike(self, trial: Trial) -> tuple[tuple[str, str, str], ...]:
        words = self.words
        said = {(side, code): answer for side, code, answer in trial.answers}
        rows: list[tuple[str, str, str]] = []
        for code in trial.asked:
            condition = self.protocols.conditions[code]
            shown = {value: words.text(text) for value, text in condition.answers}
            before, after = (
                shown.get(said.get((side, code), ""), words.text(msg("not said")))
                for side in (TrialSide.BEFORE, TrialSide.AFTER)
            )
            mark = "≠ " if code in trial.differing else ""
            rows.append((mark + words.text(condition.question), before, after))
        return tuple(rows)

    def _next(self, trial: Trial) -> str:
        """The one thing that is wanted next."""
        if trial.closed_on is not None:
            return ""
        words = self.words
        said = {(side, code) for side, code, _ in trial.answers}
        for side, conditions, values in (
            (
                TrialSide.BEFORE,
                msg("Next: say how it was before."),
                msg("Next: {n} values before the work."),
            ),
            (
                TrialSide.AFTER,
                msg("Next, once the work is done: say how it is after."),
                msg("Next: {n} values after the work."),
            ),
        ):
            if any((side, code) not in said for code in trial.asked):
                return words.text(conditions)
            wanted = trial.protocol.rough if trial.rough else trial.protocol.careful
            left = wanted - len(trial.amounts(side))
            if left > 0:
                return words.text(values, n=left)
        return words.text(msg("Everything is there. “That is all” takes the job off the list."))
