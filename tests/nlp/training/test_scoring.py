"""The scorer, against figures counted by hand."""

from nlp.reading import Kind, Reading
from nlp.training.annotated import parse_file
from nlp.training.scoring import overlap, same_amount, score
from rules.interval import Interval
from rules.recipe import Amount, Contact, Line, Recipe, Site, Unit

_SOURCE = """=== a recipe lip_balm lips leave_on
[beeswax pellets|2 tbsp], [jojoba|1-2 tsp|alt=A] or [rice oil|1-2 tsp|alt=A], [mint oil|- drop|opt]
"""
(MESSAGE,) = parse_file(_SOURCE, "x")


def amount(low, high, unit):
    return Amount(quantity=Interval(low, low, high), unit=unit, written=(low, high))


def line(name, what=None, **more):
    start = MESSAGE.text.index(name)
    return Line(as_written=name, name=name, span=(start, start + len(name)), substance=None, amount=what, **more)


def reading(lines, kind=Kind.RECIPE, **more):
    recipes = (Recipe(lines=tuple(lines), **more),) if lines else ()
    return Reading(text=MESSAGE.text, language="en", kind=kind, recipes=recipes)


def test_a_perfect_reading_scores_one_everywhere():
    lines = [
        line("beeswax pellets", amount(2, 2, Unit.TBSP)),
        line("jojoba", amount(1, 2, Unit.TSP)),
        line("rice oil", amount(1, 2, Unit.TSP), alternative_of=1),
        line("mint oil", Amount(quantity=Interval(1, 3, 5), unit=Unit.DROP, written=None), optional=True),
    ]
    tally = score([(MESSAGE, reading(lines, sites=(Site.LIPS,), contact=Contact.LEAVE_ON))])
    assert set(tally.errors) == {"known"}  # the lines above name no substance
    assert (tally.counts["triple"], tally.counts["no amount"]) == (3, 1)


def test_a_short_span_counts_as_found_but_not_as_exact_and_a_missed_name_costs_its_triple():
    tally = score([(MESSAGE, reading([line("beeswax", amount(2, 2, Unit.TSP)), line("or")]))])
    assert tally.share("ingredient") == 0.25
    assert tally.ratio("lines found", "lines read") == 0.5
    assert tally.share("exact span") == 0
    assert tally.share("triple") == 0
    assert tally.errors["extra line"] == [("x-001", "or")]


def test_a_line_is_spent_on_one_ingredient_only():
    whole = Line(as_written="", name="", span=(0, len(MESSAGE.text)), substance=None)
    assert score([(MESSAGE, reading([whole]))]).counts["ingredient right"] == 1


def test_a_missed_emergency_and_a_false_one_are_counted_apart():
    (hurt,) = parse_file("=== b urgent eye\nmy eye burns\n", "y")
    calm, alarmed = reading([], Kind.CHATTER), reading([], Kind.URGENT)
    tally = score([(hurt, calm), (hurt, alarmed), (MESSAGE, alarmed), (MESSAGE, calm)])
    assert (tally.share("urgent"), tally.share("not urgent"), tally.share("kind")) == (0.5, 0.5, 0.25)


def test_overlap_is_measured_against_the_shorter_span():
    assert overlap((0, 10), (8, 12)) == 0.5
    assert overlap((0, 4), (4, 9)) == 0


def test_an_amount_needs_its_unit_its_figures_and_both_ends_of_a_range():
    _, jojoba, _, mint = MESSAGE.golds
    assert same_amount(jojoba, amount(1, 2, Unit.TSP))
    assert not same_amount(jojoba, amount(1, 2, Unit.TBSP))
    assert not same_amount(jojoba, amount(1, 1, Unit.TSP))
    assert not same_amount(jojoba, None)
    assert not same_amount(mint, amount(1, 1, Unit.DROP))
