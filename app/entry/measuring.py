"""What can be measured on a machine: what is asked for now first, then by the part it is on."""

from __future__ import annotations

from app.entry.short_way import ASKED
from app.pieces.form import HEAD
from app.wording.languages import msg
from app.wording.wording import Wording
from schedules.facts import Direction, ItemFacts, LimitCode, LimitFacts, TaskFacts
from schedules.plan import Judging


def measurements(judging: Judging, words: Wording) -> tuple[tuple[str, str], ...]:
    """Choices of a form, with headings: each measurement once, by its name alone."""
    asked = {verdict.code for verdict in judging.verdict.tasks if verdict.state in ASKED}
    now: list[tuple[str, str]] = []
    by_part: dict[str, list[tuple[str, str]]] = {}
    for item, task, limit in _all(judging):
        choice = (f"{task.code}|{limit.code}", _named(limit, task, words))
        if task.code in asked:
            now.append(choice)
        else:
            by_part.setdefault(words.word(item.sort), []).append(choice)
    found: list[tuple[str, str]] = []
    if now:
        found += [(f"{HEAD}now", words.text(msg("Asked for now"))), *_in_order(now)]
    for part, choices in by_part.items():
        found += [(f"{HEAD}{part}", _head(part)), *_in_order(choices)]
    return tuple(found)


def measuring(judging: Judging, words: Wording) -> dict[str, str]:
    """How and where each is measured, and where it means work, in the household's units."""
    return {
        f"{task.code}|{limit.code}": _how(limit, task, words) for _, task, limit in _all(judging)
    }


def _all(judging: Judging) -> list[tuple[ItemFacts, TaskFacts, LimitFacts]]:
    found: list[tuple[ItemFacts, TaskFacts, LimitFacts]] = []
    seen: set[LimitCode] = set()
    for item in judging.items:
        for task in item.tasks.values():
            for code in task.rule.limits:
                limit = item.limits[code]
                if code in seen and not limit.per_task:
                    continue
                seen.add(code)
                found.append((item.facts, task, limit))
    return found


def _named(limit: LimitFacts, task: TaskFacts, words: Wording) -> str:
    name = words.limit(limit.code)
    if limit.per_task:
        name = words.text(msg("{limit}, at: {task}"), limit=name, task=words.task(task.code))
    return _head(name)


def _head(text: str) -> str:
    """With a capital; only the first letter, for what follows may be a name."""
    return text[:1].upper() + text[1:]


def _in_order(choices: list[tuple[str, str]]) -> list[tuple[str, str]]:
    return sorted(choices, key=lambda choice: choice[1].casefold())


def _how(limit: LimitFacts, task: TaskFacts, words: Wording) -> str:
    known = limit.low is not None or limit.high is not None
    said = [words.text(limit.how)] if limit.how else []
    if limit.direction is Direction.EVENT:
        said.append(words.text(msg("Yes means: {worn}."), worn=words.worn_when(limit)))
    elif known:
        said.append(words.text(msg("Act when: {worn}."), worn=words.worn_when(limit)))
    else:
        said.append(words.text(msg("No limit is set; your manual may have one.")))
    said.append(words.text(msg("It decides: {task}."), task=words.task(task.code)))
    if limit.both_sides:
        said.append(words.text(msg("Measure both sides.")))
    return " ".join(said)
