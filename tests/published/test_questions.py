"""Invented questions, in the words of fans, against the published row that decides each.

The figure stands in the reply, with the region or the source; the comment beside a group says where it was read.
"""

from __future__ import annotations

import pytest

from bot.triage import Context, Triage, triage
from nlp.reader import default_reader
from nlp.reading import Asks, Kind
from rules.assessment import Jurisdiction

US, EU, UK = Jurisdiction.US, Jurisdiction.EU, Jurisdiction.UK

MAY = [
    # 21 CFR 73.2496, 73.2250, 73.2725, 73.2327, 73.2087, 73.2190, 74.2306 with 70.5, 70.5: read
    ("is mica ok for lips?", US, "Yes", "73.2496"),
    ("Can I use ultramarine blue in lip gloss?", US, "No", "73.2725"),
    ("is ultramarine safe around the eyes", US, "Yes", "73.2725"),
    ("are iron oxides allowed in eyeshadow?", US, "Yes", "73.2250"),
    ("is chromium oxide green ok in lipstick", US, "No", "73.2327"),
    ("is carmine ok near the eyes?", US, "Yes", "73.2087"),
    ("is henna ok for eyebrows?", US, "No", "73.2190"),
    ("is D&C red 6 fine for eye shadow?", US, "No", "eye area"),
    ("can activated charcoal go in mascara?", US, "No", "70.5"),
    ("is carmine ok in lipstick?", EU, "Yes", "annex IV/115"),
    ("can I put food coloring in lip balm?", US, "not the certified cosmetic lot", "70.5"),
    ("is slime colouring safe for lip gloss", US, "not the certified cosmetic lot", "70.5"),
    ("is turmeric ok as a lip tint?", US, "not the certified cosmetic lot", "70.5"),
    # FDA on novelty make-up, henna, skin lighteners: read
    ("can i use crayons to make lipstick?", US, "No", "never made or checked for skin"),
    ("can i use acrylic paint on my face?", US, "No", "never made or checked for skin"),
    ("can I use bleach on my hair", US, "No", "never made or checked for skin"),
    ("is black henna safe on skin", US, "No", "US"),
    ("is 2% hydroquinone ok for my face?", US, "No", "US"),
    ("can i put hydroquinone in a face cream?", EU, "No", "annex II/1339"),
    # annex II/1394-1397, 289, 375: read
    ("is borax ok in a bath bomb?", EU, "No", "annex II/1394"),
    ("is borax ok in a bath bomb?", US, "the EU does not permit it", "annex II/1394"),
    ("is kohl ok as an eyeliner?", EU, "No", "289"),
    ("is tretinoin ok in a face cream", EU, "No", "375"),
    # CPSC on art materials, read: the label speaks of art; common practice for the rest
    ("is craft glitter that says non-toxic ok for my lips?", US, "No", "art label"),
    ("is natural cinnamon oil ok in a lip balm?", US, "0.07 %", "Natural things sting"),
    # Regulation 2024/996: 0.05 % on the body, 0.3 % on the face
    ("is 0.5% retinol ok in a body lotion?", US, "0.05 %", "0.5 % is over it"),
    ("is retinol 0.2% ok for face", EU, "0.3 %", "0.2 % is within it"),
    # home sunscreen study, lens letter of the FDA, burns from lemons: read
    ("can i use sunscreen zinc oxide to make my own spf?", US, "Not as sun protection", "Health Communication"),
    ("is boric acid ok in eye wash?", US, "never made at home", "lenses"),
    ("can I use lemon juice on my face?", US, "sun-sensitive", "Wounds"),
    # common practice, no source
    ("is cinnamon ok in lip balm", US, "irritates", "no published source"),
    ("can you put lavender oil in mascara", US, "No", "eye"),
    ("is tea tree safe for babies", US, "No", "infants"),
    ("is retinol cream ok when pregnant? i mean plain retinol on the face", US, "No", "pregnancy"),
    ("is jojoba oil safe on the face?", US, "no rule against it", ""),
]

