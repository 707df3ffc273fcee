"""The bench plan as a PDF: sheets at full size on pages of their own, text pages between them."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any, BinaryIO

from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import (
    BaseDocTemplate,
    CondPageBreak,
    Flowable,
    Frame,
    NextPageTemplate,
    PageBreak,
    PageTemplate,
    Spacer,
)

from generator.errors import OutputError
from generator.ink.model import Ink
from generator.prints.blocks import flowables
from generator.prints.content import Group, Plan, SheetPage, TextPage
from generator.prints.digits import printable
from generator.prints.grid import Bookmark, Page
from generator.prints.lettering import REGULAR, register_fonts
from generator.prints.look import BOTTOM_MM, LEFT_MM, PAGE_MM, RIGHT_MM, TEXT_WIDTH_MM, THIN_PT, TOP_MM, lettered, style
from generator.prints.pdf import draw_ink

__all__ = ["write_plan"]

_TEXT = "text"
_PAGE_TOTAL = "page-total"
_PAGE_NUMBER_MM = 34.0
_TOTAL_MM = 5.5
# A page of text wants at least this much for itself; a footer that leaves less is not a footer.
_LEAST_TEXT_MM = 120.0
# A page of text begins below the last one where so much of the paper is free. Shop choice.
_FREE_SHARE = 0.28


class _PlanCanvas(Canvas):  # type: ignore[misc]
    """A canvas that knows at the end how many pages there are; each page refers to that figure."""

    def save(self) -> None:
        total = self.getPageNumber() - 1
        self.beginForm(_PAGE_TOTAL, 0, -mm, _TOTAL_MM * mm, 5 * mm)
        self.setFont(REGULAR, style("foot").fontSize)
        self.drawString(0, 0, str(total))
        self.endForm()
        super().save()


class _FullSheet(Flowable):  # type: ignore[misc]
    """A whole sheet, laid on the corner of its page."""

    # Something as high as the frame is refused, so it claims a hair less and is moved back by that hair.
    hair = 0.01

    def __init__(self, ink: Ink) -> None:
        super().__init__()
        self.ink = ink

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        return width, height - self.hair

    def draw(self) -> None:
        self.canv.translate(0, -self.hair)
        draw_ink(self.canv, self.ink)


def _footer(plan: Plan) -> tuple[Callable[[Any, Any], None], float]:
    """What draws the foot of a text page, and how high it is in millimetres."""
    words = " \u00b7 ".join(part for part in (plan.number, plan.title, plan.date) if part)
    label, caution = lettered(words, "foot"), lettered(plan.footer, "foot strong")
    label_height = label.wrap((TEXT_WIDTH_MM - _PAGE_NUMBER_MM) * mm, 1e6)[1]
    caution_height = caution.wrap(TEXT_WIDTH_MM * mm, 1e6)[1] if plan.footer else 0.0
    height = label_height + caution_height + 2 * mm
    left, right, bottom = LEFT_MM * mm, (PAGE_MM[0] - RIGHT_MM) * mm, BOTTOM_MM * mm

    def draw(canvas: Any, _doc: Any) -> None:
        canvas.saveState()
        canvas.setLineWidth(THIN_PT)
        canvas.line(left, bottom + height, right, bottom + height)
        label.drawOn(canvas, left, bottom + caution_height + mm)
        if plan.footer:
            caution.drawOn(canvas, left, bottom)
        look = style("foot")
        line = bottom + caution_height + mm + label_height - look.fontSize
        canvas.setFont(look.fontName, look.fontSize)
        canvas.drawRightString(right - _TOTAL_MM * mm, line, f"page {canvas.getPageNumber()} of ")
        canvas.translate(right - _TOTAL_MM * mm, line)
        canvas.doForm(_PAGE_TOTAL)
        canvas.restoreState()

    return draw, height / mm


def _head(plan: Plan) -> list[Any]:
    """The plan's own title, above the first page of text."""
    facts = " \u00b7 ".join(part for part in (plan.number, plan.date, plan.author) if part)
    lines = [lettered(plan.title, "title")]
    lines += [lettered(text, look) for text, look in ((plan.subtitle, "body"), (facts, "small")) if text]
    return lines


def _template_name(item: SheetPage | TextPage) -> str:
    if isinstance(item, TextPage):
        return _TEXT
    return f"sheet {item.ink.width_mm} x {item.ink.height_mm}"


