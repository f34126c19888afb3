"""Draws pictures with the plotting library, which is loaded only when something is drawn.

One page of points: every picture has its own sheet in points, so that text keeps its size. Meaning is carried by
labels, lines and hatching; the ink is black on white.
"""

from __future__ import annotations

import io
import warnings
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    from matplotlib.figure import Figure
    from matplotlib.transforms import Transform

WIDTH = 264.0  # points: a phone's width at the text's own size
PNG_DPI = 200
POINTS = 72
INK, PAPER, GREY, BAND = "#000000", "#ffffff", "#d0d0d0", "#e4e4e4"


class Form(StrEnum):
    """A vector picture for the page, a pixel picture for the chat."""

    SVG = "svg"
    PNG = "png"


@dataclass(frozen=True, slots=True)
class Sheet:
    """Where a picture is drawn; `place` turns its points into those of the whole figure."""

    figure: Figure
    place: Transform


@dataclass(frozen=True, slots=True)
class Picture:
    """`alt` says in words all that the picture shows; `paint` draws it on a sheet of WIDTH by `height` points.

    `source` is where the ranges come from; empty where all is computed.
    """

    title: str
    alt: str
    height: float
    paint: Callable[[Sheet], None]
    source: str = ""


def draw(pictures: Sequence[Picture], form: Form) -> bytes:
    """One picture, or several below each other, as a file: the same for the page and for the chat."""
    from matplotlib import rc_context, rcParams
    from matplotlib.figure import Figure
    from matplotlib.transforms import Affine2D

    whole = sum(picture.height for picture in pictures)
    with rc_context(), warnings.catch_warnings():
        rcParams["svg.fonttype"] = "path"
        rcParams["svg.hashsalt"] = "watchglass"
        rcParams["font.family"] = "DejaVu Sans"
        rcParams["hatch.linewidth"] = 0.7
        # A letter of a name that the font lacks shows as an empty box; the table has it in full.
        warnings.filterwarnings("ignore", "Glyph .* missing", UserWarning)
        figure = Figure(figsize=(WIDTH / POINTS, whole / POINTS), facecolor=PAPER)
        top = whole
        for picture in pictures:
            top -= picture.height
            shift = Affine2D().translate(0, top).scale(1 / POINTS) + figure.dpi_scale_trans
            picture.paint(Sheet(figure, shift))
        return _file(figure.savefig, form)


def _file(save: Callable[..., None], form: Form) -> bytes:
    out = io.BytesIO()
    # Without date and program the same recipe gives the same file.
    metadata = {"Date": None, "Creator": None} if form is Form.SVG else {"Software": None}
    save(out, format=form.value, dpi=PNG_DPI if form is Form.PNG else POINTS, metadata=metadata)
    return out.getvalue()


def write(
    sheet: Sheet,
    x: float,
    y: float,
    text: str,
    *,
    size: float = 10,
    across: Literal["left", "center"] = "left",
    bold: bool = False,
) -> None:
    """Text with its middle at `y`; never read as a formula."""
    sheet.figure.text(
        x,
        y,
        text,
        parse_math=False,
        transform=sheet.place,
        fontsize=size,
        color=INK,
        va="center",
        ha=across,
        fontweight="bold" if bold else "normal",
    )


def box(sheet: Sheet, x: float, y: float, width: float, height: float, *, hatch: str = "", fill: str = PAPER) -> None:
    """A rectangle from its lower left corner, outlined in ink."""
    from matplotlib.patches import Rectangle

    patch = Rectangle((x, y), width, height, facecolor=fill, edgecolor=INK, linewidth=0.8, hatch=hatch or None)
    patch.set_transform(sheet.place)
    sheet.figure.add_artist(patch)


def rule(sheet: Sheet, start: tuple[float, float], end: tuple[float, float], *, heavy: bool = False) -> None:
    """A straight line."""
    from matplotlib.lines import Line2D

    (x, y), (to_x, to_y) = start, end
    line = Line2D([x, to_x], [y, to_y], color=INK, linewidth=2 if heavy else 0.8, transform=sheet.place)
    sheet.figure.add_artist(line)
