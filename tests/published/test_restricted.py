"""Ceilings and bans against the regulation that sets them. "memory" beside a row = not re-read."""

from __future__ import annotations

from datetime import date

import pytest

from rules.assessment import Basis, Jurisdiction
from rules.law import load_law
from rules.recipe import Contact, Site

EU, US, UK = Jurisdiction.EU, Jurisdiction.US, Jurisdiction.UK
LEAVE, RINSE = Contact.LEAVE_ON, Contact.RINSE_OFF

# substance, region, site, contact, percent; source of the figure beside each group
LIMITS = [
    # Regulation (EU) 2019/831 annex, entry III/12, read: hydrogen peroxide
    ("hydrogen_peroxide", EU, Site.HAIR, RINSE, 12.0),
    ("hydrogen_peroxide", EU, Site.FACE, LEAVE, 4.0),
    ("hydrogen_peroxide", EU, Site.HANDS, LEAVE, 4.0),
    ("hydrogen_peroxide", EU, Site.NAILS, LEAVE, 2.0),
    ("hydrogen_peroxide", EU, Site.MOUTH, RINSE, 0.1),
    # Regulation (EU) 2024/996, annex table as summarised, read
    ("retinol", EU, Site.BODY, LEAVE, 0.05),
    ("retinol", EU, Site.FACE, LEAVE, 0.3),
    ("kojic_acid", EU, Site.FACE, LEAVE, 1.0),
    ("alpha_arbutin", EU, Site.FACE, LEAVE, 2.0),
    ("alpha_arbutin", EU, Site.BODY, LEAVE, 0.5),
    ("arbutin", EU, Site.FACE, LEAVE, 7.0),
    # III/98 (2019/1966), read: it excepts lips and eyes from its 2 %; V/3, read, allows 0.5 % everywhere
    ("salicylic_acid", EU, Site.HAIR, RINSE, 3.0),
    ("salicylic_acid", EU, Site.FACE, LEAVE, 2.0),
    ("salicylic_acid", EU, Site.LIPS, LEAVE, 0.5),
    ("salicylic_acid", EU, Site.EYE_AREA, LEAVE, 0.5),
    # European Commission annex III list page, read
    ("thioglycolic_acid", EU, Site.HAIR, RINSE, 8.0),
    ("ammonia", EU, Site.HAIR, RINSE, 6.0),
    # Regulation (EU) 2022/1531, table read: methyl salicylate, of which wintergreen oil nearly consists
    ("methyl_salicylate", EU, Site.BODY, LEAVE, 0.06),
    ("methyl_salicylate", EU, Site.LIPS, LEAVE, 0.03),
    ("methyl_salicylate", EU, Site.EYE_AREA, LEAVE, 0.002),
    ("methyl_salicylate", EU, Site.MOUTH, RINSE, 2.52),
    ("wintergreen_essential_oil", EU, Site.BODY, LEAVE, 0.06),
    ("wintergreen_essential_oil", EU, Site.LIPS, LEAVE, 0.03),
    # Regulation (EU) 2016/622, entries III/15a and 15d, read
    ("sodium_hydroxide", EU, Site.NAILS, RINSE, 5.0),
    ("sodium_hydroxide", EU, Site.HAIR, RINSE, 2.0),
    ("potassium_hydroxide", EU, Site.FEET, RINSE, 1.5),
    # Regulation (EU) 2026/78 (III/380), consultancy note read
    # CIR 1998, reaffirmed 2017, and FDA guidance of 2005, read: alpha hydroxy acids
    ("glycolic_acid", US, Site.FACE, LEAVE, 10.0),
    ("lactic_acid", US, Site.FACE, LEAVE, 10.0),
    ("mandelic_acid", US, Site.FACE, LEAVE, 10.0),
    ("malic_acid", US, Site.FACE, LEAVE, 10.0),
    # The directive's annex III as France wrote it into law, entries 15c, 22, 49, 62, read
    ("calcium_hydroxide", EU, Site.HAIR, RINSE, 7.0),
    ("resorcinol", EU, Site.HAIR, RINSE, 0.5),
    ("selenium_sulfide", EU, Site.HAIR, RINSE, 1.0),
    ("triethanolamine", EU, Site.BODY, LEAVE, 2.5),
    # 21 CFR 333.310, read: acne products, a drug
    ("salicylic_acid", US, Site.FACE, LEAVE, 2.0),
    ("sulfur", US, Site.FACE, LEAVE, 10.0),
    ("benzoyl_peroxide", US, Site.FACE, LEAVE, 10.0),
    ("resorcinol", US, Site.FACE, LEAVE, 2.0),
    # SI 2024/1334, trade association's summary read
    ("kojic_acid", UK, Site.FACE, LEAVE, 1.0),
    # SCCS/1681/25 on tea tree oil, opinion, read
    ("tea_tree_essential_oil", EU, Site.FACE, LEAVE, 0.1),
    ("tea_tree_essential_oil", EU, Site.FACE, RINSE, 1.0),
]


@pytest.mark.parametrize(
    ("substance", "region", "site", "contact", "percent"),
    LIMITS,
    ids=[f"{row[0]}-{row[1].value}-{row[2].value}-{row[3].value}" for row in LIMITS],
)
def test_a_ceiling_is_the_figure_of_the_regulation(
    substance: str, region: Jurisdiction, site: Site, contact: Contact, percent: float
) -> None:
    rows = load_law().limits(substance, region, (site,), contact, None)
    assert [row.percent for row in rows][:1] == [percent]


