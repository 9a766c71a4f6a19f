"""The forms of the season room: how a machine is built, why not now, what was found, what waits."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from app.pieces.asked import Said, choice, lines_of, text
from app.pieces.form import Field, FieldSort, FormPage
from app.season.state import SeasonCard
from app.wording.languages import msg
from app.wording.sittings import SittingWords
from models.acts.answers import AnswerFeatures
from models.acts.runs import AnswerStep, LeaveRun
from models.facts.runs import LeftOffFacts
from models.words import StepAnswer
from schedules.facts import MachineId, TaskCode
from schedules.going_over import needs_gates
from schedules.sitting_facts import FeatureAsked

YES, NO = "yes", "no"
COMPLAINT = "complaint"
WAYS: Mapping[str, str] = {
    "part": msg("A part is missing"),
    "tool": msg("A tool is missing"),
    "weather": msg("It is too cold, too wet or too dark"),
    "help": msg("It takes somebody to help"),
    "time": msg("There is no time left"),
}
SAT: Mapping[str, tuple[str, int | None]] = {
    "weeks": (msg("weeks or months"), 180),
    "years": (msg("one or two years"), 600),
    "long": (msg("over two years"), 1000),
    "": (msg("nobody knows"), None),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class SeasonForms:
    """Makes the pages, and reads what they answer."""

    said: SittingWords

    def _text(self, msgid: str, **values: object) -> str:
        return self.said.words.text(msgid, **values)

    def _page(
        self, key: str, title: str, fields: tuple[Field, ...], *, lead: str = "", done: str = ""
    ) -> FormPage:
        return FormPage(
            key=key,
            title=title,
            lead=lead,
            fields=fields,
            done=done or self._text(msg("Keep it")),
            cancel=self._text(msg("Never mind")),
        )

    # -- how a machine is built ----------------------------------------------------------------

    def built(self, asked: Sequence[FeatureAsked], names: Mapping[MachineId, str]) -> FormPage:
        """What the list hangs on and nobody has said yet, asked once."""
        return self._page(
            "built",
            self._text(msg("How are they built?")),
            tuple(self._built(one, names) for one in asked),
            lead=self._text(
                msg("The list hangs on it. Asked once; leave open what you cannot see.")
            ),
            done=self._text(msg("Lay down the list")),
        )

    def _built(self, asked: FeatureAsked, names: Mapping[MachineId, str]) -> Field:
        words = self.said.words
        feature = words.catalogue.features[asked.feature]
        choices = tuple((value, words.text(said)) for value, said in feature.values)
        return Field(
            name=f"{asked.machine_id}/{asked.feature}",
            label=words.text(
                msg("{machine}: {question}"),
                machine=names[asked.machine_id],
                question=words.feature(asked.feature),
            ),
            sort=FieldSort.TILES,
            choices=(*choices, ("", words.text(msg("not known")))),
        )

    def made_built(self, answers: Mapping[str, object]) -> tuple[AnswerFeatures, ...]:
        """What was answered, machine by machine."""
        found: dict[int, list[tuple[str, str]]] = {}
        for name in answers:
            value = choice(answers, name)
            if value:
                number, code = name.split("/", 1)
                found.setdefault(int(number), []).append((code, value))
        return tuple(
            AnswerFeatures(machine_id=number, answers=tuple(given))
            for number, given in found.items()
        )

    # -- before a first going-over -------------------------------------------------------------

    def gates(self, unknown: tuple[tuple[str, str], ...]) -> FormPage:
        """Whether nothing may turn before the full looks; what is taken as done instead."""
        return self._page(
            "gates",
            self._text(msg("Before anything turns")),
            (
                Field(
                    name="sat",
                    label=self._text(msg("How long has it sat?")),
                    sort=FieldSort.TILES,
                    choices=tuple((value, self._text(said)) for value, (said, _) in SAT.items()),
                ),
                Field(
                    name="seized",
                    label=self._text(msg("Does something stick that should turn?")),
                    sort=FieldSort.TILES,
                    choices=self._yes_no(),
                    default=NO,
                ),
                Field(
                    name="oil",
                    label=self._text(msg("Is there oil in it that you would trust?")),
                    sort=FieldSort.TILES,
                    choices=self._yes_no(),
                ),
                Field(
                    name="passed",
                    label=self._text(msg("Take as done: you know, or it does not matter")),
                    sort=FieldSort.TICKS,
                    choices=unknown,
                    default=(),
                    later=True,
                ),
            ),
            lead=self._text(
                msg("Long sat, stuck or without oil to trust: every look first, and no pull.")
            ),
            done=self._text(msg("Lay down the list")),
        )

    def _yes_no(self) -> tuple[tuple[str, str], ...]:
        return ((YES, self._text(msg("yes"))), (NO, self._text(msg("no"))))

    @staticmethod
    def made_passed(answers: Mapping[str, object]) -> dict[MachineId, frozenset[TaskCode]]:
        """What is passed over, by machine."""
        found: dict[MachineId, frozenset[TaskCode]] = {}
        for value in lines_of(answers, "passed"):
            number, code = value.split("/", 1)
            here = MachineId(int(number))
            found[here] = found.get(here, frozenset()) | {TaskCode(code)}
        return found

    @staticmethod
    def made_gates(answers: Mapping[str, object]) -> bool:
        """Whether the full looks come first; what is left open counts as not known."""
        _said, days = SAT[choice(answers, "sat")]
        return needs_gates(
            sat_days=days,
            seized=choice(answers, "seized") == YES,
            oil_known=choice(answers, "oil") == YES,
        )

    # -- a step --------------------------------------------------------------------------------

    def cannot(self, card: SeasonCard) -> FormPage:
        """Why not now; it becomes a job."""
        return self._page(
            "cannot",
            self._text(msg("Not now: {step}"), step=card.name),
            (
                Field(
                    name="why",
                    label=self._text(msg("Why not, or what does it wait for?")),
                    hint=self._text(msg("A part, a tool, warm weather, somebody to help.")),
                ),
                Field(
                    name="text",
                    label=self._text(msg("The job it becomes")),
                    default=card.name,
                ),
            ),
            lead=card.stop,
        )

    def fault(self, card: SeasonCard) -> FormPage:
        """What was found wrong; of a start that failed what it looks like, for the search."""
        return self._page(
            "fault",
            self._text(msg("Found at: {step}"), step=card.name),
            (
                *self._complaint(card),
                Field(
                    name="text",
                    label=self._text(msg("In your own words"))
                    if card.starts
                    else self._text(msg("What is wrong?")),
                ),
                Field(
                    name="stops_use",
                    label=self._text(msg("It must not be used like this")),
                    sort=FieldSort.YES,
                    default=bool(card.stop),
                ),
                Field(
                    name="part",
                    label=self._text(msg("The part it needs")),
                    hint=self._text(msg("Leave it empty when it needs none.")),
                ),
            ),
            lead=card.stop,
        )

    def _complaint(self, card: SeasonCard) -> tuple[Field, ...]:
        if not card.starts:
            return ()
        other = ("", self._text(msg("something else")))
        return (
            Field(
                name=COMPLAINT,
                label=self._text(msg("What does it do?")),
                sort=FieldSort.TILES,
                choices=(*card.starts, other),
                default=card.starts[0][0],
                hint=self._text(msg("The search for it begins at once, with what is known.")),
            ),
        )

    def cannot_in_gloves(self, card: SeasonCard) -> FormPage:
        """Why not now, answered at one press."""
        ways = (*((way, self._text(said)) for way, said in WAYS.items()), self._not_for_it())
        return FormPage(
            key="way",
            title=self._text(msg("Not now: {step}"), step=card.name),
            lead=card.stop,
            fields=(Field(name="way", label="", sort=FieldSort.PICK, choices=ways),),
            done="",
            cancel=self._text(msg("Never mind")),
        )

    def _not_for_it(self) -> tuple[str, str]:
        return ("not_applicable", self._text(msg("It does not apply to this machine")))

    def made_way(
        self, way: str, card: SeasonCard, *, run_id: int, day: date, by_whom: str
    ) -> AnswerStep:
        """The act of that press: put off for that reason, or not for this machine."""
        off = way in WAYS
        return AnswerStep(
            run_id=run_id,
            place=card.place,
            day=day,
            answer=StepAnswer.CANNOT if off else StepAnswer.NOT_APPLICABLE,
            by_whom=by_whom,
            why=self._text(WAYS[way]) if off else "",
            text=card.name if off else "",
        )

    def stop(self) -> FormPage:
        """It is left here for now."""
        return self._page(
            "stop",
            self._text(msg("Stop here for now")),
            (
                Field(
                    name="waits_for",
                    label=self._text(msg("What does it wait for?")),
                    hint=self._text(msg("Leave it empty when it waits for nothing but time.")),
                ),
            ),
            lead=self._text(
                msg("All that you ticked is kept. It goes on at this step, whoever comes back.")
            ),
        )

    def kept(self, loose: Sequence[tuple[LeftOffFacts, str]]) -> FormPage:
        """Where what is off hangs or lies."""
        return self._page(
            "kept",
            self._text(msg("Where it hangs")),
            tuple(
                Field(
                    name=f"{one.machine_id}/{one.code}",
                    label=said,
                    default=one.kept,
                    placeholder=self._text(msg("like: on hook 3")),
                )
                for one, said in loose
            ),
            done=self._text(msg("Finish: enter it all")),
        )

    def made_answer(
        self,
        key: str,
        answers: Mapping[str, object],
        *,
        run_id: int,
        card: SeasonCard,
        day: date,
        by_whom: str,
    ) -> AnswerStep | LeaveRun | Said:
        """The act of a form about a step. A start that failed is named as the search for it is, so
        that both are one fault; what is said beside it stands at the step."""
        if key == "stop":
            return LeaveRun(run_id=run_id, day=day, waits_for=text(answers, "waits_for"))
        if key == "cannot" and not text(answers, "why"):
            return Said(self._text(msg("Say in a word why, for whoever goes on with it.")), "why")
        why, said = text(answers, "why"), text(answers, "text")
        named = dict(card.starts).get(choice(answers, COMPLAINT), "") if key == "fault" else ""
        if named:
            why, said = said, named
        if not said:
            return Said(self._text(msg("Say it in a few words.")), "text")
        return AnswerStep(
            run_id=run_id,
            place=card.place,
            day=day,
            answer=StepAnswer.CANNOT if key == "cannot" else StepAnswer.FAULT,
            by_whom=by_whom,
            why=why,
            text=said,
            stops_use=bool(answers.get("stops_use")),
            part=text(answers, "part"),
        )
