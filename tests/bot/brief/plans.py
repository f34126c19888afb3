"""Episodes to write briefs of: hand-made where the words are checked, judged by the rules where the page is."""

from __future__ import annotations

from collections.abc import Sequence

from bot.episode import Plan, Planned
from bot.record import title
from bot.store.cases import Case, CaseState
from bot.store.episodes import Episode, Segment
from rules.assess import assess
from rules.assessment import Assessment, Hazard, Jurisdiction, Severity, Verdict, Virtue
from rules.interval import Interval
from rules.recipe import Recipe, Site
from tests.bot.made import BALM, MIST, assessment, finding, line, recipe

MARKUP = '<img src=x onerror="alert(1)"> [a](javascript:alert(2)) **b** | `c`'
RTL = "\u202eمسحوق\u202c \u05e9\u05de\u05df"
LIP_TINT = recipe(
    line("crayon", 3), line("coconut_oil", 60), line("beeswax", 15), sites=(Site.LIPS,), product="lip_tint"
)
SHIMMER = recipe(line("mica", 4), line("water", 90), line("glycerin", 6), sites=(Site.FACE,), product="face_mist")
TONER = recipe(line("lemon_juice", 15), line("water", 85), sites=(Site.FACE,), product="toner")
LOTION = recipe(
    line("water", 70),
    line("olive_oil", 20),
    line("sodium_benzoate", 0.4),
    line("emulsifying_wax", 6),
    sites=(Site.BODY,),
)
HOSTILE = recipe(line("water", 50), line(None, 10, MARKUP), line(None, 5, RTL), sites=(Site.FACE,))
FORTY = recipe(line("water", 100), *(line(None, n + 1.0, f"powder of hill number {n}") for n in range(39)))


def case(number: int, made: Recipe, judged: Assessment | None = None, name: str | None = None) -> Case:
    found = judged or assess(made, Jurisdiction.US)
    return Case(
        id=number,
        title=name or title(made),
        verdict=found.verdict,
        sketch=None,
        recipe=made,
        assessment=found,
        state=CaseState.TAKEN,
        score=0.5,
        why=(),
        people=3,
        first_seen=0,
        last_seen=0,
    )


def plan(cases: Sequence[Case | None], name: str = "Fog and wax", note: str = "") -> Plan:
    planned = [
        Planned(
            segment=Segment(
                id=place, episode_id=1, case_id=case.id if case else None, place=place, seconds=90, note=note
            ),
            case=case,
        )
        for place, case in enumerate(cases, start=1)
    ]
    episode = Episode(id=1, title=name, note=note, address=None, made_at=0, published_at=None)
    return Plan(episode=episode, segments=tuple(planned))


def golden_plan() -> Plan:
    """Two segments whose judgement is written here, so that the text hangs on the templates alone."""
    wet = finding(
        Severity.FIX,
        Hazard.NEEDS_PRESERVATIVE,
        reason="water_unpreserved",
        instead="make_one_use",
        sources=("iso_29621",),
        facts={"water": 90.0},
        value=Interval(0.97, 0.98, 0.99),
        limit=Interval.exact(0.75),
    )
    mist = assessment(MIST, Verdict.FIX, wet)
    measures = mist.measures.model_copy(
        update={"water_percent": Interval(88, 90, 91), "water_activity": Interval(0.97, 0.98, 0.99)}
    )
    balm = assessment(BALM, Verdict.FINE, virtues=(Virtue(reason="no_water"),))
    return plan(
        [case(1, MIST, mist.model_copy(update={"measures": measures})), case(2, BALM, balm)], note="Two jars ready"
    )
