"""What a brief says, and that nothing in it can do harm."""

from __future__ import annotations

import re
from html.parser import HTMLParser
from pathlib import Path

import pytest

from bot.brief.compose import compose
from bot.brief.files import write_files
from bot.brief.render import html, markdown
from bot.episode import Plan
from bot.queue.rulings import Ruling
from bot.words.phrases import load_phrases
from rules.assessment import Jurisdiction, Verdict
from tests.bot.brief.plans import FORTY, HOSTILE, LIP_TINT, LOTION, MARKUP, MIST, RTL, SHIMMER, case, golden_plan, plan

WORDS = load_phrases()
GOLDEN = Path(__file__).with_name("golden.md")


def both(made: Plan, rulings: dict[int, Ruling] | None = None) -> tuple[str, str]:
    brief = compose(made, rulings or {}, Jurisdiction.US, WORDS)
    return html(brief, WORDS), markdown(brief, WORDS)


class Tags(HTMLParser):
    """Collects what a browser would act on."""

    def __init__(self) -> None:
        super().__init__()
        self.found: list[tuple[str, dict[str, str | None]]] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.found.append((tag, dict(attrs)))


def tags(page: str) -> list[tuple[str, dict[str, str | None]]]:
    reader = Tags()
    reader.feed(page)
    return reader.found


def test_the_text_of_one_episode_is_as_it_was_read_and_approved() -> None:
    assert both(golden_plan())[1] == GOLDEN.read_text("utf-8")


def test_a_page_asks_for_nothing_and_runs_nothing() -> None:
    page, _ = both(plan([case(1, LIP_TINT), case(2, SHIMMER), case(3, LOTION), case(4, HOSTILE)]))
    for tag, attributes in tags(page):
        assert tag not in ("script", "iframe", "object", "embed", "link", "base", "form")
        assert not [name for name in attributes if name.startswith("on")]
        if tag == "img":
            assert (attributes["src"] or "").startswith("data:image/svg+xml;base64,")
            assert attributes["alt"]
        if tag == "a":
            assert (attributes["href"] or "").startswith(("#", "https://"))
    assert "@import" not in page
    assert "url(" not in page


def test_names_with_markup_or_turned_direction_are_inert_in_both_forms() -> None:
    ruling = Ruling(case=1, verdict=Verdict.FIX, words=MARKUP)
    page, text = both(plan([case(1, HOSTILE, name=MARKUP + RTL)], name=MARKUP + RTL, note=MARKUP + RTL), {1: ruling})
    assert [tag for tag, attributes in tags(page) if tag == "img" and attributes.get("src") == "x"] == []
    assert not re.search(r"[\u202a-\u202e\u2066-\u2069]", page + text)
    assert not re.search(r"(?<!\\)\]\(javascript", text)
    assert "<img" not in text
    assert "مسحوق" in page


def test_a_pipe_in_a_name_does_not_break_the_table() -> None:
    _, text = both(plan([case(1, HOSTILE)]))
    rows = [row for row in text.splitlines() if row.startswith("| ")]
    assert {len(re.findall(r"(?<!\\)\|", row)) for row in rows} == {6}


def test_an_empty_episode_says_how_to_fill_it() -> None:
    for text in both(plan([])):
        assert "watchglass episode add 1" in text


def test_a_recipe_that_was_deleted_leaves_a_sane_segment() -> None:
    for text in both(plan([None, case(2, MIST)])):
        assert WORDS.raw("brief", "gone") in text
        assert "rose" not in text


def test_every_one_of_forty_ingredients_stands_in_the_table() -> None:
    page, text = both(plan([case(1, FORTY)]))
    for number in range(39):
        assert f"hill number {number}" in page
        assert f"hill number {number} " in text


def test_the_creators_own_ruling_is_said() -> None:
    ruling = Ruling(case=1, verdict=Verdict.AVOID, words="Not on my bench.")
    for text in both(plan([case(1, MIST)]), {1: ruling}):
        assert "Not on my bench." in text


def test_what_is_unknown_or_guessed_is_said_openly() -> None:
    unknown = case(1, HOSTILE)
    _, text = both(plan([unknown]))
    assert "not in the tables" in text


def test_colours_are_held_against_both_laws_by_place() -> None:
    _, text = both(plan([case(1, SHIMMER)]))
    assert "the United States" in text.split(WORDS.raw("brief", "colours"))[1]
    assert "the European Union" in text.split(WORDS.raw("brief", "colours"))[1]


def test_both_files_are_written_and_written_again(tmp_path: Path) -> None:
    made = plan([case(1, MIST)])
    folder = tmp_path / "new" / "folder"
    first = write_files(made, {}, Jurisdiction.US, folder)
    before = [path.read_bytes() for path in first]
    assert [path.name for path in first] == ["episode-1.html", "episode-1.md"]
    assert [path.read_bytes() for path in write_files(made, {}, Jurisdiction.US, folder)] == before


@pytest.mark.parametrize("region", list(Jurisdiction))
def test_the_page_names_its_law_and_its_cautions(region: Jurisdiction) -> None:
    page = html(compose(plan([case(1, MIST)]), {}, region, WORDS), WORDS)
    assert WORDS.raw("region", region) in page
    assert "Not medical advice" in page
