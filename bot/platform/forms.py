"""Forms. Their id says all, as with buttons, so that one which was open over a restart is still taken."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

import discord
from discord import ui

from bot.platform.buttons import custom_id
from bot.words.clean import cut
from bot.words.phrases import Phrases
from rules.assessment import Verdict

LONGEST, CREDIT = 4000, 40
# What people write for a verdict: our own names, and the words of the replies.
VERDICT_WORDS = {
    Verdict.AVOID: ("avoid", "leave", "no"),
    Verdict.FIX: ("fix",),
    Verdict.FINE: ("fine", "ok", "sound", "yes"),
    Verdict.UNCLEAR: ("unclear", "can't tell", "cant tell", "cannot tell", "unsure"),
}


def form(act: str, argument: object, title: str, *fields: ui.Label[Any]) -> ui.Modal:
    made = ui.Modal(title=cut(title, 45), custom_id=custom_id(act, argument))
    for field in fields:
        made.add_item(field)
    # As with buttons: what is sent in comes by its id alone.
    made.stop()
    return made


def text_field(
    name: str,
    label: str,
    *,
    hint: str = "",
    default: str = "",
    long: bool = True,
    needed: bool = True,
    longest: int = LONGEST,
) -> ui.Label[Any]:
    style = discord.TextStyle.long if long else discord.TextStyle.short
    entry: ui.TextInput[Any] = ui.TextInput(
        custom_id=name, style=style, default=default[:longest] or None, required=needed, max_length=longest
    )
    return ui.Label(text=cut(label, 45), description=cut(hint, 100) if hint else None, component=entry)


def paste_form(words: Phrases) -> ui.Modal:
    says = "command_says"
    field = text_field("recipe", words.raw(says, "form_label"), hint=words.raw(says, "form_hint"))
    return form("paste", "", words.raw(says, "form_title"), field)


def show_form(words: Phrases, message_id: str) -> ui.Modal:
    """Sending it is the yes; a name is at the fan's wish."""
    label, hint = words.raw("platform", "show_credit"), words.raw("platform", "show_hint")
    field = text_field("credit", label, hint=hint, long=False, needed=False, longest=CREDIT)
    return form("shown", message_id, words.raw("platform", "show_title"), field)


def correct_form(words: Phrases, case: int, lines: str) -> ui.Modal:
    label, hint = words.raw("platform_desk", "correct_lines"), words.raw("platform_desk", "correct_hint")
    title = words.say("platform_desk", "correct_title", case=case)
    return form("desk_corrected", case, title, text_field("lines", label, hint=hint, default=lines))


def rule_form(words: Phrases, case: int, verdict: Verdict | None) -> ui.Modal:
    labels = "platform_desk"
    return form(
        "desk_ruled",
        case,
        words.say(labels, "rule_title", case=case),
        text_field("verdict", words.raw(labels, "rule_verdict"), default=verdict or "", long=False),
        text_field("words", words.raw(labels, "rule_words")),
    )


def verdict_of(said: str) -> Verdict | None:
    """The verdict that was written, None where it is none of ours."""
    plain = said.casefold().replace("’", "'").strip(" .!*_`\"'")
    for verdict, known in VERDICT_WORDS.items():
        if plain == verdict or any(plain == word or plain.startswith(f"{word} ") for word in known):
            return verdict
    return None


def filled(data: Mapping[str, Any]) -> dict[str, str]:
    """What was written into a form, by field, however its parts are nested."""
    return {str(part["custom_id"]): str(part.get("value") or "") for part in _parts(data) if "custom_id" in part}


def _parts(data: Mapping[str, Any]) -> Iterator[Mapping[str, Any]]:
    below = data.get("components")
    for part in [*(below if isinstance(below, list) else ()), data.get("component")]:
        if not isinstance(part, Mapping):
            continue
        if part.get("type") == discord.ComponentType.text_input.value:
            yield part
        yield from _parts(part)
