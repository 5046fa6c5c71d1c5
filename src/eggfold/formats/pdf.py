"""Pages as PDF: real text in an embedded typeface, bookmarks, numbered sheets."""

from __future__ import annotations

from hashlib import md5
from io import BytesIO

from reportlab import rl_config
from reportlab.pdfgen.canvas import Canvas

from eggfold.formats.characters import clean
from eggfold.formats.drawing import DOT, TYPE, Box, ChartText, Dot, Drawing, Stroke
from eggfold.formats.pdf_blocks import BOLD, REGULAR, SMALL, Band, Rule, Typeface, width_of, wrap
from eggfold.formats.registry import Setting, Written
from eggfold.formats.sheets import MARGIN, MM, PlacedBlock, lay_out, lay_out_labels
from eggfold.pages.page import Page
from eggfold.reference.paper import DEFAULT_SHEET, PAPERS

FOOTER_TYPE = 7.0
GREY = 0.35
RULE_GREY = 0.55
PALE = 0.86
HAIR = 0.5
"""Lines up to this weight are grey."""


class _Pen:
    """Draws onto a canvas whose place is measured from the top left corner of the margins."""

    def __init__(self, canvas: Canvas, height: float) -> None:
        self.canvas = canvas
        self.top = height - MARGIN

    def words(self, x: float, y: float, band: Band, size: float) -> None:
        """Write the lines of a band."""
        text = self.canvas.beginText()
        used = None
        for start, foot, words, bold, right, scale in band.words:
            height = scale * size
            if used != (bold, height):
                used = bold, height
                text.setFont(BOLD if bold else REGULAR, height)
            left = MARGIN + x + start * size - (width_of(words, bold) * height if right else 0.0)
            text.setTextOrigin(left, self.top - y - foot * size)
            text.textOut(words)
        self.canvas.drawText(text)

    def rule(self, x: float, y: float, rule: Rule, size: float) -> None:
        """Draw a line, or a frame."""
        self.canvas.setLineWidth(rule.weight)
        self.canvas.setStrokeGray(0 if rule.weight > HAIR else RULE_GREY)
        left, right = (MARGIN + x + end * size for end in (rule.left, rule.right))
        top = self.top - y - rule.y * size
        if rule.height:
            down = rule.height * size
            self.canvas.rect(left, top - down, right - left, down)
        else:
            self.canvas.line(left, top, right, top)

    def figure(self, y: float, drawing: Drawing, size: float) -> None:
        """Draw a plot or a strip."""
        canvas = self.canvas
        canvas.saveState()
        canvas.setStrokeGray(0)
        canvas.translate(MARGIN, self.top - y)
        canvas.scale(SMALL * size / TYPE, SMALL * size / TYPE)
        for shape in drawing.shapes:
            match shape:
                case Stroke(points, weight, dashed):
                    self._stroke(points, weight, dashed=dashed)
                case Dot(x, down):
                    canvas.circle(x, -down, DOT, stroke=0, fill=1)
                case Box(x, down, width, height):
                    canvas.setFillGray(PALE)
                    canvas.setLineWidth(0.8)
                    canvas.rect(x, -down - height, width, height, fill=1)
                    canvas.setFillGray(0)
                case ChartText():
                    self._label(shape)
        canvas.restoreState()

    def _stroke(
        self, points: tuple[tuple[float, float], ...], weight: float, *, dashed: bool
    ) -> None:
        self.canvas.setLineWidth(weight)
        self.canvas.setDash([2, 2] if dashed else [])
        path = self.canvas.beginPath()
        (x, y), *others = points
        path.moveTo(x, -y)
        for x, y in others:
            path.lineTo(x, -y)
        self.canvas.drawPath(path)
        self.canvas.setDash([])

    def _label(self, label: ChartText) -> None:
        share = {"start": 0.0, "middle": 0.5, "end": 1.0}[label.anchor]
        self.canvas.setFont(REGULAR, TYPE)
        width = width_of(label.text) * TYPE
        x = label.x - width * share
        if label.clear:
            self.canvas.setFillGray(1)
            self.canvas.rect(x - 1, -label.y - 2, width + 2, TYPE + 1, stroke=0, fill=1)
            self.canvas.setFillGray(0)
        self.canvas.drawString(x, -label.y, label.text)


