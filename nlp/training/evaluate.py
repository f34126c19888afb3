"""Scores the reader on one part of the corpus: `python -m nlp.training.evaluate --split dev --errors 5`."""

from __future__ import annotations

import json
from typing import Annotated

import typer

from nlp.reader import read
from nlp.training.annotated import Split, load_corpus
from nlp.training.scoring import Tally, score

_SHARES = (
    "kind", "urgent", "emergency", "language", "exact span", "triple", "no amount", "known", "optional",
    "choice", "no choice", "site", "main site", "contact", "recipes",
)  # fmt: skip
app = typer.Typer(add_completion=False)
_TEST_WARNING = "These are the test messages: read the figures at a release, and tune nothing to them."


def figures(tally: Tally) -> dict[str, float | int | None]:
    """The figures of a report by name: shares 0 to 1, None where nothing was asked; counts as they are."""
    precision = tally.ratio("lines found", "lines read")
    recall = tally.share("ingredient")
    both = (precision or 0) + (recall or 0)
    f1 = round(2 * (precision or 0) * (recall or 0) / both, 4) if both else None
    calm = tally.share("not urgent")
    return {
        "messages": tally.counts["kind"],
        "ingredients": tally.counts["ingredient"],
        "ingredient precision": precision,
        "ingredient recall": recall,
        "ingredient f1": f1,
        **{name: tally.share(name) for name in _SHARES},
        "urgent false": None if calm is None else round(1 - calm, 4),
    }


@app.command()
def main(
    split: Annotated[Split, typer.Option(help="Which part of the corpus.")] = Split.DEV,
    language: Annotated[str | None, typer.Option(help="Only messages in en, es, pt, fr or other.")] = None,
    errors: Annotated[int, typer.Option(min=0, help="How many cases of each class of error to show.")] = 0,
    as_json: Annotated[bool, typer.Option("--json", help="One JSON object instead of lines.")] = False,
) -> None:
    """Print the reader's scores on one part of the annotated corpus."""
    if split is Split.TEST:
        typer.echo(_TEST_WARNING, err=True)
    messages = (m for m in load_corpus(split) if language in (None, m.language))
    tally = score((message, read(message.text)) for message in messages)
    if as_json:
        typer.echo(json.dumps(figures(tally)))
    else:
        for name, value in figures(tally).items():
            typer.echo(f"{name:22}{'-' if value is None else value}")
    for name, cases in tally.errors.items():
        if errors:
            typer.echo(f"-- {name} ({len(cases)})")
        for where, said in cases[:errors]:
            typer.echo(f"   {where}  {said}")


if __name__ == "__main__":
    app()
