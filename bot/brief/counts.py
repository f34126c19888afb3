"""Bars of counts, for looking back."""

from __future__ import annotations

from bot.brief.paint import GREY, WIDTH, Picture, Sheet, box, write
from bot.words.clean import cut

ROW, HEAD, NAMES, FIGURES = 18.0, 22.0, 150.0, 34.0
NAME = 30


def counted(title: str, counts: dict[str, int]) -> Picture:
    """One bar a name, the longest as wide as there is room."""
    most = max(counts.values(), default=0) or 1
    height = HEAD + ROW * max(1, len(counts))

    def paint(sheet: Sheet) -> None:
        write(sheet, 4, height - 10, title, bold=True)
        for number, (name, count) in enumerate(counts.items(), start=1):
            bottom = height - HEAD - ROW * number
            write(sheet, 4, bottom + ROW / 2, cut(name, NAME), size=8.5)
            width = max(1.0, (WIDTH - NAMES - FIGURES) * count / most)
            box(sheet, NAMES, bottom + 3, width, ROW - 6, fill=GREY)
            write(sheet, NAMES + width + 4, bottom + ROW / 2, str(count), size=9)

    said = "; ".join(f"{name} {count}" for name, count in counts.items())
    return Picture(title=title, alt=said, height=height, paint=paint)
