"""The five looks on paper, for the pocket: before a neglected machine is bought or taken home.

Each answer says what to pay at most, out of what it brings when it runs. No window.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from fractions import Fraction

from app.appraisal.wreck import LOOKS, Asking, looks_of, wreck_of
from app.causes.known import symptoms
from app.causes.picture import FaultWords
from app.services import Services
from app.sheets import preseason
from app.sheets.pieces import Blank, Caution, Fact, Tick
from app.sheets.preseason import PreSeasonSheet, Stage
from app.sheets.said import rule_of
from app.sheets.steps import Finding, Step
from app.sheets.surface import Paper as PaperSize
from app.wording.languages import msg
from models.words import Paper
from resources.fault_models import load_fault_models
from schedules.appraisal import judge_offer
from schedules.facts import CautionCode, MachineId
from schedules.fault_facts import BLANK, FaultModel, FaultTest, OutcomeId, Question, SymptomId
from schedules.fault_state import FaultState, noticed
from schedules.faults import begin

# Out of so much that it brings when it runs, what to pay at most is said on paper: cents.
BRINGS = 20_000
# To whole fives: what a seller and a buyer say, and as near as the odds are known.
STEP_CENTS = 500
# Engines of unknown machines, the commonest first.
ENGINES = (SymptomId("S1F"), SymptomId("S1T"))


def pocket_pdf(
    services: Services, *, paper: Paper, only: frozenset[MachineId] | None, on: date
) -> bytes | None:
    """A page of five looks for each of these machines; for any machine when none is named. None
    when there is none of them."""
    models = load_fault_models()
    words = FaultWords(words=services.wording, models=models)
    sheets: list[PreSeasonSheet] = []
    if only is None:
        sheets = [_sheet(services, words, models.models[code], "", on=on) for code in ENGINES]
    for judging in services.fleet(on=on, only=only) if only is not None else ():
        found = symptoms(models, judging.facts.kind.code)
        if found:
            name = judging.facts.name
            sheets.append(_sheet(services, words, found[0].model, name, on=on))
    if not sheets:
        return None
    wording = services.wording
    return preseason.draw(
        sheets, paper=PaperSize(paper.value), language=wording.language, words=wording.text
    )


def most_cents(model: FaultModel, state: FaultState) -> int:
    """What to pay at most for a machine that brings `BRINGS` when it runs, to whole fives."""
    offer = judge_offer(
        wreck_of(model, state, Asking(), Fraction(BRINGS)), asked=Fraction(0), looks=()
    )
    return max(0, round(offer.most / STEP_CENTS) * STEP_CENTS)


def _sheet(
    services: Services, words: FaultWords, model: FaultModel, name: str, *, on: date
) -> PreSeasonSheet:
    wording = services.wording
    text = wording.text
    begun = begin(words.models)
    whole = _money(services, BRINGS)
    return PreSeasonSheet(
        number="",
        machine=name or text(msg("Five looks before you buy")),
        kind=text(model.fits),
        icon="",
        place="",
        start=text(
            msg(
                "Out of {whole} that it brings running, pay at most {most} if you look at nothing."
            ),
            whole=whole,
            most=_money(services, most_cents(model, begun)),
        ),
        facts=(
            Fact(
                label=text(msg("At most:")),
                value=text(
                    msg(
                        "stands behind each answer, your hours not counted. One that brings half "
                        "of {whole}: less than half of it."
                    ),
                    whole=whole,
                ),
            ),
        ),
        stages=(_plate(services), _looks(services, words, model, begun), _deal(services)),
        marks=(text(msg("All figures on this page are our judgement.")),),
        household=services.settings.name,
        printed=text(msg("printed {day}"), day=wording.day(on)),
        rule=rule_of(wording),
        about=text(msg("five looks")),
    )


def _money(services: Services, cents: int) -> str:
    return services.wording.money(cents, services.settings.currency).removesuffix(".00")


def _plate(services: Services) -> Stage:
    text = services.wording.text
    return Stage(
        title=text(msg("Ask and read, hands off")),
        steps=tuple(
            Step(what=text(what), how=text(how), findings=(Finding(answers=(Blank(),)),), look=True)
            for what, how in (
                (
                    msg("Plate of the machine, plate of the engine"),
                    msg("Two plates; parts are bought by both."),
                ),
                (
                    msg("What is missing or was taken off"),
                    msg("Covers, guards, air box, a box of screws: whoever gave up left it so."),
                ),
            )
        ),
    )


def _looks(services: Services, words: FaultWords, model: FaultModel, begun: FaultState) -> Stage:
    looks = looks_of(model)[:LOOKS]
    care = _care(model, looks)
    return Stage(
        title=services.wording.text(msg("The five looks")),
        cautions=tuple(
            Caution(signal=each.severity, word=each.signal, text=each.text)
            for each in words.each(care)
        ),
        steps=tuple(_look(services, words, model, begun, one) for one in looks),
    )


def _care(model: FaultModel, looks: Sequence[Question | FaultTest]) -> tuple[CautionCode, ...]:
    """The cautions of the looks and of the free look: cord, heat and petrol are in all of them."""
    gates = [one for one in model.tests if one.is_gate]
    tests = [*gates, *(one for one in looks if isinstance(one, FaultTest))] or list(model.tests[:1])
    return tuple(dict.fromkeys(code for one in tests for code in one.cautions))


def _look(
    services: Services,
    words: FaultWords,
    model: FaultModel,
    begun: FaultState,
    look: Question | FaultTest,
) -> Step:
    text = services.wording.text
    findings = []
    for one in look.outcomes:
        if one.outcome_id == BLANK:
            continue
        state = noticed(model, begun, look.reading_id, OutcomeId(one.outcome_id))
        most = most_cents(model, state)
        said = msg("{seen}: at most {most}") if most else msg("{seen}: leave it")
        findings.append(
            Finding(
                limit=text(said, seen=words.cause(one.text), most=_money(services, most)),
                answers=(Tick(word=""),),
            )
        )
    how = text(look.steps) if isinstance(look, FaultTest) else ""
    return Step(what=text(look.name), how=how, findings=tuple(findings), look=True, asks=True)


def _deal(services: Services) -> Stage:
    text = services.wording.text
    blank = Finding(answers=(Blank(),))
    return Stage(
        title=text(msg("The deal")),
        steps=(
            Step(what=text(msg("Asked for it")), findings=(blank,), look=True),
            Step(
                what=text(msg("When it runs it brings between … and …")),
                findings=(blank,),
                look=True,
            ),
            Step(what=text(msg("Fetching it costs")), findings=(blank,), look=True),
            Step(
                what=text(msg("Back in: type it under “Is it worth it?”")),
                how=text(
                    msg(
                        "Several answers together count otherwise than each alone; there they "
                        "are taken together."
                    )
                ),
                look=True,
            ),
        ),
    )
