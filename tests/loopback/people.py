"""People who use the platform in a test: they write, edit, delete, press and fill in forms."""

from __future__ import annotations

from typing import Any

from tests.loopback.interactions import Interaction
from tests.loopback.limits import walk
from tests.loopback.server import Loopback
from tests.loopback.world import Channel, Json, Member, Message


class Person:
    """One member at the keyboard. Each act goes to the bot exactly as the platform would send it."""

    def __init__(self, platform: Loopback, member: Member) -> None:
        self.platform, self.member = platform, member

    @property
    def id(self) -> int:
        return self.member.user.id

    def says(
        self,
        channel: Channel,
        text: str,
        reply_to: Message | None = None,
        seconds_ago: float = 0,
        files: tuple[Json, ...] = (),
    ) -> Message:
        body: Json = {"content": text, "attachments": list(files)}
        if reply_to is not None:
            body["message_reference"] = {"message_id": str(reply_to.id), "channel_id": str(channel.id)}
        return self.platform.messages.post(channel, self.member.user, body, seconds_ago=seconds_ago)

    def file(self, name: str, content: bytes, **told: object) -> Json:
        """An attachment as it stands on the platform's file host; `told` is what the payload says otherwise."""
        return self.platform.uploads.put(name, content) | told

    def asks(self, channel: Channel, text: str, **extra: Any) -> Message:
        """Says it with a mention of the bot."""
        return self.says(channel, f"{self.platform.world.bot.mention} {text}", **extra)

    def edits(self, message: Message, text: str) -> None:
        self.platform.messages.change(self._channel(message), message, {"content": text})

    def deletes(self, message: Message) -> None:
        self.platform.messages.remove(self._channel(message), message)

    def _channel(self, message: Message) -> Channel:
        return self.platform.world.channels[message.channel_id]

    def uses(self, channel: Channel, command: str, **options: object) -> Interaction:
        """A slash command; options as name=value."""
        given = [{"name": key, "value": value, "type": _option_type(value)} for key, value in options.items()]
        data = {"id": self._command_id(command), "name": command, "type": 1, "options": given}
        return self.platform.interactions.send(2, channel, self.member, data)

    def right_clicks(self, message: Message, command: str) -> Interaction:
        """A message command: the platform hands over the text of the message."""
        data = {
            "id": self._command_id(command),
            "name": command,
            "type": 3,
            "target_id": str(message.id),
            "resolved": {"messages": {str(message.id): self.platform.world.payload(message, True)}},
        }
        return self.platform.interactions.send(2, self._channel(message), self.member, data)

    def _command_id(self, name: str) -> str:
        found = [row["id"] for row in self.platform.world.commands if row["name"] == name]
        return found[0] if found else "1"

    def presses(self, message: Message, label: str) -> Interaction:
        """The button whose label contains `label`."""
        for item in walk(message.components):
            if item["type"] == 2 and label.lower() in (item.get("label") or "").lower():
                return self.presses_id(message, item["custom_id"])
        raise AssertionError(f"no button {label!r} under {[i.get('label') for i in walk(message.components)]}")

    def presses_id(self, message: Message, custom_id: str) -> Interaction:
        data = {"custom_id": custom_id, "component_type": 2}
        return self.platform.interactions.send(3, self._channel(message), self.member, data, message)

    def chooses(self, message: Message, *values: str) -> Interaction:
        """In the first select of the message that offers these values."""
        for item in walk(message.components):
            if item["type"] == 3 and set(values) <= {option["value"] for option in item["options"]}:
                data = {"custom_id": item["custom_id"], "component_type": 3, "values": list(values)}
                return self.platform.interactions.send(3, self._channel(message), self.member, data, message)
        raise AssertionError(f"no select offers {values}")

    def fills_in(self, form: Interaction, **texts: str) -> Interaction:
        """Submit the modal that `form` was answered with; inputs by custom_id, others keep their text."""
        assert form.modal is not None
        rows = [_filled(row, texts) for row in form.modal["components"]]
        data = {"custom_id": form.modal["custom_id"], "components": rows}
        return self.platform.interactions.send(5, form.channel, self.member, data, form.source)


def _option_type(value: object) -> int:
    return 5 if isinstance(value, bool) else 4 if isinstance(value, int) else 3


def _filled(item: Json, texts: dict[str, str]) -> Json:
    """The submitted shape of one part of a modal."""
    if item["type"] == 1:
        return {"type": 1, "id": 0, "components": [_filled(part, texts) for part in item["components"]]}
    if item["type"] == 18:
        return {"type": 18, "id": 0, "component": _filled(item["component"], texts)}
    if item["type"] == 3:
        chosen = [option["value"] for option in item["options"] if option.get("default")]
        values = [texts[item["custom_id"]]] if item["custom_id"] in texts else chosen
        return {"type": 3, "id": 0, "custom_id": item["custom_id"], "values": values}
    return {
        "type": 4,
        "id": 0,
        "custom_id": item["custom_id"],
        "value": texts.get(item["custom_id"], item.get("value") or ""),
    }
