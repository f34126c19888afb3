"""What each phrase of [instead] tells people to do, as a change of the recipe that can be judged again."""

from __future__ import annotations

from collections.abc import Callable

from rules.assess import assess
from rules.assessment import Finding
from rules.interval import Interval
from rules.recipe import Amount, Circumstance, Keeping, Line, Recipe, Unit
from tests.scenario import line_of

Change = Callable[[Recipe, Finding], Recipe]


def key(finding: Finding) -> tuple[object, ...]:
    """What makes two findings the same fault."""
    return (finding.reason, finding.substance, finding.limit)


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


def as_much_as_named(recipe: Recipe, finding: Finding) -> Recipe:
    """The line at the grams that the advice names."""
    assert finding.line is not None
    grams = float(finding.facts["grams"])
    amount = Amount(quantity=Interval.exact(grams), unit=Unit.G, written=(grams, grams))
    lines = list(recipe.lines)
    lines[finding.line] = lines[finding.line].model_copy(update={"amount": amount})
    return with_lines(recipe, *lines)


def to_limit(recipe: Recipe, finding: Finding) -> Recipe:
    """Less of it until it is well below its limit: what is most of a recipe shrinks the whole with it."""
    assert finding.limit is not None
    for _ in range(6):
        same = [f for f in assess(recipe).findings if key(f) == key(finding)]
        if not same or same[0].value is None or same[0].value.best <= finding.limit.best:
            break
        recipe = thin(0.7 * finding.limit.best / same[0].value.best)(recipe, finding)
    return recipe


def _by_little(adjuster: str, low: float, high: float) -> Change:
    """Drop by drop, measured: a little of the batch, then a little more, until the pH is in the advised range."""

    def change(recipe: Recipe, finding: Finding) -> Recipe:
        grams = sum(s.grams.best for s in assess(recipe).shares if s.grams is not None)
        unit, batch = (Unit.G, grams) if grams else (Unit.PERCENT, 100.0)
        for step in range(35):
            amount = batch * 1e-4 * 1.3**step
            mixed = with_lines(recipe, *recipe.lines, line_of(f"{amount:.6f} {unit.value} {adjuster}"))
            ph = assess(mixed).measures.ph
            if ph is not None and low <= ph.best <= high:
                return mixed
        raise AssertionError(
            f"no amount of {adjuster} brings it to pH {low} to {high}: {[li.as_written for li in recipe.lines]}"
        )

    return change


def dilute(recipe: Recipe, finding: Finding) -> Recipe:
    """A tablespoon in a cup of water."""
    assert finding.line is not None
    sour = recipe.lines[finding.line].substance
    kept = [line for i, line in enumerate(recipe.lines) if i != finding.line and line.substance != "water"]
    return with_lines(recipe, *kept, line_of(f"1 tbsp {sour}"), line_of("1 cup water"))


def open_bowl(recipe: Recipe, finding: Finding) -> Recipe:
    said = recipe.circumstances - {Circumstance.CLOSED_CONTAINER}
    return recipe.model_copy(update={"circumstances": said, "keeping": Keeping.SINGLE_USE})


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
    "leave_it_open": open_bowl,
    "raise_ph": _by_little("sodium_bicarbonate", 3.6, 5.0),
    "lower_ph": _by_little("citric_acid", 5.0, 6.0),
    "dilute_acid": dilute,
    "less_lye": as_much_as_named,
}
# What sends people to a shop, a professional or another way of handling: nothing to judge again.
ELSEWHERE = {
    "eye_make_it_dry", "buy_sterile", "buy_tested_sunscreen", "buy_tested_antiseptic", "ask_a_professional",
    "finished_nail_product", "away_from_flame", "use_finished_product", "plain_toothpaste", "powder_low_dust",
    "mild_surfactant_bought",
}  # fmt: skip
