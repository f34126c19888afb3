"""The right row is taken for the place, the product and the region."""

from __future__ import annotations

from datetime import date

from rules.assessment import Jurisdiction
from rules.catalogue import load_catalogue
from rules.law import load_law, place
from rules.law.law import build_law
from rules.recipe import Contact, Site

EU = Jurisdiction.EU


def percents(
    substance: str, *sites: Site, contact: Contact = Contact.LEAVE_ON, product: str | None = None
) -> list[float]:
    return [row.percent for row in load_law().limits(substance, EU, sites, contact, product)]


def test_a_row_for_the_product_goes_before_one_for_the_place() -> None:
    assert percents("salicylic_acid", Site.BODY, product="lotion") == [0.5]
    assert percents("salicylic_acid", Site.BODY) == [2.0]


def test_a_row_for_the_place_goes_before_the_general_one() -> None:
    assert percents("methyl_salicylate", Site.LIPS) == [0.03]
    assert percents("methyl_salicylate", Site.HAIR) == [0.06]


def test_rinsing_off_takes_its_own_row() -> None:
    assert percents("sodium_benzoate", Site.BODY, contact=Contact.RINSE_OFF) == [2.5]
    assert percents("sodium_benzoate", Site.BODY) == [0.5]


def test_mouth_counts_with_the_lips_and_everything_else_as_external() -> None:
    assert [place(s) for s in (Site.MOUTH, Site.LIPS, Site.EYE_AREA, Site.NAILS)] == [
        "lips",
        "lips",
        "eye_area",
        "external",
    ]


def test_the_united_kingdom_falls_back_on_the_eu() -> None:
    assert load_law().limits("ammonia", Jurisdiction.UK, (Site.HAIR,), Contact.RINSE_OFF, None)
    assert load_law().bans_in("borax", Jurisdiction.UK)


def test_colours_offered_as_the_safer_way_are_listed_there() -> None:
    law = load_law()
    for site in (Site.LIPS, Site.EYE_AREA, Site.FACE):
        offered = law.colours_allowed(site, Jurisdiction.US)
        assert "mica" in offered
        assert "activated_charcoal" not in offered
    assert "ultramarine_blue" not in law.colours_allowed(Site.LIPS, Jurisdiction.US)


def test_a_row_counts_only_while_it_is_in_force() -> None:
    """Regulation (EU) 2026/78 bans nano silver from 2026-05-01 (note read); retinol rows start 2025-11-01."""
    before = build_law(load_catalogue(), date(2025, 6, 1))
    after = build_law(load_catalogue(), date(2026, 6, 1))
    assert not before.bans_in("colloidal_silver", EU)
    assert after.bans_in("colloidal_silver", EU)
    assert not before.limits("retinol", EU, (Site.FACE,), Contact.LEAVE_ON, None)
    assert after.limits("retinol", EU, (Site.FACE,), Contact.LEAVE_ON, None)
