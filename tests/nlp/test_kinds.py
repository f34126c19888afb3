"""What a message wants. A missed emergency is the worst that this reader can do."""

import pytest

from nlp.reading import Emergency, Kind
from tests.nlp.readers import read


@pytest.mark.parametrize(
    ("text", "emergency"),
    [
        ("the toner splashed in my eye and it burns, what do i do", Emergency.EYE),
        ("my son swallowed some of the bath oil just now", Emergency.SWALLOWED),
        ("i cant breathe since i mixed the bleach", Emergency.BREATHING),
        ("lye on my hand, skin is burning so bad help", Emergency.BURN),
        ("my face is swelling up after the balm", Emergency.REACTION),
        ("BABY DRANK THE SCRUB HELP", Emergency.SWALLOWED),
        ("1 tbsp honey, 1 tsp lemon juice. put it on and now my eyelids are swollen shut", Emergency.EYE),
        ("ayuda me entro jabon en el ojo y me arde mucho", Emergency.EYE),
        ("meu filho bebeu o óleo de banho agora", Emergency.SWALLOWED),
        ("ma gorge gonfle depuis le baume", Emergency.BREATHING),
    ],
)
def test_an_emergency_stands_before_everything_else(text: str, emergency: Emergency) -> None:
    reading = read(text)
    assert (reading.kind, reading.emergency, reading.recipes) == (Kind.URGENT, emergency, ())


@pytest.mark.parametrize(
    "text",
    [
        "this wrap burns calories they say",
        "burn a candle while you make 2 tbsp beeswax and 1 tbsp castor oil",
        "2 tbsp castor oil, 1 tsp peppermint oil. Avoid eyes, can sting.",
        "2 tbsp castor oil, 1 tsp peppermint oil. Don't swallow it.",
        "is a slight tingle from peppermint normal?",
        "my eyes are blue, which shadow suits me?",
        "no stinging, no burning, love this balm",
    ],
)
def test_a_caution_or_a_figure_of_speech_is_no_emergency(text: str) -> None:
    assert read(text).kind is not Kind.URGENT


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("2 tbsp beeswax, 3 tbsp castor oil, melt and pour", Kind.RECIPE),
        ("2 tbsp beeswax, 3 tbsp castor oil. is this ok for lips?", Kind.RECIPE),
        ("is tea tree oil ok near the eyes?", Kind.QUESTION),
        ("i meant 1 tsp baking soda not 1 tbsp", Kind.CORRECTION),
        ("*tbsp", Kind.CORRECTION),
        ("good morning lantern quay", Kind.CHATTER),
        ("", Kind.CHATTER),
        ("soup: 2 carrots, 1 cup water, boil and serve with bread", Kind.FOOD),
        ("click here for free followers http://win.example", Kind.SPAM),
        ("https://quay.example/my-balm", Kind.LINK_ONLY),
    ],
)
def test_each_kind_is_told_apart(text: str, kind: Kind) -> None:
    assert read(text).kind is kind


@pytest.mark.parametrize(
    ("text", "language"),
    [
        ("2 cucharadas de cera de abejas y 3 cucharadas de aceite de coco", "es"),
        ("2 colheres de sopa de cera de abelha e 3 colheres de sopa de óleo de coco", "pt"),
        ("2 c. à s. de cire d'abeille et 3 c. à s. d'huile de coco", "fr"),
    ],
)
def test_three_more_languages_read_like_english(text: str, language: str) -> None:
    reading = read(text)
    assert reading.language == language
    assert [(line.substance, line.amount and line.amount.written) for line in reading.recipes[0].lines] == [
        ("beeswax", (2.0, 2.0)),
        ("coconut_oil", (3.0, 3.0)),
    ]


def test_a_language_that_the_reader_does_not_know_is_said() -> None:
    assert read("kann man das auch für die Haut im Gesicht benutzen, oder ist es zu stark?").language == "other"