HOW_MUCH = [
    # 21 CFR 333.310, 74.2333: read
    ("whats the max % of salicylic acid in a leave on", US, "2 %", "333.310"),
    ("how much salicylic acid is safe in a face toner?", US, "2 %", "333.310"),
    ("how much sulfur in an acne mask", US, "10 %", "333.310"),
    ("how much red 33 can go in a lipstick?", US, "3 %", "74.2333"),
    # annexes III/98 with V/3, III/22, III/49, III/62, III/4, III/12: read
    ("whats the max % of salicylic acid in a body lotion", EU, "0.5 %", "III/98"),
    ("how much salicylic acid in a shampoo", EU, "3 %", "III/98"),
    ("how much resorcinol in shampoo", EU, "0.5 %", "III/22"),
    ("how much triethanolamine in a lotion", EU, "2.5 %", "III/62"),
    ("how much ammonia in hair dye?", EU, "6 %", "NH3"),
    ("how much hydrogen peroxide is ok on the face?", US, "4 %", "undiluted"),
    # CIR on alpha hydroxy acids: read
    ("how much glycolic acid can I put in a face serum?", US, "10 %", "pH 3.5"),
    ("max lactic acid in a toner?", US, "10 %", "pH 3.5"),
    # annex V/29, V/34, V/1 (x 144.1 / 122.1), V/4 (x 150.2 / 112.1), V/13: read
    ("how much phenoxyethanol per 100 g", US, "1 %", "about 1 g"),
    ("max percent of phenoxyethanol in lotion", EU, "1 %", "annex V/29"),
    ("is 1% benzyl alcohol ok in a cream?", EU, "1 %", "within"),
    ("max percent of sodium benzoate in a lotion", EU, "0.59 %", "annex V/1"),
    ("how much potassium sorbate for a toner", EU, "0.804 %", "annex V/4"),
    ("how much IPBC in a lip balm", EU, "nought", "EU"),
    # Regulation 2024/996, SI 2024/1334: read
    ("how much retinol in a night cream?", US, "0.3 %", "the EU's"),
    ("how much kojic acid in a face cream?", UK, "1 %", "in the UK"),
    # the handbook's list, as quoted on the web, read: bergamot 0.4, clove bud 0.5, cinnamon bark 0.07, lime 0.7
    ("how much bergamot oil is safe in a body butter?", US, "0.4 %", "burn in the sun"),
    ("how much clove oil can i use in a balm", US, "0.5 %", "Essential Oil Safety"),
    ("how much cinnamon bark oil in lip plumper?", US, "0.07 %", "Essential Oil Safety"),
    ("what is the limit for lime oil in a body spray", US, "0.7 %", "burn in the sun"),
    # IFRA 49 on citral (lips 0.11, body 0.15 %) over its share of the oil (65 to 85 %), read: 100 x 0.15 / 85
    ("how much lemongrass oil in a body oil", US, "0.18 to 0.23 %", "citral (65 to 85 %)"),
    ("how much lemongrass oil in a lip balm", US, "0.13 to 0.17 %", "0.11 %"),
    # SCCS/1681/25, read: tea tree in face creams
    ("how much tea tree oil in a face cream", EU, "0.1 %", "SCCS"),
    # common practice, no source: 1 % on the face; 1 % of a cup is 2.4 g, drops of 0.02 to 0.05 ml
    ("how many drops of tea tree per cup of lotion?", US, "1 %", "51 to 136 drops"),
    ("how many drops of peppermint oil in 2 oz of lip balm?", US, "1 %", "12 to 33 drops"),
    ("how much lavender oil for a bath", US, "3 %", "Drops float"),
    ("how many drops of lavender in a 10ml roller", US, "1 %", "2 to 5 drops"),
    # soap makers' charts, read: olive oil takes 0.135 g of NaOH; 500 g x 0.135 x 0.95
    ("how much lye for 500g olive oil", US, "64.1 g", "goggles"),
    ("how much glitter in lip gloss", US, "No", "never made or checked for skin"),
    ("how much vitamin e in 100 ml of oil?", US, "0.1 to 1 %", "common practice"),
]

SWAP = [
    ("can i use baking soda instead of borax in slime lotion", US, "baking soda", "borax"),
    # soap makers' charts, read: olive 0.135, coconut 0.183 g NaOH
    ("can i use olive oil instead of coconut oil in soap?", US, "0.135 g", "0.183 g"),
    ("can I replace coconut oil with olive oil in my soap?", US, "0.135 g", "0.183 g"),
    # 56.1 / 40.0 g/mol, potash as sold 90 %
    ("could I use potassium hydroxide instead of sodium hydroxide in bar soap", US, "1.56 g", "Not one for one"),
    ("can I use lactic acid instead of citric acid in a toner?", US, "Not by the same weight", "pH"),
    # ISO 29621 criteria, read: water needs something that keeps it
    ("can vitamin e replace phenoxyethanol?", US, "No", "preserves"),
    ("i ran out of phenoxyethanol, is tocopherol ok?", US, "No", "preserves"),
    ("sub potassium sorbate for phenoxyethanol in a toner?", EU, "each in its own dose", "pH is 6 or lower"),
    # 21 CFR 73.2725, read
    ("can i swap iron oxide red for ultramarine blue in lipstick?", US, "No", "73.2725"),
    # common practice, no source
    ("can I swap almond oil for jojoba in a face oil", US, "Yes", "jojoba"),
    ("replace beeswax with candelilla wax in lip balm?", US, "Yes", "candelilla"),
    ("substitute rose water for olive oil?", US, "Not one for one", "water"),
    ("what can I use instead of phenoxyethanol?", US, "sodium benzoate", "potassium sorbate"),
]

