"""The fault sheets of machines that are being searched: rows, and the lines they come back by."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from app.causes.branches import Branch, branches_of
from app.causes.known import fitting, known_of, model_of
from app.causes.picture import FaultWords, fault_words
from app.causes.room_picture import SearchPicture
from app.causes.state import FaultRoomState, StepCard
from app.services import Services
from app.sheets.fault_rows import FaultSheet, FaultStep
from app.wording.languages import msg
from models.acts.fault_sheets import PrintedStep
from models.facts.searches import Search, read_finds, read_searches, read_told
from models.words import SearchDoing
from schedules.facts import MachineId
from schedules.fault_facts import FaultModel, OpeningId
from schedules.fault_game import set_up
from schedules.fault_search import settled
from schedules.fault_state import FaultState
from schedules.faults import Advice, AdviceKind, plan_of
from schedules.plan import Judging

LOOKED_AT = 300
NAMED = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class FaultPaper:
    """One machine's sheet, its number still open, and what stands on it line by line."""

    machine_id: MachineId
    sheet: FaultSheet
    lines: tuple[PrintedStep, ...]


def fault_papers(
    services: Services,
    fleet: Iterable[Judging],
    *,
    on: date,
    shown: FaultRoomState | None = None,
) -> tuple[FaultPaper, ...]:
    """A sheet for each machine whose search runs. `shown`: a search as somebody looks at it; its
    paper begins with the very step that stands there. Raises Trouble from the file."""
    words = fault_words(services.wording, services.household.path)
    models = words.models
    tools = frozenset(str(code) for code, fact in models.facts.items() if fact.assumed)
    found: list[FaultPaper] = []
    for judging in fleet:
        number = int(judging.facts.machine_id)
        with services.household.read() as session:
            searches = read_searches(session, on=on, machine_id=number, only_open=True)
            told = dict(read_told(session, machine_id=number, tools=tools))
            finds = read_finds(session)
        search = next((one for one in searches if one.symptom in models.models), None)
        if search is None:
            continue
        picture = SearchPicture(
            words=words,
            judging=judging,
            known=known_of(judging, on=on),
            told=told,
            finds=finds,
            on=on,
            currency=services.settings.currency,
        )
        is_shown = shown is not None and shown.search_id == search.search_id
        card = shown.card if shown is not None and is_shown else None
        model = model_of(models, search.symptom)
        found.append(_paper(picture, fitting(models, search), model, card))
    return tuple(found)


def _paper(
    picture: SearchPicture, search: Search, model: FaultModel, card: StepCard | None
) -> FaultPaper:
    words = picture.words
    state = picture.state(search, model)
    branches = branches_of(model, state, _first(picture, search, model, state, card))
    facts = picture.judging.facts
    steps = tuple(_step(words, model, one) for one in branches)
    loose = tuple(one.text for one in search.standing if one.doing is SearchDoing.LEFT_OFF)
    sheet = FaultSheet(
        number="",
        machine=facts.name,
        kind=words.words.kind(facts.kind.code),
        place=facts.place,
        complaint=words.title(search.fault_text or model.title, is_own=model.is_own),
        likely=tuple((one.name, one.odds) for one in words.suspects(model, state)[:NAMED]),
        known=words.known(model, state.record),
        steps=steps,
        stop=_stop(picture, search),
        loose=loose,
        back=words.back(_opened(branches, state)),
    )
    return FaultPaper(
        machine_id=facts.machine_id,
        sheet=sheet,
        lines=tuple(
            _kept(facts.machine_id, model, branch, step)
            for branch, step in zip(branches, steps, strict=True)
        ),
    )


def _opened(branches: tuple[Branch, ...], state: FaultState) -> frozenset[OpeningId]:
    """What is open, or may be after this sheet."""
    return state.open | {one.advice.opening for one in branches if one.advice.opening is not None}


def _kept(machine_id: MachineId, model: FaultModel, branch: Branch, step: FaultStep) -> PrintedStep:
    advice = branch.advice
    is_cure = advice.kind is AdviceKind.CURE
    return PrintedStep(
        machine_id=int(machine_id),
        number=step.number,
        title=step.title,
        symptom=str(model.symptom_id),
        subject=str(advice.cause if is_cure else advice.reading),
        place=(advice.cure or 0) if is_cure else None,
    )


def _first(
    picture: SearchPicture,
    search: Search,
    model: FaultModel,
    state: FaultState,
    card: StepCard | None,
) -> Advice:
    """The step to begin with: what stands on screen, whatever it was that chose it."""
    plan = None
    if card is not None:
        plan = plan_of(model, state, reading=card.reading, cause=card.cause)
        return picture.advice(search, model, state, plan)
    first = picture.advice(search, model, state)
    if first.kind in (AdviceKind.TEST, AdviceKind.CURE):
        plan = settled(set_up(model, state), budget=LOOKED_AT)
        return picture.advice(search, model, state, plan)
    return first


def _step(words: FaultWords, model: FaultModel, branch: Branch) -> FaultStep:
    card = words.card(model, branch.state, branch.advice)
    return FaultStep(
        number=branch.number,
        title=card.title if card.reading or not card.cause else f"{card.sort}: {card.title}",
        minutes=card.minutes_text,
        before=card.before,
        cautions=card.each,
        bring=card.tools,
        steps=tuple(part for part in (card.opening, card.photo, *card.steps) if part),
        outcomes=tuple((one.text, branch.goes.get(one.code, "")) for one in card.outcomes),
    )


def _stop(picture: SearchPicture, search: Search) -> str:
    words = picture.words.words
    lines: list[str] = []
    if search.stop_minutes is not None:
        lines.append(words.minutes(search.stop_minutes))
    if search.stop_cents is not None:
        lines.append(words.money(search.stop_cents, picture.currency))
    if not lines:
        return words.text(msg("STOP when ________ min or ________ are gone."))
    what = words.text(msg(" or ")).join(lines)
    return words.text(msg("STOP when {what} are gone."), what=what)
