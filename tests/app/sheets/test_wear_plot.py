"""The course of a wearing part on paper: what it says, and that all of it stays in its field."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from datetime import date
from fractions import Fraction
from io import BytesIO

import pdfplumber
import pytest

from app.sheets import card, preseason
from app.sheets.card import Card
from app.sheets.figures import Path
from app.sheets.lettering import Face, measure
from app.sheets.plot import PlotRows, draw_plot
from app.sheets.preseason import PreSeasonSheet
from app.sheets.surface import Ink, Paper, PdfSurface, Size, Surface
from app.sheets.wear_rows import WearRows, wear_rows
from app.wording.units import METRIC, US
from app.wording.wording import Wording
from resources.loader import load_catalogue
from schedules.facts import Doing, LimitFacts, Policy, TaskCode, WearRate
from schedules.plan import judge
from tests.app.sheets.example import CARD, SHEET, words
from tests.schedules.test_series import PADDLE, SERIES, day_at, machine, reading

ON = date(2024, 9, 18)


@dataclass
class Written:
    """Keeps every text with its corners, and every stroke."""

    texts: list[tuple[str, float, float, float]] = field(
        default_factory=list[tuple[str, float, float, float]]
    )
    spots: list[tuple[float, float]] = field(default_factory=list[tuple[float, float]])
    strokes: list[tuple[float, float, float, float]] = field(
        default_factory=list[tuple[float, float, float, float]]
    )

    def page(self, size: Size) -> None: ...

    def mark(self, title: str, level: int) -> None: ...

    def letters(self, x: float, base: float, text: str, face: Face, size: float, ink: Ink) -> None:
        self.texts.append((text, x, x + measure(text, face, size), base))

    def line(
        self, x: float, y: float, x2: float, y2: float, weight: float, dash: tuple[float, ...] = ()
    ) -> None:
        self.spots += [(x, y), (x2, y2)]
        self.strokes.append((x, y, x2, y2))

    def shape(self, path: Path, weight: float, *, solid: Ink | None = None) -> None:
        for _, numbers in path:
            self.spots += list(zip(numbers[::2], numbers[1::2], strict=True))

    def box(
        self,
        x: float,
        y: float,
        width: float,
        height: float,
        weight: float,
        *,
        solid: Ink | None = None,
    ) -> None: ...

    def image(self, jpeg: bytes, x: float, y: float, width: float, height: float) -> None: ...


def crossed(written: Written) -> list[str]:
    """Words that a level stroke longer than a tick, or an upright one, runs through."""
    found: list[str] = []
    for text, left, right, base in written.texts:
        for x, y, x2, y2 in written.strokes:
            level = y == y2 and base - 2.2 < y < base - 0.2 and x < right - 0.3 and x2 > left + 0.3
            upright = x == x2 and left + 0.3 < x < right - 0.3 and y < base - 0.3 and y2 > base - 2
            if level or upright:
                found.append(text)
    return found


def rows(
    count: int = 5,
    *,
    american: bool = False,
    renewed: bool = False,
    on: date = ON,
    limit: LimitFacts = PADDLE,
) -> WearRows:
    readings = [reading(*one) for one in SERIES[:count]]
    doings = ()
    if renewed:
        doings = (Doing(code=TaskCode("T"), day=day_at(26), replaced=True),)
        readings.append(reading(26, 20_000, after=True))
    judging = judge(
        machine(*readings, doings=doings), on=on, policy=Policy(), limits={limit.code: limit}
    )
    said = Wording("en_US" if american else "en_GB", US if american else METRIC, load_catalogue())
    task = replace(judging.task(TaskCode("T")), name="Rotor paddles")
    found = wear_rows(judging, task, limit, said)
    assert found is not None
    return found


def test_it_says_when_and_how_sure() -> None:
    """The days of tests/schedules/test_series.py: plan by 2 October."""
    said = " ".join(rows().sentences)
    assert "Plan by Wed 2 Oct 2024." in said
    assert "from 5 measurements" in said
    assert rows().table[1] == ("20 Feb 2024", "5.0\u00a0h", "19.6\u00a0mm")


def test_a_day_that_has_gone_by_is_said_as_past() -> None:
    late = rows(on=date(2024, 12, 1))
    assert "2 Oct 2024, which is past: measure it again, or renew it." in late.sentences[0]
    assert late.plot.flags[0].text.startswith("was due ")


def test_what_was_measured_past_its_limit_has_no_day_to_come() -> None:
    """On its line it would be worn on some later day; the ruler says that it is."""
    worn = rows(limit=replace(PADDLE, low=18_300))
    assert worn.is_past
    assert worn.plot.flags == ()
    (said,) = worn.sentences
    assert said.startswith("Past its limit when it was measured last")
    assert said.endswith("18.3\u00a0mm or less.")
    assert not rows(limit=replace(PADDLE, low=18_300), renewed=True).is_past


def test_what_does_not_wear_shows_where_it_means_work() -> None:
    plot = rows(limit=replace(PADDLE, wears=None)).plot
    assert plot.limit is not None
    assert plot.limit.text == "act: 17\u00a0mm"


def test_hours_on_the_axis_are_told_apart() -> None:
    said = [tick.text for tick in rows(1).plot.x_ticks]
    assert len(said) == len(set(said)) > 1


def test_one_measurement_says_what_would_help() -> None:
    assert "three measurements" in " ".join(rows(1).sentences)
    assert rows(1).plot.flags == ()


def test_a_renewal_stands_in_the_plot() -> None:
    assert [tick.text for tick in rows(renewed=True).plot.renewals] == ["renewed"]


def test_inches_for_who_reads_inches() -> None:
    assert any("in" in tick.text for tick in rows(american=True).plot.y_ticks)


@pytest.mark.parametrize("count", [1, 2, 3, 5])
@pytest.mark.parametrize("width", [90.0, 180.0])
def test_nothing_leaves_its_rectangle(count: int, width: float) -> None:
    written = Written()
    surface: Surface = written
    draw_plot(surface, rows(count).plot, left=5, top=5, width=width, height=80)
    for text, left, right, base in written.texts:
        assert left >= 5 - 0.01, text
        assert right <= 5 + width + 0.01, text
        assert 5 <= base <= 85, text
    for x, y in written.spots:
        assert 4.9 <= x <= 5 + width + 0.1
        assert 4.9 <= y <= 85.1


@pytest.mark.parametrize("height", [40.0, 62.0, 80.0])
@pytest.mark.parametrize("at", [0.04, 0.1, 0.3, 0.5, 0.7, 0.88, 0.94])
def test_no_word_is_struck_through(height: float, at: float) -> None:
    """Wherever the limit lies, and however near each other the two days are."""
    bare = rows().plot
    assert bare.limit is not None
    for days in ((0.3, 0.32), (0.8, 0.9), (0.02, 0.06)):
        flags = tuple(replace(f, at=x) for f, x in zip(bare.flags, days, strict=True))
        assert len(flags) == 2
        plot = replace(bare, limit=replace(bare.limit, at=at), flags=flags)
        written = Written()
        draw_plot(written, plot, left=5, top=5, width=126, height=height)
        assert crossed(written) == []
        assert {flag.text for flag in flags} <= {text for text, *_ in written.texts}


def test_a_known_rate_draws_its_line_and_band() -> None:
    """Two measurements and what is known: from the first one to the limit, on the day expected."""
    wear = WearRate(rate=Fraction(70), deviation=Fraction(15), reading_error=Fraction(100))
    plot = rows(2, limit=replace(PADDLE, wear=wear)).plot
    assert plot.limit is not None
    (expected,) = (flag.at for flag in plot.flags if not flag.strong)
    near = min(plot.line, key=lambda spot: abs(spot[0] - expected))
    assert near[1] == pytest.approx(plot.limit.at, abs=0.05)
    assert plot.line[0] == plot.upper[0] == plot.lower[0] == plot.readings[0]
    assert min(plot.upper[-1][1], plot.lower[-1][1]) < plot.line[-1][1]


def on_paper(pdf: bytes) -> tuple[str, int]:
    with pdfplumber.open(BytesIO(pdf)) as found:
        return "\n".join(page.extract_text() for page in found.pages), len(found.pages)


def test_the_course_stands_on_sheet_and_card_where_it_made_the_day() -> None:
    """And on neither where it did not; the sheet has as many pages with it as without."""
    plot = rows().plot
    short = replace(SHEET, stages=SHEET.stages[:1])

    def sheet(one: PreSeasonSheet) -> bytes:
        return preseason.draw([one], paper=Paper.A4, language="en_GB", words=words)

    def hung(one: Card) -> bytes:
        return card.draw([one], paper=Paper.A4, language="en_GB", words=words)

    for bare, full in (
        (sheet(short), sheet(replace(short, plots=(plot, plot)))),
        (hung(CARD), hung(replace(CARD, plot=plot))),
    ):
        (without, pages), (said, now) = on_paper(bare), on_paper(full)
        assert now == pages
        assert plot.flags[0].text not in without
        assert plot.flags[0].text in said
    assert on_paper(sheet(replace(SHEET, plots=(plot,))))[1] == on_paper(sheet(SHEET))[1]


def pdf(plot: PlotRows) -> bytes:
    surface = PdfSurface(title="wear", language="en_GB")
    surface.page(Size(190, 90))
    draw_plot(surface, plot, left=5, top=5, width=180, height=80)
    return surface.finished()


def test_the_same_course_gives_the_same_bytes() -> None:
    assert pdf(rows().plot) == pdf(rows().plot)
