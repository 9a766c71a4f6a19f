"""The appraisal in words: one number, one line, and what lies behind them. No window."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from app.appraisal.state import AppraisalState, EndLine, LookLine
from app.appraisal.wreck import Appraised, Asking, looks_of, still_open
from app.causes.picture import FaultWords
from app.wording.languages import msg
from schedules.appraisal import Choice
from schedules.fault_facts import BLANK, CauseId, FaultModel, FaultTest, ReadingId
from schedules.fault_state import FaultState

CHOICES = {
    Choice.TAKE: msg("At {asked}: take it."),
    Choice.PASS: msg("At {asked}: let it pass."),
    Choice.PART_OUT: msg("At {asked}: take it for its parts only."),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class AppraisalWords:
    """Says an appraisal in one language and currency."""

    words: FaultWords
    currency: str

    def _money(self, cents: float) -> str:
        """Whole units: nobody bids in pence."""
        said = self.words.words.money(max(0, round(cents / 100)) * 100, self.currency)
        return said.removesuffix(".00")

    def show(
        self,
        model: FaultModel,
        state: FaultState,
        asking: Asking,
        found: Appraised,
        *,
        spent: str = "",
        can_draw: bool = False,
        notice: str = "",
    ) -> AppraisalState:
        """The whole room."""
        text = self.words.words.text
        asked = self._money(asking.asked)
        if not asking.running:
            return AppraisalState(
                title=text(model.title),
                looks=self._looks(model, state),
                most="",
                stop="",
                choice="",
                asked=asked,
                between="",
                first_look="",
                ends=(),
                order=(),
                spent=spent,
                notice=notice,
                first=self._what_first(model, state),
            )
        return AppraisalState(
            title=text(model.title),
            looks=self._looks(model, state),
            most=self._money(float(found.offer.most)),
            stop=self.stop(found),
            choice=text(CHOICES[found.offer.choice], asked=asked),
            asked=asked,
            between=text(
                msg("Between {low} and {high}, as it brings the low or the high figure."),
                low=self._money(float(found.low.most)),
                high=self._money(float(found.high.most)),
            ),
            first_look=self._first(model, found),
            ends=self._ends(found),
            order=tuple(
                self.words.cause(model.cause(CauseId(code)).name)
                for code in found.offer.rescue.order
            ),
            spent=spent,
            can_draw=can_draw,
            notice=notice,
        )

    def stop(self, found: Appraised) -> str:
        """Where to stop, in one line."""
        text, words = self.words.words.text, self.words.words
        if not found.offer.rescue.worth_trying:
            return text(msg("Stop before you begin: no repair pays for itself."))
        time = words.minutes(found.minutes)
        if not found.cents:
            return text(msg("Stop when {time} are gone and it does not run."), time=time)
        return text(
            msg("Stop when {money} of parts or {time} are gone and it does not run."),
            money=self._money(found.cents),
            time=time,
        )

    def _what_first(self, model: FaultModel, state: FaultState) -> tuple[str, ...]:
        """Nobody said what it brings: the range of the answer, and what would change it."""
        text, percent = self.words.words.text, self._percent
        found = still_open(model, state)
        lines = [
            text(
                msg(
                    "As it is known now, pay at most {now} in the hundred of what it brings when "
                    "it runs; after one look more it may be {least} or {most}."
                ),
                now=percent(found.now),
                least=percent(found.least),
                most=percent(found.most),
            ),
            text(
                msg(
                    "Say what it brings running, and the number stands here. If you do not know: "
                    "some 70 in the hundred of its price new after a year, 50 after five, 35 after "
                    "ten (our judgement)."
                )
            ),
        ]
        if found.looks:
            look, least, most = found.looks[0]
            said = msg("Look at this first, it changes most (from {least} to {most}): {look}")
            lines.insert(
                1, text(said, look=text(look.name), least=percent(least), most=percent(most))
            )
        return tuple(lines)

    def _percent(self, share: Fraction) -> str:
        return str(round(share * 20) * 5)

    def _looks(self, model: FaultModel, state: FaultState) -> tuple[LookLine, ...]:
        text = self.words.words.text
        return tuple(
            LookLine(
                code=str(one.reading_id),
                question=text(one.name),
                answers=(
                    *(
                        (str(each.outcome_id), text(each.text))
                        for each in one.outcomes
                        if each.outcome_id != BLANK
                    ),
                    ("", text(msg("not looked"))),
                ),
                given=str(state.outcome(one.reading_id) or ""),
                how=text(one.steps) if isinstance(one, FaultTest) else "",
            )
            for one in looks_of(model)
        )

    def _first(self, model: FaultModel, found: Appraised) -> str:
        text = self.words.words.text
        if found.offer.look is None:
            return text(msg("No further look would change what to do."))
        reading = model.reading(ReadingId(found.offer.look))
        return text(
            msg("Look at this first, it is worth {money}: {look}"),
            money=self._money(float(found.offer.look_worth)),
            look=text(reading.name),
        )

    def _ends(self, found: Appraised) -> tuple[EndLine, ...]:
        text = self.words.words.text
        lines: list[EndLine] = []
        for one in found.offer.rescue.outcomes:
            said = (
                msg("runs after {n}; left in hand {money}")
                if one.running
                else msg("given up after {n}; left in hand {money}")
            )
            tries = self.words.words.count(msg("{n} repair"), msg("{n} repairs"), one.steps)
            sign = "−" if one.net_cents < 0 else ""
            money = sign + self._money(abs(float(one.net_cents)))
            lines.append(
                EndLine(
                    text=text(said, n=tries, money=money),
                    odds=self.words.odds(float(one.chance)),
                    share=float(one.chance),
                )
            )
        return tuple(lines)
