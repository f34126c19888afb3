"""Verdicts that turn on a published line: ISO 29621, the acid review, the sunscreen study, labels."""

from __future__ import annotations

import pytest

from rules.assess import assess
from rules.assessment import Assessment, Hazard, Verdict
from tests.scenario import recipe_of


def judged(of: str, *lines: str, **more: object) -> Assessment:
    return assess(recipe_of({"of": of, "lines": list(lines), **more}))


def hazards(result: Assessment) -> set[Hazard]:
    return {f.hazard for f in result.findings if f.severity.value != "note"}


# ISO 29621 low-risk criteria as listed by a laboratory FAQ, read: ethanol above 20 %, water activity below
# 0.75, pH below 3 or above 10, no free water. Each pair: just inside and well outside.
LOW_RISK = [
    ("body_mist", ("60 g ethanol", "40 g water"), True),
    ("body_mist", ("10 g ethanol", "90 g water"), False),
    ("serum", ("80 g glycerin", "20 g water"), True),
    ("serum", ("10 g glycerin", "90 g water"), False),
    ("body_oil", ("100 g sunflower_oil",), True),
    ("lotion_bar", ("50 g beeswax", "50 g shea_butter"), True),
    ("toner", ("100 g water",), False),
    ("hair_gel", ("97 g water", "3 g sodium_chloride"), False),
]


@pytest.mark.parametrize(("of", "lines", "safe"), LOW_RISK, ids=[" + ".join(row[1]) for row in LOW_RISK])
def test_iso_29621_decides_whether_water_needs_a_preservative(of: str, lines: tuple[str, ...], safe: bool) -> None:
    assert (Hazard.NEEDS_PRESERVATIVE not in hazards(judged(of, *lines))) == safe


# Use-up doses from annex V and common practice, remembered; a tenth of the dose must not pass.
@pytest.mark.parametrize(("percent", "enough"), [(1.0, True), (0.8, True), (0.1, False), (0.05, False)], ids=str)
def test_a_dose_of_the_usual_blend_is_told_from_a_tenth_of_it(percent: float, enough: bool) -> None:
    result = judged("toner", f"{99 - percent} percent water", f"{percent} percent phenoxyethanol_ethylhexylglycerin")
    assert (Hazard.NEEDS_PRESERVATIVE not in hazards(result)) == enough


# CIR 1998, reaffirmed 2017; FDA guidance 2005, read: not below pH 3.5 left on.
@pytest.mark.parametrize("acid", ["glycolic_acid", "lactic_acid", "malic_acid", "tartaric_acid"])
def test_an_unbuffered_home_acid_is_sent_back(acid: str) -> None:
    result = judged("serum", f"8 percent {acid}", "92 percent water")
    assert Hazard.PH_TOO_LOW in hazards(result)


# News report of the study in Health Communication (2019), read: 68.3 % insufficient; 21 CFR 700.35.
@pytest.mark.parametrize("filter_", ["zinc_oxide", "titanium_dioxide", "carrot_root_oil", "raspberry_seed_oil"])
def test_no_home_sunscreen_is_ever_endorsed(filter_: str) -> None:
    result = judged("sunscreen", "80 g shea_butter", f"20 g {filter_}")
    assert result.verdict is Verdict.AVOID
    assert Hazard.UNPROVEN_SUN_PROTECTION in hazards(result)


# FDA advice on novelty make-up, reprint read: nothing on the face that is not meant for skin.
@pytest.mark.parametrize(
    "craft",
    ["crayon", "chalk", "oil_pastel", "acrylic_paint", "tempera_paint", "marker", "glow_paint", "candle_dye"],
)
@pytest.mark.parametrize("of", ["lipstick", "eyeshadow", "face_paint"])
def test_craft_colour_is_never_worn(of: str, craft: str) -> None:
    assert judged(of, f"5 g {craft}", "10 g coconut_oil").verdict is Verdict.AVOID


# Drug-facts label of capsaicin cream, read: keep from eyes and mucous membranes.
@pytest.mark.parametrize("hot", ["cayenne", "chili_powder", "capsaicin_cream"])
def test_capsaicin_is_kept_from_lips(hot: str) -> None:
    assert judged("lip_plumper", f"1 g {hot}", "20 g petroleum_jelly").verdict is Verdict.AVOID


# Northern New England Poison Center on bleach, read.
@pytest.mark.parametrize("partner", ["vinegar", "lemon_juice", "citric_acid", "ammonia_cleaner"])
def test_bleach_is_never_mixed(partner: str) -> None:
    result = judged("foot_soak", "50 g bleach", f"50 g {partner}", "1 l water")
    assert result.verdict is Verdict.AVOID
    assert Hazard.REACTIVE in hazards(result)


# Wounds 29(12):E118, abstract read: lemon juice and sun burned a child's skin.
@pytest.mark.parametrize("juice", ["lemon_juice", "lime_juice", "lemon", "lime"])
def test_citrus_juice_before_sun_is_refused(juice: str) -> None:
    result = judged("hair_lightener", f"100 g {juice}", "100 g water", **{"with": ["sun_after"]})
    assert result.verdict is Verdict.AVOID


# FDA safety communication of 2021-10-08, read: fillers are for prescription use, never injected by oneself.
def test_nothing_home_made_goes_under_the_skin() -> None:
    assert judged("injectable", "10 ml hyaluronic_acid_serum").verdict is Verdict.AVOID
    assert judged("serum", "10 g glycerin", **{"with": ["needle"]}).verdict is Verdict.AVOID


# FDA letter of 1989 on homemade saline, read.
@pytest.mark.parametrize("of", ["eye_drops", "lens_solution"])
def test_what_has_to_be_sterile_is_not_made_at_home(of: str) -> None:
    assert judged(of, "250 g water", "2.25 g sodium_chloride").verdict is Verdict.AVOID


# Am J Ophthalmol 84:112 (1977), abstract read: corneal ulcers from contaminated mascara.
@pytest.mark.parametrize("of", ["mascara", "eye_cream", "lash_serum"])
def test_unpreserved_water_at_the_eye_is_refused(of: str) -> None:
    result = judged(of, "80 g water", "10 g glycerin", "1 g xanthan_gum")
    assert result.verdict is Verdict.AVOID
    assert Hazard.NEEDS_PRESERVATIVE in hazards(result)