OTHER_LANGUAGES = [
    ("¿puedo usar miel en vez de glicerina?", Asks.SWAP, "miel"),
    ("combien de gouttes d'huile essentielle de lavande dans 50 ml ?", Asks.HOW_MUCH, "gouttes"),
    ("posso trocar manteiga de karité por manteiga de cacau?", Asks.SWAP, "manteiga de cacau"),
    ("¿cuánto fenoxietanol en una loción?", Asks.HOW_MUCH, "1 %"),
]


def asked(text: str, region: Jurisdiction) -> Triage:
    return triage(text, Context(with_more=False), reader=default_reader(), jurisdiction=region)


def answered(text: str, region: Jurisdiction, asks: Asks, *parts: str) -> None:
    result = asked(text, region)
    assert result.reading.kind is Kind.QUESTION
    assert result.reading.question is not None
    assert result.reading.question.asks is asks
    assert [part for part in parts if part not in result.reply] == [], result.reply
    assert not result.interest.queued


@pytest.mark.parametrize(("text", "region", "one", "other"), MAY, ids=[f"{r.value}-{t}" for t, r, _, _ in MAY])
def test_may_it_go_there_is_answered_as_the_row_says(text: str, region: Jurisdiction, one: str, other: str) -> None:
    answered(text, region, Asks.MAY, one, other)


HOW_IDS = [f"{r.value}-{t}" for t, r, _, _ in HOW_MUCH]


@pytest.mark.parametrize(("text", "region", "one", "other"), HOW_MUCH, ids=HOW_IDS)
def test_how_much_is_answered_with_the_figure_of_the_row(text: str, region: Jurisdiction, one: str, other: str) -> None:
    answered(text, region, Asks.MAY if text.startswith("is ") else Asks.HOW_MUCH, one, other)


@pytest.mark.parametrize(("text", "region", "one", "other"), SWAP, ids=[t for t, _, _, _ in SWAP])
def test_a_swap_is_weighed_the_right_way_round(text: str, region: Jurisdiction, one: str, other: str) -> None:
    answered(text, region, Asks.SWAP, one, other)


@pytest.mark.parametrize(("text", "asks", "part"), OTHER_LANGUAGES, ids=[t for t, _, _ in OTHER_LANGUAGES])
def test_a_question_is_understood_in_the_other_languages(text: str, asks: Asks, part: str) -> None:
    answered(text, EU, asks, part)


@pytest.mark.parametrize(
    "text",
    [
        "is snail jelly ok on the face?",
        "how much zorbleflax in lotion?",
        "can i use gloopite on lips",
        "how much niacinamide in a toner",
    ],
)
def test_what_no_table_has_is_said_so_and_goes_to_the_creator(text: str) -> None:
    result = asked(text, US)
    assert "I don't know" in result.reply
    assert result.interest.queued


def test_a_name_that_nobody_knows_is_said_back_without_its_markup() -> None:
    reply = asked("is **@everyone** gloopite ok on lips?", US).reply
    assert "gloopite" in reply
    assert "@everyone" not in reply


# 21 CFR 70.3 and 80: each lot of a certified colour is certified by itself; a food or craft colour is another lot.
@pytest.mark.parametrize(
    "recipe",
    [
        "lip tint: 1 tbsp coconut oil, 1 tsp beeswax, 5 drops red food coloring, for lips",
        "lip balm with 1 tbsp shea butter and 1 tsp candle dye",
        "eyeshadow: 1 tsp mica, 1/4 tsp soap colorant",
    ],
)
def test_a_colour_sold_for_something_else_is_told_what_it_lacks(recipe: str) -> None:
    assert "not the certified cosmetic lot, even under the same name" in asked(recipe, US).reply


def test_an_answer_from_memory_says_so() -> None:
    """Annex IV's entry for charcoal was not opened."""
    assert "from memory" in asked("can activated charcoal go in mascara?", EU).reply
