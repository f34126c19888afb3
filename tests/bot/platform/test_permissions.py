"""Who may do what: every command and every button, by everybody there is. What has no row here fails."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from bot.platform.client import Watchglass
from bot.platform.house import open_house
from bot.words.phrases import load_phrases
from tests.bot.platform.stage import CRAYON, Stage
from tests.loopback import Person
from tests.loopback.interactions import Interaction
from tests.loopback.world import Message

ALL = "anybody asker creator owner"
ASKER, CREATOR, OWNER = "asker", "creator", "owner"
TEAM = "asker creator"
# In this order: what changes the message or forgets it comes last.
COMMANDS = {
    "help": ALL, "check": ALL, "Check this recipe": ALL, "my-data": ALL, "quiet": ALL, "desk": CREATOR,
    "rebuild-desk": CREATOR, "status": OWNER, "forget-me": ALL,
}  # fmt: skip
# Act: argument (m = the message, c = the case), values of a select, whether it is a form, and who may.
ACTS: dict[str, tuple[str, list[str], bool, str]] = {
    "desk_take": ("c", [], False, CREATOR),
    "desk_correct": ("c", [], False, CREATOR),
    "desk_corrected": ("c", [], True, CREATOR),
    "desk_rule": ("c", [], False, CREATOR),
    "desk_ruled": ("c", [], True, CREATOR),
    "desk_numbers": ("c", [], False, CREATOR),
    "desk_drop": ("c", [], False, CREATOR),
    "desk_undo": ("c", [], False, CREATOR),
    "desk_page": ("score.0", [], False, CREATOR),
    "desk_sort": ("", ["newest"], False, CREATOR),
    "desk_open": ("", ["1"], False, CREATOR),
    "more": ("m", [], False, ALL),
    "paste": ("", [], True, ALL),
    "follow": ("m", [], False, ASKER),
    "show": ("m", [], False, ASKER),
    "shown": ("m", [], True, ASKER),
    "show_none": ("", [], False, ALL),
    "place": ("m", ["face"], False, ASKER),
    "remove": ("m", [], False, TEAM),
}
REFUSALS = (
    ("platform_desk", "only_staff"), ("platform_desk", "no_roles"), ("platform_operator", "only_owner"),
    ("platform", "not_yours"), ("platform", "follow_not_yours"),
)  # fmt: skip


async def test_every_command_and_button_has_a_row(stage: Stage) -> None:
    assert {row["name"] for row in stage.platform.world.commands} == set(COMMANDS)
    async with open_house(stage.settings(), stage.reader, None) as house:
        assert set(Watchglass(house)._acts) == set(ACTS)


def crowd(stage: Stage) -> dict[str, Person]:
    return {
        "anybody": stage.fan("tin-lantern"), "asker": stage.fan("glim-otter"), "creator": stage.creator,
        "owner": stage.owner,
    }  # fmt: skip


async def allowed(stage: Stage, people: dict[str, Person], send: Callable[[Person], Interaction]) -> str:
    """Who got something else than a refusal."""
    may = []
    refusals = [load_phrases().raw(table, key) for table, key in REFUSALS]
    for name, person in people.items():
        sent = send(person)
        await stage.until(lambda sent=sent: sent.answered)
        assert load_phrases().raw("platform", "failed") not in sent.text
        if not any(words in sent.text for words in refusals):
            may.append(name)
    return " ".join(may)


def press(stage: Stage, reply: Message, post: Message, act: str) -> Callable[[Person], Interaction]:
    argument, values, is_form, _ = ACTS[act]
    filled = {"m": str(post.id), "c": "1"}.get(argument, argument)
    data: dict[str, Any] = {"custom_id": f"wg:{act}:{filled}"}
    data |= {"components": []} if is_form else {"component_type": 3 if values else 2, "values": values}

    def send(person: Person) -> Interaction:
        return stage.platform.interactions.send(5 if is_form else 3, stage.square, person.member, data, reply)

    return send


async def test_each_button_and_form_obeys_those_who_may_and_nobody_else(stage: Stage) -> None:
    people = crowd(stage)
    post = people["asker"].asks(stage.square, CRAYON)
    reply = await stage.reply(post)
    await stage.card()
    found = {act: await allowed(stage, people, press(stage, reply, post, act)) for act in ACTS}
    assert found == {act: row[3] for act, row in ACTS.items()}


async def test_each_command_obeys_those_who_may_and_nobody_else(stage: Stage) -> None:
    people = crowd(stage)
    post = people["asker"].asks(stage.square, CRAYON)
    await stage.reply(post)
    found = {}
    for name in COMMANDS:
        options = {"state": "off"} if name == "quiet" else {}

        def send(person: Person, name: str = name, options: dict[str, str] = options) -> Interaction:
            if name == "Check this recipe":
                return person.right_clicks(post, name)
            return person.uses(stage.square, name, **options)

        found[name] = await allowed(stage, people, send)
    assert found == COMMANDS
