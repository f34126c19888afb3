"""A correction changes what it names and nothing else."""

from __future__ import annotations

from bot.correction import amend
from rules.recipe import Contact, Recipe, Site
from tests.bot.made import line, recipe

TINT = recipe(line("coconut_oil", 15), line("crayon", 5), sites=(Site.LIPS,), product="lip_balm")


def test_the_amount_named_is_replaced_and_the_rest_stays() -> None:
    amended = amend(TINT, recipe(line("crayon", 2), sites=()))
    assert amended is not None
    assert amended.lines == (TINT.lines[0], line("crayon", 2))


def test_a_guessed_product_does_not_move_a_lip_tint_to_the_body() -> None:
    guess = recipe(line("coconut_oil", 30), sites=(Site.BODY,), product="lotion_bar")
    amended = amend(TINT, guess)
    assert amended is not None
    assert (amended.sites, amended.product) == ((Site.LIPS,), "lip_balm")


def test_a_place_named_alone_is_taken() -> None:
    amended = amend(TINT, Recipe(lines=(), sites=(Site.EYE_AREA,), contact=Contact.LEAVE_ON))
    assert amended is not None
    assert amended.sites == (Site.EYE_AREA,)
    assert amended.contact is Contact.LEAVE_ON


def test_what_the_recipe_left_open_is_filled() -> None:
    nowhere = TINT.model_copy(update={"sites": ()})
    amended = amend(nowhere, recipe(line("crayon", 2), sites=(Site.LIPS,)))
    assert amended is not None
    assert amended.sites == (Site.LIPS,)


def test_a_slip_of_the_finger_still_finds_its_line() -> None:
    odd = recipe(line(None, 5, "moonsugar"))
    amended = amend(odd, recipe(line(None, 2, "moonsugr")))
    assert amended is not None
    assert len(amended.lines) == 1


def test_a_correction_that_names_nothing_amends_nothing() -> None:
    assert amend(TINT, Recipe(lines=())) is None
