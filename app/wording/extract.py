"""Collects every sentence that can be shown and brings the American catalogue up to date.

`python -m app.wording.extract` reads the code and the catalogue, drafts an American sentence for
each that needs one and has none, keeps those that are there, and compiles. Only what differs from
the British sentence stands in the catalogue.
"""

import ast
import sys
from collections.abc import Iterator
from datetime import UTC, datetime
from io import BytesIO
from pathlib import Path
from typing import TypeAlias

from babel.messages.catalog import Catalog
from babel.messages.mofile import write_mo
from babel.messages.pofile import read_po, write_po

import app
from app.wording.american import american, american_kind
from app.wording.languages import AMERICAN, DOMAIN, catalogue_path
from resources.fault_models import load_fault_models
from resources.loader import Catalogue, load_catalogue
from resources.protocols import Protocols, load_protocols
from resources.storage import load_sitting_rules
from schedules.facts import TaskFacts
from schedules.fault_facts import Cause, FaultModel, FaultModels, FaultTest, Question
from schedules.sitting_facts import SittingRules

# A sentence, or one and many.
Msgid: TypeAlias = str | tuple[str, str]

CODE = Path(app.__file__).resolve().parent
ONE = frozenset({"msg", "text", "words"})
ONE_AND_MANY = "count"
# No dates of making in the file: it changes when a sentence does, and only then.
MADE = datetime(2026, 1, 1, tzinfo=UTC)


def code_texts() -> Iterator[Msgid]:
    """The sentences marked in the code of the app.

    Read from the syntax tree: a tokeniser does not see into an f-string.
    """
    for file in sorted(CODE.rglob("*.py")):
        for node in ast.walk(ast.parse(file.read_text("utf-8"))):
            if isinstance(node, ast.Call):
                yield from _said_by(node)


def _said_by(call: ast.Call) -> Iterator[Msgid]:
    name = ast.unparse(call.func).rsplit(".", 1)[-1]
    literals = [
        argument.value
        for argument in call.args
        if isinstance(argument, ast.Constant) and isinstance(argument.value, str)
    ]
    if name in ONE and literals[:1] not in ([], [""]):
        yield literals[0]
    elif name == ONE_AND_MANY:
        texts = [_literal(argument) for argument in call.args[:2]]
        if len(texts) == 2 and texts[0] and texts[1]:
            yield texts[0], texts[1]


def _literal(argument: ast.expr) -> str:
    """A literal, bare or marked."""
    if isinstance(argument, ast.Call) and argument.args:
        argument = argument.args[0]
    if isinstance(argument, ast.Constant) and isinstance(argument.value, str):
        return argument.value
    return ""


def catalogue_texts(catalogue: Catalogue) -> Iterator[str]:
    """Every text of the catalogue that is shown."""
    for kind in catalogue.kinds.values():
        yield kind.name
        yield kind.use_word
        yield from (spare.name for spare in kind.spares)
        for task in kind.tasks:
            yield from _task_texts(task)
    for task in catalogue.tasks.values():
        yield from _task_texts(task)
    yield from (part.name for part in catalogue.parts.values())
    yield from catalogue.openings.values()
    for limit in catalogue.limits.values():
        yield from (text for text in (limit.name, limit.how, limit.event) if text)
    yield from (caution.text for caution in catalogue.cautions.values())
    for feature in catalogue.features.values():
        yield feature.question
        yield from (text for _value, text in feature.values)
    yield from (duty.question for duty in catalogue.duties.values())
    yield from (climate.name for climate in catalogue.climates.values())
    yield from (pair.why for pair in catalogue.precedence if pair.why)


def _task_texts(task: TaskFacts) -> Iterator[str]:
    yield task.name
    yield task.how
    if task.stop_use_if:
        yield task.stop_use_if
    yield from task.tools
    yield from (consumable.name for consumable in task.consumables)


def fault_texts(faults: FaultModels) -> Iterator[str]:
    """Every text of the fault models that is shown."""
    yield from faults.openings.values()
    yield from faults.before.values()
    yield from faults.before_undoing.values()
    yield from faults.putting_back.values()
    for fact in faults.facts.values():
        yield fact.question
        yield from (text for _value, text in fact.values)
    for entry in faults.entries:
        yield from (entry.title, *entry.said, entry.fits)
    for model in faults.models.values():
        yield from _model_texts(model)


