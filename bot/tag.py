"""A message that asks the bot for its word, as it comes from any door: the platform, a terminal, a file."""

from __future__ import annotations

from datetime import datetime
from enum import StrEnum

from rules.recipe import Frozen


class Tag(Frozen):
    """One message. `author` is the raw id or handle: it is hashed on acceptance and never stored."""

    message_id: str
    channel: str
    author: str
    text: str
    received_at: datetime
    urgent: bool = False


class Delivery(StrEnum):
    """Where an answer stands on its way out."""

    PENDING = "pending"
    SENT = "sent"
    FAILED = "failed"


class Answer(Frozen):
    """What is said to one message. `more` is the long form behind the button; `urgent` ones go first.

    `news` is said beside the first answer and does not replace it.
    """

    message_id: str
    channel: str
    text: str
    more: str | None
    urgent: bool
    news: bool = False


class Outgoing(Answer):
    """An answer on its way. `id` is also the nonce that the platform checks: `<message id>-<part>`.
    `language` is that of the message where it was read."""

    id: str
    part: int
    language: str | None = None