def _sheet_template(item: SheetPage) -> Any:
    width, height = item.ink.width_mm * mm, item.ink.height_mm * mm
    frame = Frame(0, 0, width, height, leftPadding=0, rightPadding=0, topPadding=0, bottomPadding=0)
    return PageTemplate(_template_name(item), [frame], pagesize=(width, height))


def _templates(plan: Plan, text_template: Any) -> list[Any]:
    """One template for each size of page, that of the first page first: the library begins with it."""
    templates: dict[str, Any] = {}
    for item in plan.items:
        name = _template_name(item)
        if name not in templates:
            templates[name] = text_template if isinstance(item, TextPage) else _sheet_template(item)
    return list(templates.values())


def _is_titled(item: SheetPage | TextPage) -> bool:
    """Whether blocks that keep together, with titles of their own, make up a page."""
    return isinstance(item, TextPage) and bool(item.blocks) and all(isinstance(one, Group) for one in item.blocks)


def _leave(plan: Plan, index: int, text_height_mm: float) -> list[Any]:
    """How a page is left for the item of this index; pages of set-ups follow without a break."""
    item, before = plan.items[index], plan.items[index - 1]
    if _is_titled(item) and _is_titled(before):
        return []
    # What would be left of a page by a few lines of the one before is not given away.
    follows = isinstance(item, TextPage) and isinstance(before, TextPage)
    leave = CondPageBreak(_FREE_SHARE * text_height_mm * mm) if follows else PageBreak()
    return [NextPageTemplate(_template_name(item)), leave]


def _story(plan: Plan, text_height_mm: float) -> list[Any]:
    story: list[Any] = []
    head = _head(plan)
    for index, item in enumerate(plan.items):
        story += _leave(plan, index, text_height_mm) if index else []
        title = item.title if isinstance(item, TextPage) else item.bookmark
        mark = Bookmark(title, f"item-{index + 1}")
        if isinstance(item, SheetPage):
            story += [mark, _FullSheet(item.ink)]
            continue
        page, titled = Page(text_height_mm, item.far), _is_titled(item)
        blocks = flowables(item.blocks, page, mark) if titled else [mark, *flowables(item.blocks, page)]
        while blocks and isinstance(blocks[-1], Spacer):
            # Room that does not fit below the last block would open a page of its own.
            blocks.pop()
        # Blocks that keep together carry titles of their own.
        story += [*head, *([] if titled else [lettered(item.title, "page title")]), *blocks]
        head = []
    return story


def write_plan(plan: Plan, target: Path | BinaryIO) -> None:
    """Writes the plan to a file or stream; the same plan gives the same bytes in any process.

    Raises OutputError where there is nothing to print, or the file cannot be written.
    """
    if not plan.items:
        message = f"plan {plan.number}: there is no page in it; give it at least one sheet or page of text"
        raise OutputError(message)
    register_fonts()
    draw_footer, footer_mm = _footer(plan)
    text_height_mm = PAGE_MM[1] - TOP_MM - BOTTOM_MM - footer_mm - 3.0
    if text_height_mm < _LEAST_TEXT_MM:
        message = f"plan {plan.number}: title and footer take {footer_mm:.0f} mm of each page; shorten them"
        raise OutputError(message)
    bottom_mm = PAGE_MM[1] - TOP_MM - text_height_mm
    bare = {"leftPadding": 0, "rightPadding": 0, "topPadding": 0, "bottomPadding": 0}
    frame = Frame(LEFT_MM * mm, bottom_mm * mm, TEXT_WIDTH_MM * mm, text_height_mm * mm, **bare)
    page_size = (PAGE_MM[0] * mm, PAGE_MM[1] * mm)
    text_template = PageTemplate(_TEXT, [frame], onPage=draw_footer, pagesize=page_size)
    document = BaseDocTemplate(
        str(target) if isinstance(target, Path) else target,
        pageTemplates=_templates(plan, text_template),
        title=printable(plan.title),
        author=printable(plan.author),
        subject=printable(plan.subtitle),
        creator="tailstock",
        lang="en-GB",
        invariant=1,
        initialFontName=REGULAR,
    )
    try:
        document.build(_story(plan, text_height_mm), canvasmaker=_PlanCanvas)
    except OSError as error:
        message = f"plan {plan.number}: cannot be written ({error}); free the place or choose another folder"
        raise OutputError(message) from error