def _model_texts(model: FaultModel) -> Iterator[str]:
    yield from (model.title, *model.said, model.fits)
    for cause in model.causes:
        yield from _cause_texts(cause)
    for reading in (*model.questions, *model.tests):
        yield from _reading_texts(reading)


def _cause_texts(cause: Cause) -> Iterator[str]:
    yield cause.name
    yield from (cure.text for cure in cause.cures)


def _reading_texts(reading: Question | FaultTest) -> Iterator[str]:
    yield reading.name
    yield from (outcome.text for outcome in reading.outcomes)
    if isinstance(reading, FaultTest):
        yield reading.steps
        yield from reading.tools


def sitting_texts(rules: SittingRules) -> Iterator[str]:
    """Every text of putting away, getting out and going over."""
    for step in rules.steps:
        said = (step.name, step.how, step.done_when, step.stop_use_if, step.waits_for)
        yield from (text for text in said if text)
        yield from step.tools
    yield from (text for _code, text in rules.left)
    yield from (pair.why for pair in (*rules.orders, *rules.waived))


def protocol_texts(protocols: Protocols) -> Iterator[str]:
    """Every text of the comparisons before and after that is shown."""
    for one in protocols.protocols.values():
        yield from (one.name, one.measured, *one.before, *one.steps)
    for condition in protocols.conditions.values():
        yield condition.question
        yield from (text for _value, text in condition.answers)


def all_texts(catalogue: Catalogue) -> tuple[Msgid, ...]:
    """Every sentence once, in the order found."""
    shown = (*code_texts(), *catalogue_texts(catalogue), *fault_texts(load_fault_models()))
    more = (*sitting_texts(load_sitting_rules()), *protocol_texts(load_protocols()))
    return tuple(dict.fromkeys((*shown, *more)))


def draft(msgid: Msgid, kinds: frozenset[str]) -> Msgid:
    """The American sentence by rule."""
    if isinstance(msgid, tuple):
        one, many = msgid
        return american(one), american(many)
    return american_kind(msgid) if msgid in kinds else american(msgid)


def kind_names(catalogue: Catalogue) -> frozenset[str]:
    """The names of the types of machine."""
    return frozenset(kind.name for kind in catalogue.kinds.values())


def updated(before: Catalog, catalogue: Catalogue) -> Catalog:
    """The American catalogue for the sentences of today. What was translated stays as it was."""
    after = Catalog(
        locale=AMERICAN,
        domain=DOMAIN,
        project=DOMAIN,
        version="1",
        header_comment="# What an American owner reads instead. MIT licence, like the program.",
        copyright_holder="",
        creation_date=MADE,
        revision_date=MADE,
        last_translator="The Firstpull authors",
        language_team="The Firstpull authors",
        msgid_bugs_address="none",
        fuzzy=False,
    )
    kinds = kind_names(catalogue)
    for msgid in all_texts(catalogue):
        known = before.get(msgid)
        said = known.string if known is not None and known.string else draft(msgid, kinds)
        if said != msgid:
            # A per cent sign is a per cent sign here; values stand in braces.
            after.add(msgid, said).flags.clear()
    return after


def read_catalogue(path: Path) -> Catalog:
    """A catalogue as it lies on the disk; an empty one when there is none."""
    if not path.exists():
        return Catalog(locale=AMERICAN, domain=DOMAIN)
    with path.open("rb") as source:
        return read_po(source, locale=AMERICAN, domain=DOMAIN)


def compiled(catalog: Catalog) -> bytes:
    """The catalogue as gettext reads it."""
    target = BytesIO()
    write_mo(target, catalog)
    return target.getvalue()


def main() -> int:
    path = catalogue_path(AMERICAN, "po")
    before = read_catalogue(path)
    after = updated(before, load_catalogue())
    path.parent.mkdir(parents=True, exist_ok=True)
    with path.open("wb") as target:
        write_po(target, after, sort_output=True, width=100, omit_header=False)
    # Compiled from what was written, so that a reader of the .po sees what the program says.
    catalogue_path(AMERICAN, "mo").write_bytes(compiled(read_catalogue(path)))
    new = [entry.id for entry in after if entry.id and before.get(entry.id) is None]
    print(f"{len(after)} sentences differ, {len(new)} of them new:")
    for msgid in new:
        print(f"  {msgid!r}\n    {after[msgid].string!r}")
    return 0


if __name__ == "__main__":
    sys.exit(main())
