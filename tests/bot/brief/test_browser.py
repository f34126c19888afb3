"""The brief in a real browser: Debian's chromium, without a window. Run with: pytest -m browser -n 0"""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page, sync_playwright

from bot.brief.files import write_files
from rules.assessment import Jurisdiction
from tests.bot.brief.plans import FORTY, HOSTILE, LIP_TINT, LOTION, MARKUP, MIST, SHIMMER, TONER, case, plan

pytestmark = pytest.mark.browser
NEEDED = "these tests need Debian's browser: apt-get update && apt-get install -y chromium"
PLANS = {
    "episode": plan(
        [case(n, made) for n, made in enumerate((LIP_TINT, SHIMMER, TONER, LOTION), start=1)], note="A note"
    ),
    "hostile": plan([case(1, HOSTILE, name=MARKUP), None, case(3, MIST)], name=MARKUP * 2, note=MARKUP),
    "forty": plan([case(1, FORTY)], name="W" * 120),
    "empty": plan([]),
}
SIZES = {"phone": (360, 740), "desktop": (1280, 900)}


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    found = shutil.which("chromium")
    if found is None:
        pytest.fail(NEEDED)
    with sync_playwright() as engine:
        # Without the sandbox, which root may not use.
        opened = engine.chromium.launch(executable_path=found, args=["--no-sandbox"])
        yield opened
        opened.close()


@pytest.fixture(params=list(PLANS))
def file(request: pytest.FixtureRequest, tmp_path: Path) -> Path:
    return write_files(PLANS[request.param], {}, Jurisdiction.US, tmp_path)[0]


def opened(browser: Browser, file: Path, size: str, scheme: str) -> tuple[Page, list[str]]:
    """The page, and everything that it complained of, asked for, or ran."""
    width, height = SIZES[size]
    page = browser.new_page(viewport={"width": width, "height": height}, color_scheme=scheme)  # type: ignore[arg-type]
    trouble: list[str] = []
    page.on("console", lambda message: trouble.append(message.text))
    page.on("pageerror", lambda error: trouble.append(str(error)))
    page.on("dialog", lambda dialog: trouble.append(dialog.message))
    page.on("request", lambda request: trouble.append(request.url) if not known(request.url, file) else None)
    page.goto(file.as_uri())
    return page, trouble


def known(address: str, file: Path) -> bool:
    return address == file.as_uri() or address.startswith("data:image/svg+xml")


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("size", list(SIZES))
def test_the_page_fits_and_is_quiet_and_open_to_everybody(browser: Browser, file: Path, size: str, scheme: str) -> None:
    page, trouble = opened(browser, file, size, scheme)
    assert page.evaluate("document.documentElement.scrollWidth") <= SIZES[size][0]
    assert page.evaluate("[...document.images].every(image => image.complete && image.naturalWidth > 0)")
    violations = Axe().run(page).response["violations"]
    assert [(found["id"], found["nodes"][0]["html"]) for found in violations] == []
    assert trouble == []
    page.close()


def test_the_page_prints_and_leaves_the_menu_out(browser: Browser, file: Path) -> None:
    page, _ = opened(browser, file, "desktop", "light")
    page.emulate_media(media="print")
    for part in page.query_selector_all("nav, .back"):
        assert not part.is_visible()
    assert page.pdf(format="A4").startswith(b"%PDF")
    page.close()


def test_the_keyboard_reaches_the_first_recipe(browser: Browser, tmp_path: Path) -> None:
    file = write_files(PLANS["episode"], {}, Jurisdiction.US, tmp_path)[0]
    page, _ = opened(browser, file, "desktop", "light")
    page.keyboard.press("Tab")
    page.wait_for_function("document.activeElement.className === 'skip'", timeout=5000)
    page.keyboard.press("Enter")
    page.wait_for_function("location.hash === '#s1'", timeout=5000)
    page.close()
