"""A pour that is being made: the amount, and what it would do."""

from __future__ import annotations

from datetime import date

from app.entry.danger import danger_of
from app.entry.fuel_forms import typed_volume
from app.fuel.figures import figure_of, graduation_ul
from app.fuel.picture import Standing, alcohol_said
from app.fuel.state import PourPreview
from app.pieces.asked import Said
from app.vessel_names import turn_said
from app.wording.languages import msg
from app.wording.numbers import NBSP
from app.wording.wording import Wording
from models.acts.fuel import Pour
from models.facts.settings import HouseholdSettings
from schedules.facts import VesselFacts, VesselVerdict
from schedules.fuel import judge_vessel
from schedules.pouring import held_ul, poured, room_ul
from schedules.units import Typed


class Pouring:
    """Between two vessels on one day; as much as goes in, until another amount is chosen."""

    def __init__(
        self,
        *,
        words: Wording,
        settings: HouseholdSettings,
        source: Standing,
        target: Standing,
        names: tuple[str, str],
        on: date,
    ) -> None:
        self.words = words
        self.names = names
        self.asked = False
        self._settings = settings
        self._source = source.facts
        self._target = target.facts
        self._on = on
        self._before = (source.verdict, target.verdict)
        self._step = graduation_ul(min(self._source.capacity_ul, self._target.capacity_ul), words)
        self.volume_ul = self.most_ul
        self._typed: Typed | None = None
        self._refused = ""
        self._danger = danger_of(
            (lot.sort for lot in self._source.lots), self._target, names[1], words
        )

    @property
    def most_ul(self) -> int:
        """As much as is there and goes in."""
        return min(held_ul(self._source), room_ul(self._target))

    # -- choosing the amount -------------------------------------------------------------------

    def type(self, text: str) -> None:
        """The amount as it is being typed."""
        self.asked = False
        found = typed_volume(text.strip(), self._settings, self.words)
        match found:
            case None:
                self._refused = self.words.text(msg("Say how much, like 2 L."))
                self._typed = None
            case Said():
                self._refused, self._typed = found.text, None
            case _:
                self._refused, self._typed = "", found
                self.volume_ul = found.stored

    def step(self, steps: int) -> None:
        """So many graduations more, or less; never less than one, never more than goes."""
        self._set(self.volume_ul + steps * self._step)

    def level(self, part: float) -> None:
        """As much as brings the other vessel to that part of its height."""
        wanted = round(part * self._target.capacity_ul) - held_ul(self._target)
        rounded = round(wanted / self._step) * self._step
        self._set(rounded)

    def _set(self, volume: int) -> None:
        self.asked = False
        self._refused, self._typed = "", None
        self.volume_ul = max(min(self._step, self.most_ul), min(volume, self.most_ul))

    # -- what it would do ----------------------------------------------------------------------

    def preview(self) -> PourPreview:
        """Both vessels after it; as they are when it cannot be done."""
        refused = self.refused
        source, target = (self._source, self._target) if refused else self.after()
        before = self._before
        after = before
        if not refused:
            after = (judge_vessel(source, on=self._on), judge_vessel(target, on=self._on))
        return PourPreview(
            source=figure_of(after[0], self.words),
            target=figure_of(after[1], self.words),
            source_said=self._said(self.names[0], before[0], after[0], self._source),
            target_said=self._said(self.names[1], before[1], after[1], self._target),
            amount=self.words.litres(self.volume_ul).replace(NBSP, " "),
            share=self.volume_ul / max(1, self._target.capacity_ul),
            refused=refused,
            danger="" if refused else self._danger,
        )

    @property
    def refused(self) -> str:
        """Why it cannot be done so; "" where it can."""
        return self._refused or self._no_pour()

    def after(self) -> tuple[VesselFacts, VesselFacts]:
        """Both vessels after it, where it is not refused."""
        return poured(self._source, self._target, self.volume_ul, on=self._on)

    def _no_pour(self) -> str:
        words = self.words
        held, room = held_ul(self._source), room_ul(self._target)
        if not room:
            said = msg(
                "{vessel} is full, as far as was entered. If some was burnt, say first what is "
                "left in it."
            )
            return words.text(said, vessel=self.names[1])
        if self.volume_ul > held:
            said = msg("There is no more than {held} in {vessel}.")
            return words.text(said, held=words.litres(held), vessel=self.names[0])
        if self.volume_ul > room:
            said = msg("No more than {room} goes into {vessel}.")
            return words.text(said, room=words.litres(room), vessel=self.names[1])
        return "" if self.volume_ul else words.text(msg("Say how much, like 2 L."))

    def _said(
        self, name: str, before: VesselVerdict, after: VesselVerdict, vessel: VesselFacts
    ) -> str:
        words = self.words
        amount = words.text(
            msg("{volume} of {size}"),
            volume=words.litres(after.volume_ul),
            size=words.litres(vessel.capacity_ul),
        )
        empty = words.text(msg("empty"))
        was = words.band(before.band) if before.lots else empty
        now = words.band(after.band) if after.lots else empty
        lines = [name, amount, now]
        if was != now:
            lines[2] = words.text(msg("{band}, was: {before}"), band=now, before=was)
        turns = turn_said(after, words) if after.lots else ""
        if turns:
            lines.append(turns)
        if after.lots and after.ethanol is not None and after.ethanol != before.ethanol:
            lines.append(alcohol_said(after.ethanol, words))
        return "\n".join(lines)

    def act(self) -> Pour:
        """What is to be entered."""
        return Pour(
            vessel_id=int(self._source.vessel_id),
            to_vessel_id=int(self._target.vessel_id),
            day=self._on,
            volume_ul=self.volume_ul,
            typed=self._typed,
        )
