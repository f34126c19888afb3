"""What the platform holds: people, one guild's roles and channels, messages; and their documented payloads."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from datetime import UTC, datetime
from typing import Any

from tests.loopback.permissions import EVERYONE, Allow, resolve
from tests.loopback.snowflakes import Snowflakes, moment

Json = dict[str, Any]
MENTION = re.compile(r"<@!?(\d+)>")
TEXT, PUBLIC_THREAD, FORUM = 0, 11, 15


@dataclass
class User:
    id: int
    name: str
    bot: bool = False

    @property
    def mention(self) -> str:
        return f"<@{self.id}>"

    def payload(self) -> Json:
        return {
            "id": str(self.id),
            "username": self.name,
            "discriminator": "0",
            "global_name": self.name,
            "avatar": None,
            "bot": self.bot,
        }


@dataclass
class Role:
    id: int
    name: str
    permissions: int
    position: int = 0

    def payload(self) -> Json:
        return {
            "id": str(self.id),
            "name": self.name,
            "color": 0,
            "colors": {"primary_color": 0, "secondary_color": None, "tertiary_color": None},
            "hoist": False,
            "position": self.position,
            "permissions": str(int(self.permissions)),
            "managed": False,
            "mentionable": False,
            "flags": 0,
        }


@dataclass
class Member:
    user: User
    roles: list[Role] = field(default_factory=list)
    locale: str = "en-US"

    def payload(self, permissions: int | None = None) -> Json:
        data: Json = {
            "user": self.user.payload(),
            "roles": [str(role.id) for role in self.roles],
            "nick": None,
            "avatar": None,
            "joined_at": moment(self.user.id),
            "premium_since": None,
            "deaf": False,
            "mute": False,
            "flags": 0,
            "pending": False,
        }
        if permissions is not None:
            data["permissions"] = str(int(permissions))
        return data


@dataclass
class Message:
    id: int
    channel_id: int
    author: User
    content: str = ""
    embeds: list[Json] = field(default_factory=list)
    components: list[Json] = field(default_factory=list)
    attachments: list[Json] = field(default_factory=list)
    reference: Json | None = None
    nonce: str | None = None
    flags: int = 0
    edited: str | None = None
    pinged: list[User] = field(default_factory=list)
    allowed_mentions: Json | None = None
    webhook_id: int | None = None


@dataclass
class Channel:
    id: int
    type: int
    name: str
    guild_id: int
    parent_id: int | None = None
    owner_id: int | None = None
    overwrites: dict[int, tuple[int, int]] = field(default_factory=dict)
    available_tags: list[Json] = field(default_factory=list)
    applied_tags: list[str] = field(default_factory=list)
    archived: bool = False
    locked: bool = False
    messages: dict[int, Message] = field(default_factory=dict)

    def payload(self) -> Json:
        data: Json = {
            "id": str(self.id),
            "type": self.type,
            "name": self.name,
            "guild_id": str(self.guild_id),
            "parent_id": str(self.parent_id) if self.parent_id else None,
            "position": 0,
            "nsfw": False,
            "topic": None,
            "rate_limit_per_user": 0,
            "last_message_id": str(max(self.messages)) if self.messages else None,
            "permission_overwrites": [
                {"id": str(key), "type": 0, "allow": str(int(allow)), "deny": str(int(deny))}
                for key, (allow, deny) in self.overwrites.items()
            ],
            "flags": 0,
        }
        return data | self._forum() | self._thread()

    def _forum(self) -> Json:
        if self.type != FORUM:
            return {}
        return {
            "available_tags": self.available_tags,
            "default_reaction_emoji": None,
            "default_sort_order": None,
        }

    def _thread(self) -> Json:
        if self.type != PUBLIC_THREAD:
            return {}
        return {
            "owner_id": str(self.owner_id),
            "message_count": len(self.messages),
            "member_count": 1,
            "applied_tags": self.applied_tags,
            "thread_metadata": {
                "archived": self.archived,
                "locked": self.locked,
                "auto_archive_duration": 10_080,
                "archive_timestamp": datetime.now(UTC).isoformat(),
            },
        }


class World:
    """One guild, as small as the flows allow. Mutated only by the server and by the people of a test."""

    def __init__(self) -> None:
        self.ids = Snowflakes()
        self.application_id = self.ids.next()  # of an older application: not the id of its bot
        self.guild_id = self.ids.next()
        self.everyone = Role(self.guild_id, "@everyone", EVERYONE)
        self.bot_role = Role(self.ids.next(), "watchglass", 0, 1)
        self.roles = [self.everyone, self.bot_role]
        self.bot = User(self.ids.next(), "watchglass", bot=True)
        self.owner = User(self.ids.next(), "harbour-office")
        self.members = {self.bot.id: Member(self.bot, [self.bot_role]), self.owner.id: Member(self.owner)}
        self.channels: dict[int, Channel] = {}
        self.commands: list[Json] = []
        self.preferred_locale = "en-US"

    def person(self, name: str, *roles: Role, bot: bool = False, locale: str = "en-US") -> Member:
        user = User(self.ids.next(), name, bot)
        self.members[user.id] = Member(user, list(roles), locale)
        return self.members[user.id]

    def role(self, name: str, permissions: int = 0) -> Role:
        role = Role(self.ids.next(), name, permissions, len(self.roles))
        self.roles.append(role)
        return role

    def channel(self, name: str, kind: int = TEXT, parent: int | None = None, owner: int | None = None) -> Channel:
        made = Channel(self.ids.next(), kind, name, self.guild_id, parent, owner)
        self.channels[made.id] = made
        return made

    def deny_bot(self, channel: Channel, *bits: Allow) -> None:
        channel.overwrites[self.bot_role.id] = (0, sum(bits))

    def permissions(self, user_id: int, channel: Channel) -> Allow:
        """Threads take the overwrites of their parent."""
        seat = self.channels[channel.parent_id] if channel.type == PUBLIC_THREAD and channel.parent_id else channel
        member = self.members[user_id]
        keys = [role.id for role in member.roles] + [user_id]
        return resolve(
            int(self.everyone.permissions),
            [int(role.permissions) for role in member.roles],
            seat.overwrites.get(self.everyone.id, (0, 0)),
            [seat.overwrites[key] for key in keys if key in seat.overwrites],
        )

    def mentioned(self, content: str) -> list[User]:
        found = [int(found) for found in MENTION.findall(content)]
        return [self.members[key].user for key in dict.fromkeys(found) if key in self.members]

    def find(self, message_id: int) -> Message | None:
        for channel in self.channels.values():
            if message_id in channel.messages:
                return channel.messages[message_id]
        return None

    def readable(self, message: Message, content_intent: bool) -> bool:
        """Whether the platform shows the text of this message to the bot."""
        return content_intent or message.author is self.bot or self.bot in message.pinged

    def payload(self, message: Message, content_intent: bool, depth: int = 0) -> Json:
        data: Json = {
            "id": str(message.id),
            "channel_id": str(message.channel_id),
            "author": message.author.payload(),
            "content": message.content,
            "timestamp": moment(message.id),
            "edited_timestamp": message.edited,
            "tts": False,
            "mention_everyone": False,
            "mentions": [user.payload() for user in message.pinged],
            "mention_roles": [],
            "attachments": message.attachments,
            "embeds": message.embeds,
            "components": message.components,
            "pinned": False,
            "type": 19 if message.reference else 0,
            "flags": message.flags,
        }
        if message.nonce is not None:
            data["nonce"] = message.nonce
        if message.webhook_id is not None:
            data["webhook_id"] = str(message.webhook_id)
        if message.reference:
            data["message_reference"] = message.reference
            if depth == 0:
                quoted = self.find(int(message.reference["message_id"]))
                data["referenced_message"] = quoted and self.payload(quoted, content_intent, 1)
        if not self.readable(message, content_intent):
            data |= {"content": "", "embeds": [], "components": [], "attachments": []}
        return data

    def guild_payload(self) -> Json:
        threads = [c for c in self.channels.values() if c.type == PUBLIC_THREAD]
        return {
            "id": str(self.guild_id),
            "name": "Lantern Quay",
            "owner_id": str(self.owner.id),
            "roles": [role.payload() for role in self.roles],
            "emojis": [],
            "stickers": [],
            "features": [],
            "member_count": len(self.members),
            "members": [self.members[self.bot.id].payload()],
            "channels": [c.payload() for c in self.channels.values() if c.type != PUBLIC_THREAD],
            "threads": [c.payload() for c in threads if not c.archived],
            "presences": [],
            "voice_states": [],
            "stage_instances": [],
            "guild_scheduled_events": [],
            "joined_at": moment(self.bot.id),
            "large": False,
            "unavailable": False,
            "preferred_locale": self.preferred_locale,
            "nsfw_level": 0,
            "mfa_level": 0,
            "premium_tier": 0,
            "verification_level": 1,
            "default_message_notifications": 1,
            "explicit_content_filter": 0,
            "afk_timeout": 300,
            "system_channel_flags": 0,
        }
