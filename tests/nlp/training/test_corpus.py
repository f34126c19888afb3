"""The corpus as shipped: large enough, varied enough, split as documented."""

from collections import Counter, defaultdict

from nlp.reading import Kind
from nlp.training.annotated import Split, load_corpus
from rules.products import load_products

CORPUS = load_corpus()


def test_no_message_stands_twice_or_is_empty():
    twice = [text for text, count in Counter(message.text for message in CORPUS).items() if count > 1 or not text]
    assert twice == []


def test_a_recipe_has_ingredients_and_names_each_once_in_a_recipe():
    for message in CORPUS:
        names = Counter((gold.recipe, gold.name.casefold()) for gold in message.golds)
        assert not [name for name, count in names.items() if count > 1], message.id
        assert (message.kind is Kind.RECIPE) <= bool(message.golds), message.id


def test_only_recipes_and_corrections_carry_ingredients():
    assert {m.kind for m in CORPUS if m.golds} <= {Kind.RECIPE, Kind.CORRECTION}


def test_members_of_a_choice_are_never_alone():
    for message in CORPUS:
        groups = Counter(gold.group for gold in message.golds if gold.group)
        assert all(count > 1 for count in groups.values()), message.id


def test_no_family_stands_in_two_parts_and_each_part_has_its_share():
    parts = defaultdict(set)
    for message in CORPUS:
        parts[message.family].add(message.split)
    assert all(len(where) == 1 for where in parts.values())
    share = Counter(message.split for message in CORPUS)
    assert 0.5 < share[Split.TRAIN] / len(CORPUS) < 0.7
    assert min(share[Split.DEV], share[Split.TEST]) > 0.12 * len(CORPUS)


def test_every_product_is_one_that_the_product_table_knows():
    assert {m.product for m in CORPUS if m.product} <= set(load_products())
