"""A machine on the bench, in words: since when, waiting for what, what is off or open."""

from __future__ import annotations

from app.wording.languages import msg
from app.wording.sittings import SittingWords
from app.wording.wording import Wording
from models.facts.begun import BegunSearch
from models.facts.benches import BenchFacts, Loose
from resources.storage import load_sitting_rules
from schedules.sitting_facts import RunSort

GO_ON = {
    RunSort.PUTTING_AWAY: msg("Go on putting away"),
    RunSort.GETTING_OUT: msg("Go on getting out"),
    RunSort.GOING_OVER: msg("Go on going over"),
}


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


def begun_said(begun: BegunSearch, words: Wording) -> str:
    """That a search is begun, and for what."""
    if not begun.text:
        return words.text(msg("Search begun"))
    return words.text(msg("Search begun: {what}"), what=begun.text)


def standing_said(
    bench: BenchFacts | None, begun: BegunSearch | None, words: Wording
) -> tuple[str, ...]:
    """All that was begun and is not over, and what is off or open."""
    found = () if begun is None or begun.is_paused else (begun_said(begun, words),)
    return found if bench is None else (*found, *bench_said(bench, sitting_words(words)))


def going_on(
    bench: BenchFacts | None, begun: BegunSearch | None, words: Wording
) -> tuple[str, str]:
    """The act that goes on with what was begun, and what its button says; both empty for nothing.
    A search that nobody paused comes before a list, a list before a search that waits."""
    sort = None if bench is None else bench.sort
    if begun is not None and (sort is None or not begun.is_paused):
        return "fault", words.text(msg("Go on with the search"))
    return ("", "") if sort is None else ("season", words.text(GO_ON[sort]))


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
