"""The text files beside a post: fetched from the platform's own host alone, measured before and while they come."""

from __future__ import annotations

import asyncio
import logging
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import aiohttp
import discord
import yarl

from bot.settings import Settings
from nlp.attachment import LARGEST, Refusal, refused_unopened, text_of

log = logging.getLogger(__name__)
HOST = yarl.URL("https://cdn.discordapp.com")
FOLDERS = ("/attachments/", "/ephemeral-attachments/")
REAL_API = yarl.URL("https://discord.com")
SECONDS = 5.0  # for all files of a post: the answer to it waits
PIECE = 8192
# An empty file has nothing that somebody would miss.
SAID: Mapping[Refusal, str] = {
    Refusal.OTHER_KIND: "pictures_unread",
    Refusal.TOO_LARGE: "files_too_large",
    Refusal.NOT_UTF8: "files_not_text",
}
AWAY = "files_away"


@dataclass(frozen=True, slots=True)
class Files:
    """`unread` is the key of the sentence that says what was not read; None where all was."""

    text: str = ""
    unread: str | None = None


class AttachedFiles:
    """Follows no other address, no redirect and no link of a message. Never raises for what a person attached."""

    def __init__(self, settings: Settings) -> None:
        api = yarl.URL(settings.api_url).origin()
        # Where the program talks to another server of the protocol, that one keeps the files as well.
        self._other = None if api == REAL_API else api

    def allowed(self, address: str) -> bool:
        """Whether this is an address of the platform's own files."""
        try:
            url = yarl.URL(address)
            origin = url.origin()
        except ValueError:
            return False
        if url.user is not None or url.password is not None:
            return False
        return origin == self._other or (origin == HOST and url.path.startswith(FOLDERS))

    async def read(self, attachments: Sequence[discord.Attachment]) -> Files:
        if not attachments:
            return Files()
        found: list[str | Refusal | None] = []
        try:
            async with asyncio.timeout(SECONDS), _session() as session:
                for attachment in attachments:
                    found.append(await self._one(session, attachment))
        except TimeoutError:
            found.append(None)
        text = "\n".join(part for part in found if isinstance(part, str))
        unread = [AWAY if part is None else SAID.get(part, "") for part in found if not isinstance(part, str)]
        return Files(text=text, unread=next(filter(None, unread), None))

    async def _one(self, session: aiohttp.ClientSession, attachment: discord.Attachment) -> str | Refusal | None:
        """Its text, why it was not read, or None where it could not be fetched."""
        if refusal := refused_unopened(attachment.filename, attachment.size):
            return refusal
        if not self.allowed(attachment.url):
            log.warning("attachment %d is not on the platform's own host", attachment.id)
            return None
        try:
            return await self._fetch(session, attachment)
        except (aiohttp.ClientError, OSError, ValueError) as error:
            log.warning("attachment %d could not be fetched: %s", attachment.id, type(error).__name__)
            return None

    async def _fetch(self, session: aiohttp.ClientSession, attachment: discord.Attachment) -> str | Refusal | None:
        async with session.get(yarl.URL(attachment.url, encoded=True), allow_redirects=False) as answer:
            if answer.status != 200:
                log.warning("attachment %d: status %d", attachment.id, answer.status)
                return None
            content = bytearray()
            async for piece in answer.content.iter_chunked(PIECE):
                content += piece
                if len(content) > LARGEST:
                    return Refusal.TOO_LARGE
        return text_of(attachment.filename, bytes(content))


def _session() -> aiohttp.ClientSession:
    """Without our token, and with nothing unpacked: a small file may hold a large one."""
    return aiohttp.ClientSession(auto_decompress=False, headers={"Accept-Encoding": "identity"})