# What the law counts, as a share of the substance: molar masses, g/mol, from memory.
FACTORS = [
    ("sodium_benzoate", 122.12 / 144.10),  # as benzoic acid, J. Cosmet. Sci. facts: 0.847
    ("potassium_sorbate", 112.13 / 150.22),  # as sorbic acid: 0.746
    ("sodium_dehydroacetate", 168.15 / 190.13),  # as dehydroacetic acid
    ("retinyl_palmitate", 286.45 / 524.86),  # as retinol
    ("retinyl_acetate", 286.45 / 328.49),
    ("potassium_hydroxide", 40.00 / 56.11),  # as NaOH
]


@pytest.mark.parametrize(("substance", "factor"), FACTORS, ids=[row[0] for row in FACTORS])
def test_a_salt_counts_as_the_law_counts_it(substance: str, factor: float) -> None:
    site = Site.FEET if substance == "potassium_hydroxide" else Site.FACE
    rows = load_law().limits(substance, EU, (site,), LEAVE, None)
    assert rows
    assert rows[0].factor == pytest.approx(factor, rel=0.003)


# substance, region, source of the ban
BANS = [
    ("bithionol", US),  # 21 CFR 700.11, read
    ("phenylmercuric_acetate", US),  # 21 CFR 700.13, read
    ("thimerosal", US),
    ("hexachlorophene", US),  # 21 CFR 250.250, read
    ("lead_acetate", US),  # listing ended, effective 2022-01-06, FDA page read
    ("hydroquinone", US),  # FDA, CARES Act, news of the warning letters read
    ("methyl_methacrylate", US),  # FDA position, state board bulletin read
    ("tretinoin", US),  # memory
    ("borax", EU),  # Regulation (EU) 2019/831, read
    ("boric_acid", EU),
    ("sodium_perborate", EU),
    ("colloidal_silver", EU),  # Regulation (EU) 2026/78, note read
    ("hydroquinone", EU),  # annex III/14: professional artificial nails only, read
    # Annex II as France wrote it into law, numbers 68, 213, 221, 289, 300, 334, 352, 366, 371, 372, 375, 382, 411, 420
    ("cadmium_pigment", EU),
    ("iodine", EU),
    ("mercury_pigment", EU),
    ("lead_acetate", EU),
    ("kohl", EU),
    ("hydrocortisone_cream", EU),
    ("vinyl_chloride", EU),
    ("bithionol", EU),
    ("chloroform", EU),
    ("hexachlorophene", EU),
    ("minoxidil", EU),
    ("tretinoin", EU),
    ("benzoyl_peroxide", EU),
    ("diethanolamine", EU),
    ("coal_tar", EU),
    ("ppd", EU),  # annex III/8a: oxidative hair dyes only, read
    ("ppd", US),  # FDA on henna and black henna, read
    ("black_henna", US),
    ("quaternium_15", EU),  # memory
    ("isopropylparaben", EU),  # memory
    ("zinc_pyrithione", EU),  # memory
    ("glitter_craft", EU),  # Regulation (EU) 2023/2055, notes read
]


@pytest.mark.parametrize(("substance", "region"), BANS, ids=[f"{s}-{r.value}" for s, r in BANS])
def test_a_banned_substance_is_in_the_table(substance: str, region: Jurisdiction) -> None:
    assert load_law().bans_in(substance, region)


@pytest.mark.parametrize("substance", ["borax", "boric_acid", "colloidal_silver"])
def test_a_ban_of_one_region_is_not_carried_to_the_other(substance: str) -> None:
    assert not load_law().bans_in(substance, US)


def test_a_ban_that_was_read_carries_the_strongest_verdict_and_a_remembered_one_does_not() -> None:
    law = load_law()
    assert all(row.carries_avoid for name in ("kohl", "minoxidil", "ppd") for row in law.bans_in(name, EU))
    assert not any(row.carries_avoid for row in law.bans_in("quaternium_15", EU))


# Regulations 2024/996, 2026/78 and 2023/2055 came after the end of 2020; SI 2024/1334 took over kojic acid alone.
def test_what_the_eu_changed_after_the_uk_left_is_not_called_uk_law() -> None:
    law = load_law()
    assert not law.bans_in("colloidal_silver", UK)
    assert not law.bans_in("glitter_craft", UK)
    retinol = law.limits("retinol", UK, (Site.FACE,), LEAVE, None)
    assert [(row.percent, row.basis) for row in retinol] == [(0.3, Basis.OPINION)]
    kojic = law.limits("kojic_acid", UK, (Site.FACE,), LEAVE, None)
    assert [(row.percent, row.basis) for row in kojic] == [(1.0, Basis.LAW)]


def test_a_uk_row_waits_for_its_day() -> None:
    """SI 2024/1334: kojic acid from 2025-06-20 for what is placed on the market."""
    before = load_law(date(2025, 6, 19)).limits("kojic_acid", UK, (Site.FACE,), LEAVE, None)
    after = load_law(date(2025, 6, 20)).limits("kojic_acid", UK, (Site.FACE,), LEAVE, None)
    assert (before, [row.percent for row in after]) == ([], [1.0])
