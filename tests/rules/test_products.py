"""The kinds of product. A wrong site or contact turns a sound rinse into a leave-on at the eye."""

from __future__ import annotations

import re
from collections import Counter

import pytest

from rules.products import load_products
from rules.recipe import Contact, Keeping, Site

# kind, main site, contact, keeping: what the words mean in the trade (common practice, no source)
SETTLED = [
    ("lip_balm", Site.LIPS, Contact.LEAVE_ON, Keeping.KEPT),
    ("lip_scrub", Site.LIPS, Contact.RINSE_OFF, Keeping.KEPT),
    ("mascara", Site.EYE_AREA, Contact.LEAVE_ON, Keeping.KEPT),
    ("eye_glitter", Site.EYE_AREA, Contact.LEAVE_ON, Keeping.KEPT),
    ("face_mask", Site.FACE, Contact.RINSE_OFF, Keeping.SINGLE_USE),
    ("peel_off_mask", Site.FACE, Contact.RINSE_OFF, Keeping.SINGLE_USE),
    ("toner", Site.FACE, Contact.LEAVE_ON, Keeping.KEPT),
    ("lotion", Site.BODY, Contact.LEAVE_ON, Keeping.KEPT),
    ("sugar_scrub", Site.BODY, Contact.RINSE_OFF, Keeping.KEPT),
    ("bath_bomb", Site.BATH, Contact.RINSE_OFF, Keeping.KEPT),
    ("foot_soak", Site.FEET, Contact.RINSE_OFF, Keeping.SINGLE_USE),
    ("hand_sanitiser", Site.HANDS, Contact.LEAVE_ON, Keeping.KEPT),
    ("nail_polish", Site.NAILS, Contact.LEAVE_ON, Keeping.KEPT),
    ("shampoo", Site.HAIR, Contact.RINSE_OFF, Keeping.KEPT),
    ("hair_rinse", Site.HAIR, Contact.RINSE_OFF, Keeping.SINGLE_USE),
    ("toothpaste", Site.MOUTH, Contact.RINSE_OFF, Keeping.KEPT),
]


def names(product):
    return {product.name.lower(), *product.aliases}


def test_a_fan_s_word_never_leads_to_two_kinds():
    counted = Counter(name for product in load_products().values() for name in names(product))

    assert {name for name, times in counted.items() if times > 1} == set()


def test_every_kind_says_where_it_goes():
    assert [p.id for p in load_products().values() if not p.sites or len(set(p.sites)) != len(p.sites)] == []


def test_names_are_written_as_the_reader_looks_them_up():
    odd = [
        name
        for product in load_products().values()
        for name in product.aliases
        if name != re.sub(r"\s+", " ", name.lower().strip())
    ]

    assert odd == []


def test_most_of_what_fans_make_has_a_kind():
    assert len(load_products()) >= 90


@pytest.mark.parametrize(("kind", "site", "contact", "keeping"), SETTLED)
def test_a_kind_brings_the_site_and_the_use_that_a_message_leaves_out(kind, site, contact, keeping):
    product = load_products()[kind]

    assert (product.sites[0], product.contact, product.keeping) == (site, contact, keeping)


@pytest.mark.parametrize(
    ("written", "kind"),
    [
        ("chapstick", "lip_balm"),
        ("lip stain", "lip_tint"),
        ("moisturizer", "face_cream"),
        ("blackhead mask", "peel_off_mask"),
        ("sugar wax", "sugaring"),
        ("bug spray", "insect_repellent"),
        ("beach wave spray", "sea_salt_spray"),
        ("acv rinse", "vinegar_rinse"),
        ("diaper rash cream", "nappy_balm"),
        ("fake blood", "costume_blood"),
        ("whipped body butter", "body_butter"),
        ("vapor rub", "chest_rub"),
    ],
)
def test_a_fan_may_use_the_everyday_word(written, kind):
    assert written in names(load_products()[kind])


@pytest.mark.parametrize("kind", ["body_mist", "setting_spray", "shimmer_spray", "sea_salt_spray", "hair_spray"])
def test_a_spray_is_known_as_breathed_and_near_the_eyes(kind):
    assert load_products()[kind].sprayed


@pytest.mark.parametrize("kind", ["dry_shampoo", "setting_powder", "eyeshadow", "baby_powder", "body_powder"])
def test_a_powder_is_known_as_dry(kind):
    assert load_products()[kind].powder


def test_only_sunscreen_promises_sun_protection():
    assert [p.id for p in load_products().values() if p.sun_protection] == ["sunscreen"]
