"""Everything in the catalogue that is only our judgement, in one table to be read in ten minutes.

The table is `tests/golden/our_judgement.txt`; after a change on purpose: pytest --update-golden.
"""

from __future__ import annotations

import calendar
import textwrap
from collections.abc import Iterator
from itertools import groupby
from pathlib import Path

from models.acts.sizes import BOWL_UL, tank_ul
from resources.loader import Catalogue, load_catalogue
from schedules.demands import ul_an_hour_of
from schedules.facts import FigureMark, FuelUse, KindFacts, Mark, Phase, TaskFacts, Window
from schedules.units import Unit

GOLDEN = Path(__file__).parents[1] / "golden" / "our_judgement.txt"
MONTHS = calendar.month_abbr[1:]
LETTERS = {
    Mark.PUBLISHED: "published",
    Mark.COMMON_PRACTICE: "practice",
    Mark.MAKERS_DIFFER: "makers",
    Mark.OUR_JUDGEMENT: "ours",
    Mark.FROM_MEMORY: "memory",
}
WIDTH = 110


def ours(marks: tuple[FigureMark, ...]) -> set[str]:
    return {mark.figure for mark in marks if mark.mark is Mark.OUR_JUDGEMENT}


def wrapped(text: str, indent: str) -> Iterator[str]:
    yield from textwrap.wrap(text, WIDTH, subsequent_indent=indent, break_on_hyphens=False)


def season(windows: tuple[Window, ...]) -> str:
    return " and ".join(
        f"{one.first.day} {MONTHS[one.first.month - 1]}-{one.last.day} {MONTHS[one.last.month - 1]}"
        for one in windows
    )


def kind_lines(kind: KindFacts) -> Iterator[str]:
    mine = ours(kind.marks)
    said = [f"season {season(kind.windows) or 'none'}" if "windows" in mine else ""]
    said.append(f"{kind.year_seconds // 3600} h a year" if "year_seconds" in mine else "")
    if "use_seconds" in mine:
        said.append(f"one {kind.use_word} {kind.use_seconds // 60} min")
    said.append(
        "spares " + (", ".join(f"{one.quantity} {one.name}" for one in kind.spares) or "none")
    )
    yield from wrapped(f"{kind.code} {kind.name}: " + "; ".join(filter(None, said)), "    ")


def figures_of(task: TaskFacts) -> Iterator[str]:
    mine = ours(task.marks)
    rule = task.rule
    if "first_seconds" in mine:
        yield f"first {(rule.first_seconds or 0) / 3600:g} h"
    if "run_seconds" in mine:
        yield f"{(rule.run_seconds or 0) / 3600:g} h"
    if "months" in mine:
        yield f"{rule.months} months"
    if "uses" in mine:
        yield f"{rule.uses} uses"
    if "nth_of" in mine and rule.nth_of:
        yield f"every {rule.nth_of.n}. {rule.nth_of.code}"
    for duty, factor in task.duties:
        if f"duty:{duty}" in mine:
            yield f"{duty} x{float(factor):g}"
    for part in task.consumables:
        if f"quantity:{part.part}" in mine:
            yield f"{part.quantity} {part.name}"
    if "task" in mine:
        phases = ", ".join(phase.value for phase in rule.phases if phase is not Phase.IN)
        yield f"the task itself ({phases})" if phases else "the task itself"


def task_lines(task: TaskFacts) -> Iterator[str]:
    minutes = f"{task.look_minutes}/{task.do_minutes}"
    if "look_minutes" not in ours(task.marks):
        minutes = f"({minutes})"
    line = f"{task.code:<6}{minutes:>8}  {task.name}"
    said = [task.opening, *figures_of(task)]
    if task.includes:
        said.append("does " + " ".join(task.includes))
    said = [text for text in said if text]
    yield from wrapped(line + (f" | {'; '.join(said)}" if said else ""), " " * 16)
    if task.stop_use_if:
        yield from wrapped(f"{'':<16}! {task.stop_use_if}", " " * 18)


def changes_of(kind: KindFacts, catalogue: Catalogue) -> Iterator[str]:
    for task in kind.tasks:
        plain = catalogue.tasks[task.code]
        said = [text for text in figures_of(task) if text not in set(figures_of(plain))]
        if (task.look_minutes, task.do_minutes) != (plain.look_minutes, plain.do_minutes):
            said.append(f"{task.look_minutes}/{task.do_minutes} min")
        if task.stop_use_if != plain.stop_use_if:
            said.append(f"! {task.stop_use_if}")
        if said:
            yield from wrapped(f"{kind.code} {task.code}: {'; '.join(said)}", "    ")


def amount(value: int | None, unit: Unit) -> str:
    if value is None:
        return ""
    shown = {Unit.MICROMETRE: (1000, "mm"), Unit.PERMILLE: (10, "%"), Unit.PASCAL: (1000, "kPa")}
    by, name = shown.get(unit, (1, unit.value))
    return f"{value / by:g} {name}"


