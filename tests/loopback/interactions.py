"""Interactions: commands, buttons, selects and modals sent to the bot; its callbacks and follow-ups."""

from __future__ import annotations

import time
from dataclasses import dataclass, field
from typing import Any

from aiohttp import web

from tests.loopback.errors import RefusedError, invalid, unknown
from tests.loopback.limits import EPHEMERAL, check_message, check_modal
from tests.loopback.messages import Messages, body_of
from tests.loopback.world import Channel, Json, Member, Message, World

REPLY, DEFERRED_REPLY, DEFERRED_UPDATE, UPDATE, CHOICES, MODAL = 4, 5, 6, 7, 8, 9


@dataclass
class Interaction:
    """One press or command, and what the bot did with it. `shown` holds what the presser alone sees."""

    id: int
    token: str
    channel: Channel
    member: Member
    kind: int
    source: Message | None = None
    sent_at: float = field(default_factory=time.monotonic)
    acknowledged_after: float | None = None
    callback: int | None = None
    modal: Json | None = None
    original: Message | None = None
    shown: list[Message] = field(default_factory=list)
    public: list[Message] = field(default_factory=list)

    @property
    def text(self) -> str:
        """Everything that the bot answered, in order: contents and embeds."""
        parts = []
        for message in self.shown + self.public:
            parts.append(message.content)
            for embed in message.embeds:
                parts += [embed.get("title") or "", embed.get("description") or ""]
                parts += [f"{entry['name']}: {entry['value']}" for entry in embed.get("fields", [])]
        return "\n".join(part for part in parts if part)

    @property
    def answered(self) -> bool:
        return bool(self.shown or self.public or self.modal or self.callback in (UPDATE, DEFERRED_UPDATE))


