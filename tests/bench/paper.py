"""Pre-season sheets against bare pages of the same library: forty lines of one of its own fonts."""

from __future__ import annotations

from datetime import date
from io import BytesIO

from pypdf import PdfReader
from reportlab.lib.pagesizes import A4
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfgen.canvas import Canvas

from app.sheets.build import Paper, SheetMachine, preseason_pdf
from app.sheets.lettering import Face, font
from app.wording.units import unit_choice
from app.wording.wording import Wording
from models.facts.fleet import read_fleet
from models.facts.settings import read_settings
from models.file import Household
from resources.loader import load_catalogue
from schedules.plan import judge, pre_season
from schedules.stores import purchases
from tests.bench.tables import Table
from tests.bench.timing import Case, alternate

ROUNDS = 9
LINES = 40
TWELVE_AT_MOST_KIB = 100


def bare_pages(pages: int) -> bytes:
    """As little as a page can be: letters, no measuring, no rules."""
    out = BytesIO()
    canvas = Canvas(out, pagesize=A4)
    for _ in range(pages):
        canvas.setFont("Helvetica", 10)
        for line in range(LINES):
            canvas.drawString(40, 800 - 18 * line, f"{line:3}  a line of plain text on the page")
        canvas.showPage()
    canvas.save()
    return out.getvalue()


def as_many_letters(pages: int, strings: int) -> bytes:
    """The bare page with as much on it as ours has, in the letters ours are set in."""
    out = BytesIO()
    canvas = Canvas(out, pagesize=A4)
    each = -(-strings // pages)
    plain = font(Face.REGULAR)
    pdfmetrics.registerFont(plain)
    for _ in range(pages):
        canvas.setFont(plain.fontName, 10)
        for line in range(each):
            canvas.drawString(40, 800 - 6 * line, f"{line:3}  a line of plain text on the page")
        canvas.showPage()
    canvas.save()
    return out.getvalue()


def strings_of(pdf: bytes) -> int:
    """How many pieces of text are shown on all pages."""
    contents = [page.get_contents() for page in PdfReader(BytesIO(pdf)).pages]
    return sum(each.get_data().count(b" Tj") for each in contents if each is not None)


def paper_tables(household: Household, *, on: date) -> list[Table]:
    """One sheet and twelve."""
    catalogue = load_catalogue()
    with household.read() as session:
        settings = read_settings(session)
        facts = read_fleet(session, on=on, catalogue=catalogue)
    wording = Wording(
        settings.language, unit_choice(settings.unit_system, settings.units), catalogue
    )
    policy = settings.policy
    judged = [judge(one, on=on, policy=policy, limits=catalogue.limits) for one in facts]
    seasons = [pre_season(one, precedence=catalogue.precedence) for one in judged]
    pairs = list(zip(judged, seasons, strict=True))
    bought = purchases(pairs, policy=policy, on_shelf={})
    fleet = [SheetMachine(judging=one, season=season) for one, season in pairs]
    numbers = {one.machine_id: f"{1000 + place}" for place, one in enumerate(fleet)}

    def sheets(count: int) -> bytes:
        return preseason_pdf(
            fleet[:count],
            numbers=numbers,
            bought=bought,
            wording=wording,
            paper=Paper.A4,
            household=settings.name,
            on=on,
        )

    tables: list[Table] = []
    for count, most in ((1, 8), (12, 10)):
        first = sheets(count)
        pages = first.count(b"/Type /Page") - first.count(b"/Type /Pages")
        strings = strings_of(first)
        timed = alternate(
            [
                Case(f"{count} bare pages", lambda count=count: bare_pages(count)),
                Case("pre-season sheets, judged before", lambda count=count: sheets(count)),
                Case(
                    "bare pages with as many letters, in the same font",
                    lambda pages=pages, strings=strings: as_many_letters(pages, strings),
                ),
            ],
            ROUNDS,
        )
        remark = (
            f"{len(first) / 1024:.0f} KiB, {pages} pages with {strings} pieces of text; "
            f"twelve sheets at most {TWELVE_AT_MOST_KIB} KiB"
        )
        title = f"{count} pre-season sheets" if count > 1 else "1 pre-season sheet"
        tables.append(Table(title, f"baselines 5: at most {most} × bare", timed, (remark,)))
    return tables