def limit_lines(catalogue: Catalogue) -> Iterator[str]:
    for limit in catalogue.limits.values():
        mine = ours(limit.marks)
        if mine & {"low", "high"}:
            ends = [amount(limit.low, limit.unit), amount(limit.high, limit.unit)]
            figures = " .. ".join(end for end in ends if end)
            yield f"{limit.code} {limit.name}: {limit.direction.value.replace('_', ' ')} {figures}"


def wear_lines(catalogue: Catalogue) -> Iterator[str]:
    for limit in catalogue.limits.values():
        if limit.wear is None or limit.wears is None:
            continue
        unit = {Unit.PERMILLE: "permille"}.get(limit.unit, limit.unit.value)
        rate, deviation, error = (
            f"{float(one):g}"
            for one in (limit.wear.rate, limit.wear.deviation, limit.wear.reading_error)
        )
        yield (
            f"{limit.code} {limit.name}: {rate} ± {deviation} {unit} in one of its "
            f"{limit.wears.value}; a reading is out by {error}"
        )


def order_lines(catalogue: Catalogue) -> Iterator[str]:
    for (why, sort, mark), found in groupby(
        catalogue.precedence,
        key=lambda pair: (pair.why, pair.sort.value, LETTERS[pair.mark.mark]),
    ):
        pairs = list(found)
        firsts = dict.fromkeys(pair.before for pair in pairs)
        seconds = dict.fromkeys(pair.after for pair in pairs)
        text = f"{' '.join(firsts)} > {' '.join(seconds)} [{sort}, {mark}] {why}"
        yield from wrapped(text, "    ")


def tank_lines(catalogue: Catalogue) -> Iterator[str]:
    """What a tank is taken to hold until somebody says, and a float bowl beside a four-stroke."""
    for kind in catalogue.kinds.values():
        if kind.fuel != FuelUse.NONE:
            bowl = f", bowl {BOWL_UL / 1000:g} mL" if kind.fuel == FuelUse.FOUR_STROKE else ""
            yield f"{kind.code} {kind.name}: tank {tank_ul(kind.code) / 1_000_000:g} L{bowl}"


def burn_lines(catalogue: Catalogue) -> Iterator[str]:
    """What a machine of the kind is reckoned to burn, where nobody entered it."""
    for kind in catalogue.kinds.values():
        if kind.fuel != FuelUse.NONE:
            yield f"{kind.code} {kind.name}: {ul_an_hour_of(kind.code) / 1_000_000:g} L an hour"


def table(catalogue: Catalogue) -> str:
    lines = ["What the catalogue holds by our judgement alone", ""]
    lines += ["Minutes are look/do; in brackets: common practice. | opening; our figures; what it"]
    lines += ["counts as done as well. ! = stop use if.", ""]

    def section(name: str, found: Iterator[str]) -> None:
        lines.extend([f"== {name}", *found, ""])

    section("Kinds", (line for kind in catalogue.kinds.values() for line in kind_lines(kind)))
    section("Tanks", tank_lines(catalogue))
    section("Litres an hour at the usual load, give or take 30 per cent", burn_lines(catalogue))
    section("Tasks", (line for task in catalogue.tasks.values() for line in task_lines(task)))
    section(
        "What a kind changes of it",
        (line for kind in catalogue.kinds.values() for line in changes_of(kind, catalogue)),
    )
    section("Limits", limit_lines(catalogue))
    section("How fast parts wear", wear_lines(catalogue))
    section("Order of work (first > later)", order_lines(catalogue))
    section("Signal words of cautions", signal_lines(catalogue))
    section("Monthly shares of use, per cent", shape_lines(catalogue))
    section("Monthly means of climates, Celsius", climate_lines(catalogue))
    return "\n".join(lines)


def signal_lines(catalogue: Catalogue) -> Iterator[str]:
    for word in ("danger", "warning", "caution", "notice"):
        codes = [one.code for one in catalogue.cautions.values() if one.severity == word]
        yield from wrapped(f"{word}: {' '.join(codes)}", "    ")


def shape_lines(catalogue: Catalogue) -> Iterator[str]:
    for name, region in (("snow", ""), ("snow", "SE"), ("blower", ""), ("tiller", "")):
        shares = " ".join(f"{float(share) * 100:>4.0f}" for share in catalogue.shapes[name, region])
        yield f"{name + ' ' + region:<12}{shares}"


def climate_lines(catalogue: Catalogue) -> Iterator[str]:
    for climate in catalogue.climates.values():
        means = " ".join(f"{mean / 1000:>3g}" for mean in climate.month_means_mc)
        spread = (climate.month_highs_mc[0] - climate.month_lows_mc[0]) / 2000
        yield f"{climate.code:<24}{means}  +-{spread:g}{'  south' if climate.south else ''}"


def test_the_table_of_our_judgement(update_golden: bool):
    text = table(load_catalogue())
    if update_golden:
        GOLDEN.parent.mkdir(exist_ok=True)
        GOLDEN.write_text(text, "utf-8", newline="\n")
    assert GOLDEN.read_text("utf-8") == text
    assert max(map(len, text.splitlines())) <= WIDTH
