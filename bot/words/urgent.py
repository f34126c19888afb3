"""First aid before and instead of everything else."""

from __future__ import annotations

from bot.words.help_lines import load_help_lines
from bot.words.phrases import Phrases
from nlp.reading import Emergency
from rules.assessment import Jurisdiction


def urgent_reply(phrases: Phrases, emergency: Emergency, region: Jurisdiction, *, infant: bool) -> str:
    """What to do now and whom to call; no verdict, no question, no link to anything else."""
    facts = _numbers(phrases, region)
    parts = [phrases.say("urgent", emergency, **facts)]
    if infant:
        parts.insert(0, phrases.say("urgent", "infant", **facts))
    parts.append(phrases.say("urgent", "ending", **facts))
    return " ".join(parts)


def caution(phrases: Phrases, region: Jurisdiction) -> str:
    """The line that every long form ends with."""
    return phrases.say("more", "cautions", **_numbers(phrases, region))


def _numbers(phrases: Phrases, region: Jurisdiction) -> dict[str, str]:
    line = load_help_lines()[region]
    poison = phrases.say("poison", "number", number=line.poison) if line.poison else phrases.raw("poison", "local")
    return {"emergency": line.emergency, "poison": poison}
