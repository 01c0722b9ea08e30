"""Replays a finished Document with bare reportlab calls: the least a program must spend on the same
content.
"""

from __future__ import annotations

import io

from reportlab.lib.units import inch
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

from templates_engine.drawing.shapes import Document, DrawnCircle, DrawnRect, Line, Polygon, Shape, Words
from templates_engine.resources import folder

FONTS = {False: "replay-plain", True: "replay-bold"}


def register_fonts() -> None:
    for bold, file in ((False, "DejaVuSans.ttf"), (True, "DejaVuSans-Bold.ttf")):
        pdfmetrics.registerFont(TTFont(FONTS[bold], str(folder("fonts") / file)))


def replay(document: Document) -> bytes:
    """The document's shapes, forms and pages through reportlab's own drawing calls; no checks, no
    read-back.
    """
    buffer = io.BytesIO()
    size = (document.page_width_in * inch, document.page_height_in * inch)
    canvas = Canvas(buffer, pagesize=size, invariant=1)
    for picture in document.pictures:
        box = picture.bounds
        canvas.beginForm(picture.name, box.left * inch, box.bottom * inch, box.right * inch, box.top * inch)
        for shape in picture.shapes:
            _draw(canvas, shape)
        canvas.endForm()
    for page in document.pages:
        for placement in page.placements:
            canvas.saveState()
            window = placement.window
            path = canvas.beginPath()
            path.rect(window.left * inch, window.bottom * inch, window.width * inch, window.height * inch)
            canvas.clipPath(path, stroke=0)
            canvas.translate(placement.origin.x * inch, placement.origin.y * inch)
            canvas.doForm(placement.picture)
            canvas.restoreState()
        for shape in page.shapes:
            _draw(canvas, shape)
        canvas.showPage()
    canvas.save()
    return buffer.getvalue()


def _draw(canvas: Canvas, shape: Shape) -> None:
    match shape:
        case Line():
            _pen(canvas, shape.pen.width, shape.pen.dash)
            canvas.line(shape.start.x * inch, shape.start.y * inch, shape.end.x * inch, shape.end.y * inch)
        case DrawnCircle():
            _pen(canvas, shape.pen.width, shape.pen.dash)
            canvas.circle(shape.centre.x * inch, shape.centre.y * inch, shape.diameter / 2 * inch)
        case DrawnRect():
            if shape.pen is not None:
                _pen(canvas, shape.pen.width, shape.pen.dash)
            rect = shape.rect
            canvas.rect(rect.left * inch, rect.bottom * inch, rect.width * inch, rect.height * inch)
        case Polygon():
            path = canvas.beginPath()
            path.moveTo(shape.points[0].x * inch, shape.points[0].y * inch)
            for point in shape.points[1:]:
                path.lineTo(point.x * inch, point.y * inch)
            path.close()
            canvas.drawPath(path, stroke=shape.pen is not None, fill=shape.solid)
        case Words():
            _words(canvas, shape)


def _words(canvas: Canvas, shape: Words) -> None:
    text = "".join(
        run if isinstance(run, str) else f"{run.numerator}/{run.denominator}" for run in shape.runs
    )
    canvas.saveState()
    canvas.setFont(FONTS[shape.bold], shape.size_pt)
    canvas.setFillGray(shape.grey)
    canvas.translate(shape.at.x * inch, shape.at.y * inch)
    if shape.angle:
        canvas.rotate(shape.angle)
    {"left": canvas.drawString, "middle": canvas.drawCentredString, "right": canvas.drawRightString}[
        shape.anchor
    ](0, 0, text)
    canvas.restoreState()


def _pen(canvas: Canvas, width_in: float, dash_in: tuple[float, ...]) -> None:
    canvas.setLineWidth(width_in * inch)
    canvas.setDash([part * inch for part in dash_in] if dash_in else [])
