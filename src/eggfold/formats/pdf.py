"""Pages as a PDF: which paper, which type, what stands on which sheet; and labels."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from hashlib import md5
from io import BytesIO

from reportlab import rl_config
from reportlab.pdfgen.canvas import Canvas

from eggfold.errors import NoAnswerError
from eggfold.formats.characters import clean
from eggfold.formats.drawing import DOT, TYPE, Box, ChartText, Dot, Drawing, Stroke
from eggfold.formats.pdf_blocks import (
    BOLD,
    DESCENT,
    LEADING,
    REGULAR,
    SMALL,
    Band,
    BlockFrame,
    NarrowError,
    Rule,
    Typeface,
    Words,
    block_bands,
    continued_band,
    strip_parts,
    title_bands,
    width_of,
    wrap,
)
from eggfold.formats.registry import Setting, Written
from eggfold.nearest import one_of
from eggfold.pages.page import Facts, Page
from eggfold.records import NamedTuple
from eggfold.reference.paper import DEFAULT_CARD, DEFAULT_SHEET, LABEL_EDGE_MM, MM, PAPERS, front_pt

MARGIN = 9 * MM
FOOTER = 5 * MM
FRONT_SIZES = tuple(size / 4 for size in range(44, 73))
"""Types that a card's front may be set in [pt]."""
FLOW_SIZES = (12.0, 11.0, 10.0, 9.0, 8.0, 7.5, 7.0)
"""Types of what flows on [pt]: the fewest sheets, then the largest type."""
MANY_SHEETS = 30
"""Of more, the least type is taken at once: each further one would take seconds to lay out."""
BACK_SIZES = (9.0, 8.0, 7.5, 7.0)
EDGE = LABEL_EDGE_MM * MM
ROW_SIZES = (12.0, 11.0, 10.0, 9.0, 8.0, 7.0)
"""Types in which each fact has a row of its own [pt]."""
RUN_SIZES = (8.0, 7.0, 6.5, 6.0, 5.5, 5.0)
"""Types in which the facts of a small label run on [pt]."""
Bands = tuple["PlacedBand", ...]


class PlacedBand(NamedTuple):
    """A band on a sheet: its top below the margin, and the size of its type [pt]."""

    y: float
    size: float
    band: Band
    x: float = 0.0


class Sheet(NamedTuple):
    """One side of paper, the number of the page that stands on it, and whether it has a foot."""

    page: int
    bands: Bands
    footed: bool = True


class Area(NamedTuple):
    """The room inside the margins [pt]."""

    width: float
    height: float


def _area_of(paper: str) -> Area:
    """Return the room that a paper leaves."""
    width, height = PAPERS[paper]
    return Area(width * MM - 2 * MARGIN, height * MM - 2 * MARGIN - FOOTER)


def _front_sizes(paper: str) -> tuple[float, ...]:
    """Return the types that a card's front may be set in on a paper, the least first."""
    return tuple(size for size in FRONT_SIZES if size >= front_pt(paper))


def lay_out(pages: tuple[Page, ...], face: Typeface, asked: str | None) -> tuple[str, list[Sheet]]:
    """Return the paper and the sheets of a document.

    Raises NoAnswerError where the paper asked for is too small, or a table too wide for any.
    """
    layouts = [_SheetLayout(page, face) for page in pages]
    paper = _paper(layouts, asked)
    sheets = []
    for number, layout in enumerate(layouts):
        try:
            sheets += [Sheet(number, bands) for bands in layout.sheets(paper)]
        except NarrowError as error:
            raise NoAnswerError(layout.sentence(paper)) from error
    return paper, sheets


def _paper(layouts: list[_SheetLayout], asked: str | None) -> str:
    """Return the paper asked for, else the smallest of the usual ones that fits all pages."""
    if asked is not None:
        for layout in layouts:
            layout.need(asked)
        return asked
    cards = any(layout.page.front is not None for layout in layouts)
    usual = (DEFAULT_CARD, DEFAULT_SHEET) if cards else (DEFAULT_SHEET,)
    whole = (paper for paper in usual if all(layout.is_one_sheet(paper) for layout in layouts))
    fit = (paper for paper in reversed(usual) if all(layout.fits(paper) for layout in layouts))
    return next(whole, None) or next(fit, usual[-1])


