"""One answer to the platform: a reply, an edit of the reply that stands, or the answer to a command."""

from __future__ import annotations

import logging
from typing import Any

import discord

from bot.platform.buttons import asks_for_place, reply_view
from bot.platform.files import SAID
from bot.platform.house import House
from bot.platform.outcome import Outcome, outcome_of
from bot.platform.tongue import of_place
from bot.store.replies import Reply
from bot.tag import Outgoing
from bot.words.clean import cut
from bot.words.phrases import Phrases, load_phrases
from nlp.attachment import Refusal

log = logging.getLogger(__name__)
LONGEST = 2000
PICTURES = SAID[Refusal.OTHER_KIND]
TOKEN_MILLISECONDS = 14 * 60 * 1000  # the platform's quarter of an hour, less a minute
LOOKED_BACK = 2000  # posts after the question, in a channel that went on talking while the answer was late


class Delivery:
    """Sends at most one post for an answer, also when an earlier try may or may not have gone through."""

    def __init__(self, house: House, client: discord.Client) -> None:
        self._house, self._client = house, client
        self.doubtful: set[str] = set()
        # When a backup was put back (milliseconds UTC): what came before may have been answered after that backup.
        self.restored_at = 0

    async def deliver(self, outgoing: Outgoing) -> Outcome:
        """Tries once and writes down what is final. Raises StoreError."""
        known = await self._house.replies.get(outgoing.message_id)
        if known is not None and known.removed:
            await self._house.outbox.failed(outgoing.id, "removed")
            return Outcome.GONE
        try:
            post_id = await self._publish(outgoing, known)
        except Exception as error:
            return await self._troubled(outgoing, outcome_of(error), error)
        self.doubtful.discard(outgoing.id)
        await self._settle(outgoing, post_id)
        if known is not None and known.reply_id is None:
            seconds = (self._house.clock() - known.received_at) / 1000
            self._house.metrics.reply_seconds.observe(max(0.0, seconds))
        return Outcome.SENT

    async def _troubled(self, outgoing: Outgoing, found: Outcome, error: Exception) -> Outcome:
        log.warning("answer %s: %s (%s)", outgoing.id, found.value, type(error).__name__)
        if found is Outcome.LATER:
            self.doubtful.add(outgoing.id)
        elif found is not Outcome.FORBIDDEN:
            code = getattr(error, "code", 0)
            await self._house.outbox.failed(outgoing.id, f"{type(error).__name__} {code}")
        return found

    async def _settle(self, outgoing: Outgoing, post_id: str) -> None:
        if await self._house.outbox.sent(outgoing.id, post_id):
            return
        # While it was on its way the post was edited or deleted.
        known = await self._house.replies.get(outgoing.message_id)
        await self._house.replies.stands(outgoing.message_id, outgoing.channel, post_id)
        if known is not None and known.removed:
            await self._partial(outgoing.channel, post_id).delete()

    def _partial(self, channel: str, post: str) -> discord.PartialMessage:
        return self._client.get_partial_messageable(int(channel)).get_partial_message(int(post))

    async def _publish(self, outgoing: Outgoing, known: Reply | None) -> str:
        """The id of the post that now holds the answer."""
        text = self._words(outgoing, known)
        if known is not None and known.token is not None:
            if self._house.clock() - known.received_at < TOKEN_MILLISECONDS:
                return await self._follow_up(outgoing, known, text)
        elif known is not None and known.reply_id is not None and not outgoing.news:
            post = self._partial(outgoing.channel, known.reply_id)
            await post.edit(content=text, view=self._view(outgoing, public=True))
            return known.reply_id
        elif self._in_doubt(outgoing, known) and (found := await self._already_there(outgoing)):
            return found
        return await self._reply(outgoing, known, text)

    def _words(self, outgoing: Outgoing, known: Reply | None) -> str:
        """With what of the post was not read; an emergency is told nothing else."""
        text, unread = outgoing.text, known.unread if known is not None else None
        if unread is None or known is None or outgoing.news or outgoing.urgent:
            return cut(text, LONGEST) or "…"
        if unread == PICTURES and not known.text:
            return cut(text, LONGEST)  # the answer to an empty post says so already
        said = self._phrases(outgoing).raw("platform", unread)
        return f"{cut(text, LONGEST - len(said) - 1)} {said}"

    def _phrases(self, outgoing: Outgoing) -> Phrases:
        return load_phrases(outgoing.language or of_place(self._client.get_channel(int(outgoing.channel))))

    def _in_doubt(self, outgoing: Outgoing, known: Reply | None) -> bool:
        if outgoing.news:
            return False
        return outgoing.id in self.doubtful or (known is not None and known.received_at < self.restored_at)

    def _view(self, outgoing: Outgoing, *, public: bool) -> discord.ui.View:
        return reply_view(
            self._phrases(outgoing),
            outgoing.message_id,
            more=bool(outgoing.more),
            asks_place=asks_for_place(outgoing.text),
            public=public,
        )

    async def _reply(self, outgoing: Outgoing, known: Reply | None, text: str) -> str:
        """A reply to the post; the answer to a command whose time is over stands alone."""
        channel = self._client.get_partial_messageable(int(outgoing.channel))
        extras: dict[str, Any] = {}
        if known is None or known.token is None:
            extras["reference"] = discord.MessageReference(
                message_id=int(outgoing.message_id),
                channel_id=int(outgoing.channel),
                fail_if_not_exists=False,
            )
            extras["mention_author"] = True
        view = self._view(outgoing, public=True)
        sent = await channel.send(text, nonce=outgoing.id, view=view, **extras)
        return str(sent.id)

    async def _follow_up(self, outgoing: Outgoing, known: Reply, text: str) -> str:
        """The answer to a command, seen by its sender alone. A later one takes the place of the first."""
        hook = self._hook(known.token or "")
        view = self._view(outgoing, public=False)
        # An empty view may not be sent: a command's answer without numbers has no button.
        shown = view if view.children else discord.utils.MISSING
        if known.reply_id is not None:
            await hook.edit_message(int(known.reply_id), content=text, view=view if view.children else None)
            return known.reply_id
        sent = await hook.send(text, view=shown, ephemeral=True, wait=True)
        return str(sent.id)

    def _hook(self, token: str) -> discord.Webhook:
        """The door that a command opened; type 3 is an application's own, the only one that may whisper."""
        door: Any = {"id": self._client.application_id, "type": 3, "token": token}
        return discord.Webhook.from_state(door, self._client._connection)

    async def _already_there(self, outgoing: Outgoing) -> str | None:
        """Our own reply to this post, where an earlier try went through unseen."""
        me = self._client.user
        channel = self._client.get_partial_messageable(int(outgoing.channel))
        after = discord.Object(int(outgoing.message_id))
        async for post in channel.history(after=after, limit=LOOKED_BACK, oldest_first=True):
            quoted = post.reference.message_id if post.reference is not None else None
            if me is not None and post.author.id == me.id and str(quoted) == outgoing.message_id:
                return str(post.id)
        return None
