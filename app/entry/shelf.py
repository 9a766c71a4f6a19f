"""The form for what lies on the shelf: which part, and how many of it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from app.entry.questions import Made, Questions, Wish
from app.pieces.asked import Said, choice, text, whole_number
from app.pieces.form import HEAD, FieldSort
from app.wording.languages import msg
from app.wording.wording import Wording
from models.acts.stores import StockPart
from models.facts.papers import ShelfPart
from resources.loader import Catalogue


def shelf_wish(
    shelf: tuple[ShelfPart, ...], wanted: Iterable[str], catalogue: Catalogue, words: Wording
) -> Wish:
    """What lies ready, and what more of it does now. `wanted`: parts that this household's
    machines take, which come first."""
    lying = {f"{part.part}/{part.spec}": part for part in shelf}
    first = [code for code in sorted(set(wanted)) if code in catalogue.parts]
    rest = [code for code in sorted(catalogue.parts) if code not in first]
    choices = [
        *_group(
            words.text(msg("lying ready")),
            [(key, _called(part, words)) for key, part in lying.items()],
        ),
        *_group(words.text(msg("your machines take")), _named(first, catalogue, words)),
        *_group(words.text(msg("others")), _named(rest, catalogue, words)),
    ]
    ask = Questions(words)
    page = ask.page(
        "shelf",
        msg("What lies on the shelf"),
        (
            ask.field("part", msg("Which part"), FieldSort.CHOICE, choices=tuple(choices)),
            ask.field("spec", msg("Which sort or size of it"), FieldSort.TEXT),
            ask.field("count", msg("How many lie there now"), FieldSort.TEXT),
            ask.field("spot", msg("Where"), FieldSort.TEXT),
            ask.note(),
        ),
        lead=words.text(msg("What lies ready is left off the shopping list.")),
    )

    def make(answers: Mapping[str, object]) -> Made:
        count = whole_number(answers, "count", words)
        if isinstance(count, Said):
            return count
        code, _, spec = choice(answers, "part").partition("/")
        known = lying.get(f"{code}/{text(answers, 'spec') or spec}")
        return StockPart(
            part=code,
            quantity=count,
            spec=text(answers, "spec") or spec,
            spot=text(answers, "spot") or ("" if known is None else known.spot),
            note=text(answers, "note") or ("" if known is None else known.note),
        )

    return Wish(page, make)


def _called(part: ShelfPart, words: Wording) -> str:
    named = f"{part.name} {part.spec}".strip()
    where = f" · {part.spot}" if part.spot else ""
    return words.text(msg("{part}: {count}"), part=named, count=part.quantity) + where


def _named(codes: list[str], catalogue: Catalogue, words: Wording) -> list[tuple[str, str]]:
    return [(f"{code}/", words.text(catalogue.parts[code].name)) for code in codes]


def _group(head: str, choices: list[tuple[str, str]]) -> list[tuple[str, str]]:
    """Choices under their heading; nothing for none."""
    return [(f"{HEAD}{head}", head), *choices] if choices else []