class _SheetLayout:
    """One page and the typeface it is set in."""

    def __init__(self, page: Page, face: Typeface) -> None:
        self.page = page
        self.face = face
        self._heights: dict[tuple[float, float], float] = {}

    def fits(self, paper: str) -> bool:
        """Tell whether a page's tables fit across, those of a card's front in large type."""
        size = FLOW_SIZES[-1] if self.page.front is None else _front_sizes(paper)[0]
        try:
            self.bands(slice(0, self.page.front), _area_of(paper).width / size)
        except NarrowError:
            return False
        return True

    def is_one_sheet(self, paper: str) -> bool:
        """Tell whether a card's front stands on one sheet, or another page fits across."""
        if self.page.front is None:
            return self.fits(paper)
        return self._front_size(paper) is not None

    def need(self, paper: str) -> None:
        """Raise NoAnswerError if the page is too large for a paper and fits another."""
        if not self.fits(paper) and any(map(self.fits, PAPERS)):
            raise NoAnswerError(self.sentence(paper))

    def sentence(self, paper: str) -> str:
        """Return why a paper will not do, and what will."""
        better = [name.upper() if len(name) == 2 else name for name in PAPERS if self.fits(name)]
        advice = f"it fits on {one_of(better)}" if better else "choose fewer columns"
        return f"{self.page.title}: too large for {paper.upper()} in legible type; {advice}"

    def bands(self, part: slice, width: float) -> list[Band]:
        """Return the bands of some blocks, the title's with the first."""
        frame = BlockFrame(self.face, width)
        blocks = (band for block in self.page.blocks[part] for band in block_bands(block, frame))
        return [*blocks] if part.start else [*title_bands(self.page, frame), *blocks]

    def _front_size(self, paper: str) -> float | None:
        """Return the largest type in which the front stands on one sheet."""
        area = _area_of(paper)
        fit = (
            s
            for s in reversed(_front_sizes(paper))
            if self._front_height(area.width, s) <= area.height
        )
        return next(fit, None)

    def _front_height(self, width: float, size: float) -> float:
        """Return how high the front is in a type; only that is kept of one that may not be taken."""
        if (width, size) not in self._heights:
            try:
                self._heights[width, size] = _height(self._front(width, size)) * size
            except NarrowError:
                self._heights[width, size] = float("inf")
        return self._heights[width, size]

    def _front(self, width: float, size: float) -> list[Band]:
        return self.bands(slice(0, self.page.front), width / size)

    def sheets(self, paper: str) -> Iterator[Bands]:
        """Yield what stands on each sheet: a card's front, on two where it must, then its back."""
        area = _area_of(paper)
        if self.page.front is None:
            yield from self._flowing(area)
            return
        size = self._front_size(paper) or _front_sizes(paper)[0]
        yield from self._paginated(self._front(area.width, size), size, area)
        if self.page.blocks[self.page.front :]:
            size, back = self._back(area.width)
            yield from self._paginated(back, size, area, begun=True)

    def _paginated(
        self, bands: Iterable[Band], size: float, area: Area, *, begun: bool = False
    ) -> Iterator[Bands]:
        top = continued_band(self.page, BlockFrame(self.face, area.width / size))
        return _paginate(bands, size, area.height, top, begun=begun)

    def _back(self, width: float) -> tuple[float, list[Band]]:
        for size in BACK_SIZES:
            try:
                return size, self.bands(slice(self.page.front, None), width / size)
            except NarrowError:
                continue
        raise NarrowError

    def _flowing(self, area: Area) -> list[Bands]:
        """Return as few sheets as can be, then in as large a type as can be."""
        best: list[Bands] = []
        sizes = [*FLOW_SIZES]
        while sizes and len(best) != 1:
            size = sizes.pop(0)
            try:
                bands = self.bands(slice(None), area.width / size)
            except NarrowError:
                continue
            sheets = list(self._paginated(bands, size, area))
            if not best or len(sheets) < len(best):
                best = sheets
            if len(best) > MANY_SHEETS:
                del sizes[:-1]
        if not best:
            raise NarrowError
        return best


def _height(bands: Iterable[Band]) -> float:
    return sum(band.height for band in bands)


def _stacked(bands: Iterable[Band], size: float) -> Iterator[PlacedBand]:
    y = 0.0
    for band in bands:
        yield PlacedBand(y, size, band)
        y += band.height * size


def _paginate(
    bands: Iterable[Band], size: float, height: float, top: Band, *, begun: bool = False
) -> Iterator[Bands]:
    """Yield sheets; glued bands stay together, ``top`` and a table's head begin further ones."""
    sheet = [top] if begun else []
    empty = len(sheet)
    for group in _groups(_cut(bands, height / size - top.height)):
        if len(sheet) > empty and (_height(sheet) + _height(group)) * size > height:
            yield tuple(_stacked(sheet, size))
            sheet = [top, *group[0].head]
            empty = len(sheet)
        sheet += group
    if len(sheet) > empty:
        yield tuple(_stacked(sheet, size))


