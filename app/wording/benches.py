"""A machine on the bench, in words: since when, waiting for what, what is off or open."""

from __future__ import annotations

from app.wording.languages import msg
from app.wording.sittings import SittingWords
from app.wording.wording import Wording
from models.facts.benches import BenchFacts, Loose
from resources.storage import load_sitting_rules


def sitting_words(words: Wording) -> SittingWords:
    """The words of sittings, with the steps there are."""
    return SittingWords(words=words, rules=load_sitting_rules())


def bench_said(bench: BenchFacts, said: SittingWords) -> tuple[str, ...]:
    """Since when and for what it waits; then what is off or open. Nothing is left out."""
    found = [] if bench.since is None else [stopped(bench, said)]
    if bench.loose:
        things = "; ".join(loose_said(one, said) for one in bench.loose)
        found.append(said.words.text(msg("Off or open now: {things}"), things=things))
    return tuple(found)


def stopped(bench: BenchFacts, said: SittingWords) -> str:
    """Since when it stands on the bench, and what it waits for."""
    words = said.words
    if bench.since is None:
        return ""
    day = words.day(bench.since)
    if bench.waits_for:
        text = msg("On the bench since {day}, waiting for: {what}")
        return words.text(text, day=day, what=bench.waits_for)
    if bench.sort is not None:
        text = msg("Begun on {day} and not finished: {what}")
        return words.text(text, day=day, what=said.sort(bench.sort).lower())
    return words.text(msg("On the bench since {day}"), day=day)


def loose_said(one: Loose, said: SittingWords) -> str:
    """One thing that is off or open, and where it hangs."""
    what = said.left(one.code) if one.code else one.text
    if not one.kept:
        return what
    return said.words.text(msg("{thing}: {where}"), thing=what, where=one.kept)
