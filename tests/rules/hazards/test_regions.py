"""What is not allowed in the EU is said to somebody in the EU, by its own rows and in its own units."""

from __future__ import annotations

from datetime import date

import pytest

from rules.assess import assess
from rules.assessment import Assessment, Jurisdiction, Severity
from rules.catalogue import load_catalogue
from rules.law.law import build_law
from tests.scenario import recipe_of


def judged(region: Jurisdiction, of: str, *lines: str) -> Assessment:
    return assess(recipe_of({"of": of, "lines": list(lines)}), region)


def gravity(result: Assessment, substance: str) -> set[Severity]:
    reasons = {"prohibited_here", "over_limit"}
    return {f.severity for f in result.findings if f.substance == substance and f.reason in reasons}


# Annex II and III entries as our law tables name them.
@pytest.mark.parametrize("region", [Jurisdiction.EU, Jurisdiction.UK])
@pytest.mark.parametrize(
    ("of", "lines", "substance"),
    [
        ("face_cream", ("96 g petroleum_jelly", "4 g borax"), "borax"),
        ("face_oil", ("90 g jojoba_oil", "10 g hydroquinone"), "hydroquinone"),
        ("muscle_rub", ("98 g shea_butter", "2 g methyl_salicylate"), "methyl_salicylate"),
        ("face_oil", ("99 g jojoba_oil", "1 g retinol"), "retinol"),
    ],
)
def test_the_european_rows_speak_in_europe(
    region: Jurisdiction, of: str, lines: tuple[str, ...], substance: str
) -> None:
    assert gravity(judged(region, of, *lines), substance) & {Severity.FIX, Severity.AVOID}


# Regulations (EU) 2025/877 and 2026/78: after the end of 2020, so not the law of Great Britain by themselves.
@pytest.mark.parametrize(
    ("of", "lines", "substance"),
    [
        ("artificial_nail", ("99 g mica", "1 g tpo"), "tpo"),
        ("toner", ("80 g water", "20 g colloidal_silver"), "colloidal_silver"),
    ],
)
def test_a_new_ban_of_the_eu_is_law_there_and_told_as_the_eus_in_the_uk(
    of: str, lines: tuple[str, ...], substance: str
) -> None:
    assert gravity(judged(Jurisdiction.EU, of, *lines), substance) & {Severity.FIX, Severity.AVOID}
    british = judged(Jurisdiction.UK, of, *lines)
    told = [f for f in british.findings if f.substance == substance and f.reason == "prohibited_elsewhere"]
    assert [f.facts["where"] for f in told] == ["EU"]


def test_borax_is_a_note_where_it_is_lawful() -> None:
    result = judged(Jurisdiction.US, "face_cream", "98 g petroleum_jelly", "2 g borax")
    assert not gravity(result, "borax")
    assert any(f.reason == "prohibited_elsewhere" for f in result.findings)


@pytest.mark.parametrize(
    ("substance", "before", "after"),
    [
        ("tpo", date(2025, 8, 31), date(2025, 9, 1)),  # Regulation (EU) 2025/877
        ("colloidal_silver", date(2026, 4, 30), date(2026, 5, 1)),  # Regulation (EU) 2026/78
    ],
)
def test_a_ban_holds_from_its_day_on(substance: str, before: date, after: date) -> None:
    catalogue = load_catalogue()
    assert not build_law(catalogue, before).bans_in(substance, Jurisdiction.EU)
    assert build_law(catalogue, after).bans_in(substance, Jurisdiction.EU)


@pytest.mark.parametrize(
    ("lines", "substance", "before", "after"),
    [
        (("80 g water", "20 g colloidal_silver"), "colloidal_silver", date(2026, 4, 30), date(2026, 5, 1)),
        (("99 g jojoba_oil", "1 g retinol"), "retinol", date(2025, 10, 31), date(2025, 11, 1)),  # (EU) 2024/996
    ],
)
def test_a_recipe_is_judged_by_the_law_of_the_day_that_is_asked_for(
    lines: tuple[str, ...], substance: str, before: date, after: date
) -> None:
    recipe = recipe_of({"of": "face_oil", "lines": list(lines)})
    assert not gravity(assess(recipe, Jurisdiction.EU, before), substance)
    assert gravity(assess(recipe, Jurisdiction.EU, after), substance)


def test_retinyl_palmitate_is_counted_as_retinol() -> None:
    """0.3 % retinol equivalents is 0.55 % of the palmitate (286.5 / 524.9 g/mol)."""
    under = judged(Jurisdiction.EU, "face_oil", "99.5 percent jojoba_oil", "0.5 percent retinyl_palmitate")
    over = judged(Jurisdiction.EU, "face_oil", "99.4 percent jojoba_oil", "0.6 percent retinyl_palmitate")
    assert not gravity(under, "retinyl_palmitate")
    assert gravity(over, "retinyl_palmitate")
