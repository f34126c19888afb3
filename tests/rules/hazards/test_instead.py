"""The safer way is itself judged: a recipe changed as we advise no longer has the fault."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from rules.assess import assess
from rules.assessment import Finding, Severity
from rules.interval import Interval
from rules.recipe import Keeping, Line, Recipe, Site
from tests.scenario import line_of, recipe_of, rows

Change = Callable[[Recipe, Finding], Recipe]


def with_lines(recipe: Recipe, *lines: Line) -> Recipe:
    return recipe.model_copy(update={"lines": lines})


def leave_out(recipe: Recipe, finding: Finding) -> Recipe:
    return with_lines(recipe, *(line for i, line in enumerate(recipe.lines) if i != finding.line))


def swap(name: str) -> Change:
    def change(recipe: Recipe, finding: Finding) -> Recipe:
        lines = [
            line.model_copy(update={"substance": name, "qualities": frozenset()}) if i == finding.line else line
            for i, line in enumerate(recipe.lines)
        ]
        return with_lines(recipe, *lines)

    return change


def thin(share: float) -> Change:
    """The line at `share` of its amount."""

    def change(recipe: Recipe, finding: Finding) -> Recipe:
        lines = list(recipe.lines)
        assert finding.line is not None
        line = lines[finding.line]
        assert line.amount is not None
        amount = line.amount.model_copy(update={"quantity": line.amount.quantity.scaled(share)})
        lines[finding.line] = line.model_copy(update={"amount": amount})
        return with_lines(recipe, *lines)

    return change


def to_limit(recipe: Recipe, finding: Finding) -> Recipe:
    assert finding.value is not None
    assert finding.limit is not None
    return thin(0.7 * finding.limit.best / finding.value.best)(recipe, finding)


def preserve(recipe: Recipe, finding: Finding) -> Recipe:
    """One per cent of the blend that the phrase names, of the whole by weight."""
    total = assess(recipe).shares
    grams = sum(s.grams.best for s in total if s.grams is not None)
    if grams == 0:
        grams = 99.0
        return with_lines(recipe, *recipe.lines, line_of("1.2 percent phenoxyethanol_ethylhexylglycerin"))
    dose = line_of(f"{grams * 0.0125:.3f} g phenoxyethanol_ethylhexylglycerin")
    kept = [line for line in recipe.lines if line.substance != "potassium_sorbate"]
    return with_lines(recipe, *kept, dose)


def emulsify(recipe: Recipe, finding: Finding) -> Recipe:
    result = assess(recipe)
    grams = sum(s.grams.best for s in result.shares if s.grams is not None)
    assert result.measures.oil_percent is not None
    wax = grams * result.measures.oil_percent.best / 100 * 0.25
    return with_lines(recipe, *recipe.lines, line_of(f"{wax:.2f} g emulsifying_wax"))


def solubilise(recipe: Recipe, finding: Finding) -> Recipe:
    assert finding.line is not None
    scent = recipe.lines[finding.line].amount
    assert scent is not None
    assert scent.unit is not None
    solubiliser = line_of(f"{scent.quantity.best * 5} {scent.unit.value} polysorbate_20")
    return with_lines(recipe, *recipe.lines, solubiliser)


def make_one_use(recipe: Recipe, finding: Finding) -> Recipe:
    return recipe.model_copy(update={"keeping": Keeping.SINGLE_USE})


# What each phrase of [instead] tells people to do, as a change that we can carry out and judge again.
CHANGES: dict[str, Change] = {
    "use_up_or_preserve": preserve,
    "make_one_use": make_one_use,
    "use_listed_colour": swap("iron_oxide_red"),
    "leave_it_out": leave_out,
    "leave_scent_out": leave_out,
    "leave_spice_out": leave_out,
    "leave_juice_out": leave_out,
    "use_cosmetic_kind": leave_out,
    "thicken_or_pump": leave_out,
    "fine_cosmetic_powder": swap("mica"),
    "round_scrub_grain": swap("jojoba_beads"),
    "citrus_oil_without_furanocoumarins": swap("sweet_orange_essential_oil"),
    "use_less": to_limit,
    "use_fewer_drops": to_limit,
    "less_soda": thin(0.05),
    "mild_surfactant": swap("decyl_glucoside"),
    "add_emulsifier": emulsify,
    "solubilise_scent": solubilise,
    "mix_peroxide_at_use": leave_out,
}
# What sends people to a shop, a professional or another way of handling: nothing to judge again.
ELSEWHERE = {
    "eye_make_it_dry", "buy_sterile", "buy_tested_sunscreen", "buy_tested_antiseptic", "ask_a_professional",
    "finished_nail_product", "raise_ph", "dilute_acid", "lower_ph", "leave_it_open", "away_from_flame",
    "use_finished_product", "plain_toothpaste", "powder_low_dust",
}  # fmt: skip


def faults() -> list[Any]:
    found = []
    for row in rows():
        recipe = recipe_of(row)
        for finding in assess(recipe).findings:
            if finding.severity is not Severity.NOTE and finding.condition is None:
                name = f"{row['id']}-{finding.reason}"
                found.append(pytest.param(recipe, finding, id=name))
    return found


@pytest.mark.parametrize(("recipe", "finding"), faults())
def test_doing_what_we_advise_takes_the_fault_away(recipe: Recipe, finding: Finding) -> None:
    if finding.instead in ELSEWHERE:
        return
    after = assess(CHANGES[finding.instead](recipe, finding))
    left = [f for f in after.findings if f.reason == finding.reason and f.substance == finding.substance]
    assert all(f.severity is Severity.NOTE for f in left), [(f.reason, f.value) for f in left]


@pytest.mark.parametrize("site", [Site.LIPS, Site.EYE_AREA, Site.FACE])
def test_each_colour_that_we_name_as_allowed_passes_there(site: Site) -> None:
    for colour in ("iron_oxide_red", "iron_oxide_black", "mica", "carmine", "titanium_dioxide"):
        recipe = Recipe(
            lines=(line_of("10 g beeswax"), line_of(f"1 g {colour}"), line_of("20 g castor_oil")),
            sites=(site,),
            product="lipstick" if site is Site.LIPS else "eyeliner",
        )
        result = assess(recipe)
        assert [f.reason for f in result.findings if f.severity is not Severity.NOTE] == []


def test_a_waterless_eye_colour_is_as_good_as_we_say() -> None:
    liner = recipe_of({"of": "eyeliner", "lines": ["5 g beeswax", "10 g castor_oil", "4 g iron_oxide_black"]})
    assert assess(liner).verdict.value == "fine"


def test_the_advised_ph_is_not_found_at_fault() -> None:
    """Lactic acid brought to about pH 4 with its own salt."""
    serum = recipe_of(
        {
            "of": "serum",
            "lines": [
                "2 percent lactic_acid",
                "5 percent sodium_lactate",
                "92 percent water",
                "1 percent phenoxyethanol_ethylhexylglycerin",
            ],
        }
    )
    result = assess(serum)
    assert result.measures.ph is not None
    assert result.measures.ph.best == pytest.approx(4.1, abs=0.5)
    assert [f.reason for f in result.findings if f.severity is not Severity.NOTE] == []


def test_scaling_keeps_an_interval_honest() -> None:
    assert Interval(1, 2, 3).scaled(0.5) == Interval(0.5, 1, 1.5)
