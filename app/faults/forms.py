"""The forms of the fault room: what was seen already, pausing, where to stop, how it ended."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date

from app.causes.known import Symptom
from app.causes.picture import FaultWords
from app.pieces.form import Field, FieldSort, FormPage
from app.wording.languages import msg
from models.facts.searches import Search
from models.words import SearchEnd
from schedules.fault_facts import BLANK, FaultModel, Question, ReadingId
from schedules.fault_odds import Suspect

TRIED = "tried"
STILL_OFF = msg("Not back on yet, in this order: {what}.")
A_TRY = msg("a try at work, to see whether it helped")


@dataclass(frozen=True, slots=True, kw_only=True)
class FaultForms:
    """Makes the pages."""

    words: FaultWords

    def _text(self, msgid: str, **values: object) -> str:
        return self.words.words.text(msgid, **values)

    def _page(self, key: str, title: str, fields: tuple[Field, ...], *, lead: str = "") -> FormPage:
        return FormPage(
            key=key,
            title=self._text(title),
            lead=self._text(lead) if lead else "",
            fields=fields,
            done=self._text(msg("Keep it")),
            cancel=self._text(msg("Never mind")),
        )

    def seen(self, symptom: Symptom) -> FormPage:
        """What have you already seen? Every answer may stay blank."""
        model = symptom.model
        given = {str(one.reading): str(one.outcome) for one in symptom.seen}
        fields = [
            self._question(one, given.get(str(one.reading_id), "")) for one in model.questions
        ]
        tried = _small_cures(self.words, model)
        if tried:
            fields.append(
                Field(
                    name=TRIED,
                    label=self._text(msg("What did you try already, and it did not help?")),
                    sort=FieldSort.TICKS,
                    choices=tried,
                )
            )
        return FormPage(
            key="seen",
            title=self._text(msg("What have you already seen?")),
            lead=self._text(
                msg("Every answer saves a test. What you do not know stays open; go out later.")
            ),
            fields=tuple(fields),
            done=self._text(msg("What next?")),
            cancel=self._text(msg("Never mind")),
        )

    def _question(self, question: Question, given: str) -> Field:
        outcomes = tuple(
            (str(one.outcome_id), self._text(one.text))
            for one in question.outcomes
            if one.outcome_id != BLANK
        )
        return Field(
            name=str(question.reading_id),
            label=self._text(question.name),
            sort=FieldSort.TILES,
            choices=(*outcomes, ("", self._text(msg("not known")))),
            default=given,
        )

    def change(self, model: FaultModel, reading: ReadingId, given: str) -> FormPage:
        """Another answer to a question or test, or none."""
        found = model.reading(reading)
        choices = [
            (str(one.outcome_id), self._text(one.text))
            for one in found.outcomes
            if one.outcome_id != BLANK
        ]
        choices.append((str(BLANK), self._text(msg("not sure"))))
        return self._page(
            "change",
            msg("Answer anew"),
            (
                Field(
                    name="outcome",
                    label=self._text(found.name),
                    sort=FieldSort.TILES,
                    choices=(*choices, ("", self._text(msg("take it back")))),
                    default=given,
                ),
            ),
            lead=msg("What follows is worked out anew; what you said before stays on record."),
        )

    def pause(self, today: date, waits_for: str = "") -> FormPage:
        """On the bench, waiting for something."""
        return self._page(
            "pause",
            msg("On the bench, waiting for…"),
            (
                Field(
                    name="waits_for",
                    label=self._text(msg("What does it wait for?")),
                    default=self._text(waits_for) if waits_for else "",
                    hint=self._text(msg("A part, a soak, snow to try it in, somebody to help.")),
                ),
                Field(
                    name="day",
                    label=self._text(msg("Since when")),
                    sort=FieldSort.DAY,
                    default=today,
                ),
            ),
        )

    def left_off(self) -> FormPage:
        """A part comes off; it goes back in the other order."""
        return self._page(
            "left_off",
            msg("Something comes off"),
            (
                Field(
                    name="text",
                    label=self._text(msg("What, and how it sat")),
                    hint=self._text(
                        msg("Like: governor spring, short end, second hole. Photo first.")
                    ),
                ),
            ),
        )

    def stop(self, search: Search, currency: str) -> FormPage:
        """Where to stop: time and money, drawn before one is deep in it."""
        cents = "" if search.stop_cents is None else f"{search.stop_cents / 100:.2f}"
        minutes = "" if search.stop_minutes is None else str(search.stop_minutes)
        return self._page(
            "stop",
            msg("Stop when…"),
            (
                Field(name="minutes", label=self._text(msg("Minutes of work")), default=minutes),
                Field(
                    name="cents",
                    label=self._text(msg("Money, in {currency}"), currency=currency),
                    default=cents,
                ),
            ),
            lead=msg("Drawn now, while you are cool. Leave both empty for no line."),
        )

    def part(self, text: str, days: int) -> FormPage:
        """A part for the buying list; the machine waits for it."""
        return self._page(
            "part",
            msg("Needs a part"),
            (
                Field(name="part", label=self._text(msg("What to buy"))),
                Field(
                    name="text",
                    label=self._text(msg("What it is for")),
                    default=text[:200],
                    hint=self._text(msg("It takes about {days} to come."), days=self._days(days)),
                ),
                Field(
                    name="wait",
                    label=self._text(msg("Until then it stands on the bench")),
                    sort=FieldSort.YES,
                    default=True,
                ),
            ),
        )

    def _days(self, days: int) -> str:
        return self.words.words.days(days)

    def end(
        self,
        suspects: tuple[Suspect, ...],
        *,
        cause: str,
        ending: SearchEnd,
        loose: tuple[str, ...] = (),
        others: tuple[tuple[str, str], ...] = (),
    ) -> FormPage:
        """How it ended, and what it was. `loose`: what still lies there, the last one first;
        `others`: faults noted beside it, which may be put right by the same work."""
        text = self._text
        causes = tuple(
            (str(one.cause.cause_id), self.words.cause(one.cause.name)) for one in suspects
        )
        page = self._page(
            "end",
            msg("End the search"),
            (
                Field(
                    name="ending",
                    label=text(msg("How did it end?")),
                    sort=FieldSort.TILES,
                    choices=tuple((str(one), self.words.words.word(one)) for one in SearchEnd),
                    default=str(ending),
                ),
                Field(
                    name="cause",
                    label=text(msg("What was it?")),
                    sort=FieldSort.CHOICE,
                    choices=(("", text(msg("nobody knows"))), *causes),
                    default=cause,
                ),
                Field(
                    name="sure",
                    label=text(msg("I made sure of it: it counts in later searches of this shed")),
                    sort=FieldSort.YES,
                ),
                *(
                    (
                        Field(
                            name="others",
                            label=text(msg("Also noted, and put right by it")),
                            sort=FieldSort.TICKS,
                            choices=others,
                        ),
                    )
                    if others
                    else ()
                ),
                Field(name="how", label=text(msg("In your own words"))),
            ),
        )
        return replace(page, lead=text(STILL_OFF, what=" · ".join(loose))) if loose else page


def _small_cures(words: FaultWords, model: FaultModel) -> tuple[tuple[str, str], ...]:
    """Cures people try before they ask: quick, and at no great cost, nothing opened for them."""
    return tuple(
        (str(cause.cause_id), words.words.text(cause.cures[0].text))
        for cause in model.causes
        if cause.opening in (None, "plug", "box") and cause.cures[0].cost in ("none", "small")
    )