def _cut(bands: Iterable[Band], most: float) -> Iterator[Band]:
    """Yield bands none of which is taller than a sheet: what is taller is cut between its lines."""
    glued = 0.0
    for band in bands:
        if band.strip and band.figure and band.height > most - glued:
            parts = strip_parts(
                band.strip, band.figure.width, most - glued, most - _height(band.head)
            )
            yield from (part._replace(head=band.head) for part in parts)
            glued = 0.0
            continue
        glued = glued + band.height if band.glued else 0.0
        rest = band
        while rest.height > most:
            edge = max(w.foot for w in rest.words if w.foot <= most - DESCENT)
            upper = tuple(w for w in rest.words if w.foot <= edge)
            lower = tuple(w._replace(foot=w.foot - edge) for w in rest.words if w.foot > edge)
            yield rest._replace(height=edge + DESCENT, words=upper, rules=(), glued=False)
            rest = Band(rest.height - edge, lower, glued=rest.glued)
        yield rest


def _groups(bands: Iterable[Band]) -> Iterator[list[Band]]:
    """Yield the bands that may not be parted."""
    group: list[Band] = []
    for band in bands:
        group.append(band)
        if not band.glued:
            yield group
            group = []
    if group:
        yield group


CellSize = tuple[float, float]
"""Width and height of a label with its edges [pt]."""


def _lay_out_labels(
    pages: tuple[Page, ...], face: Typeface, paper: str, grid: tuple[int, int]
) -> tuple[str, list[Sheet]]:
    """Return the paper and its sheets, all labels in one type; NoAnswerError where none fits."""
    cell = _cell(paper, grid)
    labels = _label_bands(pages, face, cell)
    if labels is None:
        raise NoAnswerError(_too_small(pages, face, paper, grid))
    size, bands = labels
    in_all = grid[0] * grid[1]
    sheets = []
    for start in range(0, len(pages), in_all):
        placed = _placed_labels(bands[start : start + in_all], size, grid[0], cell)
        sheets.append(Sheet(start, tuple(placed), footed=False))
    return paper, sheets


def _cell(paper: str, grid: tuple[int, int]) -> CellSize:
    width, height = PAPERS[paper]
    return width * MM / grid[0], height * MM / grid[1]


def _label_bands(
    pages: tuple[Page, ...], face: Typeface, cell: CellSize
) -> tuple[float, list[list[Band]]] | None:
    """Return the largest type that all labels fit in, and their bands."""
    width, height = (side - 2 * EDGE for side in cell)
    ways = [(size, False) for size in ROW_SIZES] + [(size, True) for size in RUN_SIZES]
    for size, run_on in ways:
        if width / size < 1:
            continue
        frame = BlockFrame(face, width / size)
        labels = [list(_label(page, frame, run_on=run_on)) for page in pages]
        if all(_height(bands) * size <= height for bands in labels):
            return size, labels
    return None


def _label(page: Page, frame: BlockFrame, *, run_on: bool) -> Iterator[Band]:
    yield from title_bands(page, frame)
    for block in page.blocks:
        if run_on and isinstance(block, Facts):
            yield _lines_band(frame, block.heading, bold=True)
            facts = (f"{label}: {value}" for label, value in block.rows)
            yield _lines_band(frame, " · ".join(facts))
        else:
            yield from block_bands(block, frame)


def _lines_band(frame: BlockFrame, text: str, *, bold: bool = False) -> Band:
    lines = wrap(frame.face.legible(text), frame.width, bold=bold)
    words = (Words(0, 1 + i * LEADING, line, bold=bold) for i, line in enumerate(lines))
    return Band(len(lines) * LEADING + DESCENT / 2, tuple(words))


def _placed_labels(
    labels: Iterable[list[Band]], size: float, columns: int, cell: CellSize
) -> Iterator[PlacedBand]:
    width, height = cell
    for i, bands in enumerate(labels):
        x, y = (i % columns) * width - MARGIN, (i // columns) * height - MARGIN
        yield PlacedBand(y, 1.0, Band(0.0, rules=(Rule(0, width, 0, 0.25, height),)), x)
        y += EDGE
        for band in bands:
            yield PlacedBand(y, size, band._replace(mark=""), x + EDGE)
            y += band.height * size


def _too_small(pages: tuple[Page, ...], face: Typeface, paper: str, grid: tuple[int, int]) -> str:
    """Return how small the labels are, and the most that fit."""
    width, height = (side / MM for side in _cell(paper, grid))
    small = (
        f"labels of {width:.0f} × {height:.0f} mm on {paper.upper()} are too small for their text"
    )
    for columns in range(grid[0], 0, -1):
        for rows in range(grid[1], 0, -1):
            if _label_bands(pages, face, _cell(paper, (columns, rows))):
                return f"{small}; --grid {columns}x{rows} fits"
    return f"{small}; no grid on this paper fits"


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
        paper, sheets = _lay_out_labels(pages, face, setting.paper or DEFAULT_SHEET, setting.grid)
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


def _draw(pen: _Pen, placed: PlacedBand, key: str) -> None:
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