class Interactions:
    """`deadline` and `lifetime` are the documented 3 s and 15 min; a test may shorten them."""

    def __init__(self, platform: Any, messages: Messages) -> None:
        self.platform, self.messages = platform, messages
        self.world: World = platform.world
        self.deadline, self.lifetime = 3.0, 900.0
        self.all: dict[str, Interaction] = {}

    def routes(self) -> list[web.RouteDef]:
        hook = "/webhooks/{application}/{token}"
        return [
            web.post("/interactions/{interaction}/{token}/callback", self.callback),
            web.post(hook, self.follow_up),
            web.get(hook + "/messages/{message}", self.fetch),
            web.patch(hook + "/messages/{message}", self.edit),
            web.delete(hook + "/messages/{message}", self.delete),
        ]

    def send(
        self, kind: int, channel: Channel, member: Member, data: Json, source: Message | None = None
    ) -> Interaction:
        """Give an interaction to the bot. `kind`: 2 command, 3 component, 5 modal."""
        key = self.world.ids.next()
        made = Interaction(key, f"token-{key}", channel, member, kind, source)
        self.all[made.token] = made
        bot_bits = self.world.permissions(self.world.bot.id, channel)
        payload: Json = {
            "id": str(key),
            "application_id": str(self.world.application_id),
            "type": kind,
            "data": data,
            "guild_id": str(channel.guild_id),
            "channel_id": str(channel.id),
            "channel": channel.payload(),
            "member": member.payload(self.world.permissions(member.user.id, channel)),
            "token": made.token,
            "version": 1,
            "app_permissions": str(int(bot_bits)),
            "locale": member.locale,
            "guild_locale": "en-US",
            "entitlements": [],
            "authorizing_integration_owners": {"0": str(channel.guild_id)},
            "context": 0,
            "attachment_size_limit": 10_485_760,
        }
        if source is not None:
            payload["message"] = self.world.payload(source, True)
        self.platform.gateway.dispatch("INTERACTION_CREATE", payload)
        return made

    def _known(self, request: web.Request, allowed_seconds: float, code: int, what: str) -> Interaction:
        found = self.all.get(request.match_info["token"])
        if request.match_info.get("application", str(self.world.application_id)) != str(self.world.application_id):
            raise unknown("Application", 10002)
        if found is None or time.monotonic() - found.sent_at > allowed_seconds:
            raise unknown(what, code)
        return found

    async def callback(self, request: web.Request) -> web.Response:
        found = self._known(request, self.deadline, 10062, "interaction")
        body = await body_of(request)
        if found.callback is not None:
            raise RefusedError(400, 40060, "Interaction has already been acknowledged.")
        kind, data = body["type"], body.get("data") or {}
        if "attachments" in body:
            data["attachments"] = body["attachments"]
        self._carry_out(found, kind, data)
        found.callback, found.acknowledged_after = kind, time.monotonic() - found.sent_at
        self.platform.changed()
        if request.query.get("with_response") not in ("1", "true") or self.platform.gateway.few_words:
            return web.Response(status=204)
        return web.json_response(self._callback_answer(found, kind))

    def _carry_out(self, found: Interaction, kind: int, data: Json) -> None:
        if kind == MODAL:
            if found.kind == 5:
                raise invalid("type", "A modal cannot answer a modal")
            check_modal(data)
            found.modal = data
        elif kind == REPLY:
            check_message(data)
            found.original = self._show(found, data)
        elif kind == UPDATE:
            check_message(data, must_hold=False)
            self._update(found, data)
        elif kind == DEFERRED_REPLY:
            found.original = self._blank(found, data.get("flags") or 0)

    def _update(self, found: Interaction, data: Json) -> None:
        assert found.source is not None
        found.original = found.source
        if found.source.id in found.channel.messages:
            self.messages.change(found.channel, found.source, data)
        else:
            for key in ("content", "embeds", "components"):
                if key in data:
                    setattr(found.source, key, data[key] or ("" if key == "content" else []))

    def _callback_answer(self, found: Interaction, kind: int) -> Json:
        told: Json = {"id": str(found.id), "type": found.kind}
        answer: Json = {"interaction": told}
        if found.original is not None:
            told |= {"response_message_id": str(found.original.id)}
            told |= {"response_message_ephemeral": bool(found.original.flags & EPHEMERAL)}
            answer["resource"] = {"type": kind, "message": self.world.payload(found.original, True)}
        return answer

    def _blank(self, found: Interaction, flags: int) -> Message:
        return Message(
            self.world.ids.next(), found.channel.id, self.world.bot, flags=flags, webhook_id=self.world.application_id
        )

    def _show(self, found: Interaction, data: Json) -> Message:
        """Ephemeral answers live with the presser; others stand in the channel."""
        message = self._blank(found, data.get("flags") or 0)
        self._fill(message, data)
        self._place(found, message)
        return message

    def _fill(self, message: Message, data: Json) -> None:
        for key in ("content", "embeds", "components", "attachments", "allowed_mentions"):
            if key in data:
                setattr(message, key, data[key] or ("" if key == "content" else []))

    def _place(self, found: Interaction, message: Message) -> None:
        if message.flags & EPHEMERAL:
            found.shown.append(message)
        else:
            found.public.append(message)
            found.channel.messages[message.id] = message
            self.messages.tell("MESSAGE_CREATE", found.channel, message)
        self.platform.changed()

    async def follow_up(self, request: web.Request) -> web.Response:
        found, body = self._known(request, self.lifetime, 10015, "Webhook"), await body_of(request)
        if found.callback is None:
            raise unknown("Webhook", 10015)
        check_message(body)
        deferred = found.callback == DEFERRED_REPLY and found.original is not None
        if deferred and found.original not in found.shown + found.public:
            # The first follow-up completes the deferred answer, and is seen by whom that was for.
            assert found.original is not None
            self._fill(found.original, body)
            self._place(found, found.original)
            return web.json_response(self.world.payload(found.original, True))
        return web.json_response(self.world.payload(self._show(found, body), True))

    def _target(self, request: web.Request, found: Interaction) -> Message:
        key = request.match_info["message"]
        if key == "@original":
            if found.original is None:
                raise unknown("Message", 10008)
            return found.original
        for message in found.shown + found.public:
            if message.id == int(key):
                return message
        raise unknown("Message", 10008)

    async def fetch(self, request: web.Request) -> web.Response:
        found = self._known(request, self.lifetime, 10015, "Webhook")
        return web.json_response(self.world.payload(self._target(request, found), True))

    async def edit(self, request: web.Request) -> web.Response:
        found, body = self._known(request, self.lifetime, 10015, "Webhook"), await body_of(request)
        message = self._target(request, found)
        check_message(body, must_hold=False)
        self._fill(message, body)
        if message is found.source and message.id in found.channel.messages:
            self.messages.tell("MESSAGE_UPDATE", found.channel, message)
        elif message not in found.shown + found.public and message is not found.source:
            self._place(found, message)
        self.platform.changed()
        return web.json_response(self.world.payload(message, True))

    async def delete(self, request: web.Request) -> web.Response:
        found = self._known(request, self.lifetime, 10015, "Webhook")
        message = self._target(request, found)
        if message in found.shown:
            found.shown.remove(message)
        elif message.id in found.channel.messages:
            self.messages.remove(found.channel, message)
        self.platform.changed()
        return web.Response(status=204)
