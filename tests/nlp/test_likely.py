"""A wrong place makes a wrong verdict: what is told from ingredients alone must be marked, and mostly right."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from nlp.likely import Likely, load_likely
from nlp.reader import read
from nlp.reading import Note
from rules.products import load_products
from rules.recipe import Contact, Site

# Archetypes that any chemist tells at once: common practice, no source. None stands in the training lines.
TELLING = [
    (
        "3 tbsp beeswax, 4 tbsp mango butter, 4 tbsp almond oil. Melt, fill twelve small tubes.",
        Site.LIPS,
        Contact.LEAVE_ON,
    ),
    (
        "5 g black iron oxide, 3 tsp aloe gel, 1 tsp beeswax, brush on with a wand, dries dark",
        Site.EYE_AREA,
        Contact.LEAVE_ON,
    ),
    (
        "2 tbsp oat flour, 1 tbsp yogurt, 1 tsp honey. 15 minutes, then rinse with cool water",
        Site.FACE,
        Contact.RINSE_OFF,
    ),
    ("250 g baking soda, 120 g citric acid, 20 ml almond oil, press into moulds", Site.BATH, Contact.RINSE_OFF),
    ("1/4 cup arrowroot, 2 tbsp cocoa, dust on the roots, brush out", Site.HAIR, Contact.LEAVE_ON),
    ("3 tbsp calcium carbonate, 2 tbsp xylitol, 10 drops spearmint oil, coconut oil", Site.MOUTH, Contact.RINSE_OFF),
]


@pytest.mark.parametrize(("text", "site", "contact"), TELLING)
def test_the_place_is_told_from_what_goes_in(text: str, site: Site, contact: Contact) -> None:
    recipe = read(text).recipes[0]
    assert recipe.sites[0] is site
    assert recipe.contact is contact


def test_a_guess_is_marked_so_that_the_answer_can_say_it() -> None:
    assert Note.USE_GUESSED in read(TELLING[0][0]).notes
    assert Note.USE_GUESSED not in read("lip balm: 2 tbsp beeswax, 3 tbsp almond oil").notes


@given(st.sets(st.sampled_from(sorted(load_likely().clues)), max_size=30))
def test_chances_sum_to_one_whatever_the_clues(clues: set[str]) -> None:
    likely = load_likely()
    assert likely.chances(clues).sum() == pytest.approx(1.0, abs=1e-4)
    assert 0.0 < likely.use(clues, load_products()).sure <= 1.0001


def test_every_product_of_the_model_is_in_the_table() -> None:
    assert set(load_likely().products) <= set(load_products())


def test_a_place_adds_up_over_its_products() -> None:
    """Two half-likely lip products beat one likelier product for the hands."""
    model = Likely(
        {},
        ("lip_balm", "lip_gloss", "hand_cream"),
        np.zeros((0, 3), np.float32),
        np.log(np.array([0.3, 0.3, 0.4], np.float32)),
    )
    assert model.use((), load_products()).sites[0] is Site.LIPS


# What spoils if it is taken for something that stays on: common practice, no source.
UNNAMED = [
    ("600 g clear soap base, 1 tsp blue mica, 8 ml fragrance oil, spritz with alcohol", Site.BODY, Contact.RINSE_OFF),
    (
        "1 cup milk powder, 1/2 cup epsom salt, 1 tbsp soda, few drops of lavender",
        Site.BATH,
        Contact.RINSE_OFF,
    ),
    ("60 g beeswax, 60 g shea, 60 g coconut oil, shell moulds, rub on the arms", Site.BODY, Contact.LEAVE_ON),
    ("1 cup bleach powder, 1/2 cup developer, on the strands 30 minutes, rinse", Site.HAIR, Contact.RINSE_OFF),
]


@pytest.mark.parametrize(("text", "site", "contact"), UNNAMED)
def test_what_the_words_tell_of_washing_holds_beside_the_guess(text: str, site: Site, contact: Contact) -> None:
    recipe = read(text).recipes[0]
    assert site in recipe.sites
    assert recipe.contact is contact


def test_the_kind_agrees_with_the_contact_that_the_model_tells() -> None:
    """A face scrub that is left on would be warned of twice over."""
    products = load_products()
    for clues in ({"is:sucrose", "unit:tsp"}, {"role:surfactant"}, {"family:oils", "word:scratch"}):
        use = load_likely().use(clues, products)
        at_site = {p.contact for p in products.values() if p.sites[0] is use.sites[0]}
        assert products[use.product].contact is use.contact or use.contact not in at_site