def write_pages(pages: tuple[Page, ...], setting: Setting) -> Written:
    """Return a PDF, the same bytes for the same pages and date; notes name missing letters."""
    rl_config.useA85 = 0  # sheets stay bytes: text of them takes longer and is larger
    face = Typeface()
    if setting.grid:
        paper, sheets = lay_out_labels(pages, face, setting.paper or DEFAULT_SHEET, setting.grid)
    else:
        paper, sheets = lay_out(pages, face, setting.paper)
    width, height = (side * MM for side in PAPERS[paper])
    stream = BytesIO()
    canvas = Canvas(stream, pagesize=(width, height), invariant=1, lang="en", pageCompression=1)
    _describe(canvas, pages, setting.date)
    pen = _Pen(canvas, height)
    begun = -1
    for number, sheet in enumerate(sheets, 1):
        if sheet.page != begun:
            begun = sheet.page
            _bookmark(canvas, f"page-{begun}", face.legible(_name(pages[begun])), 0)
        for i, placed in enumerate(sheet.bands):
            _draw(pen, placed, f"sheet-{number}-{i}")
        page = pages[begun]
        if sheet.footed:
            right = face.legible(_number(page, setting.date, number, len(sheets)))
            _footer(canvas, face.legible(_name(page)), right)
        canvas.showPage()
    canvas.save()
    return Written(stream.getvalue(), tuple(face.notes()))


def _describe(canvas: Canvas, pages: tuple[Page, ...], date: str) -> None:
    titles = list(dict.fromkeys(clean(page.title) for page in pages))
    canvas.setTitle(" · ".join(titles)[:200])
    canvas.setAuthor("")
    canvas.setSubject("")
    canvas.setCreator("eggfold")
    stamp = f"D:{date.replace('-', '')}000000Z"
    canvas.setDateFormatter(lambda *_: stamp)
    # the fingerprint starts from the date, not from the environment that the library looks at
    canvas._doc.signature = md5(stamp.encode(), usedforsecurity=False)  # noqa: SLF001
    canvas.showOutline()


def _draw(pen: _Pen, placed: PlacedBlock, key: str) -> None:
    y, size, band, x = placed
    if band.mark:
        _bookmark(pen.canvas, key, band.mark, 1)
    if band.words:
        pen.words(x, y, band, size)
    for rule in band.rules:
        pen.rule(x, y, rule, size)
    if band.figure:
        pen.figure(y, band.figure, size)


def _bookmark(canvas: Canvas, key: str, text: str, level: int) -> None:
    """Add an entry; the key must be its own, or it would take another's place."""
    canvas.bookmarkPage(key)
    canvas.addOutlineEntry(text, key, level, closed=level == 0)


def _name(page: Page) -> str:
    return f"{page.title}, {page.aside}" if page.aside else page.title


def _number(page: Page, date: str, number: int, sheets: int) -> str:
    return f"{page.corner or date}   page {number} of {sheets}"


def _footer(canvas: Canvas, left: str, right: str) -> None:
    width, _ = canvas._pagesize  # noqa: SLF001 - the canvas tells its size no other way
    canvas.setFillGray(GREY)
    canvas.setFont(REGULAR, FOOTER_TYPE)
    room = (width - 2 * MARGIN) / FOOTER_TYPE - width_of(right) - 2
    canvas.drawString(MARGIN, MARGIN, wrap(left, room)[0])
    canvas.drawRightString(width - MARGIN, MARGIN, right)
    canvas.setFillGray(0)
