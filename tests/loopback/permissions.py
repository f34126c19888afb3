"""Permission bits and the documented way in which roles and channel overwrites add up."""

from __future__ import annotations

from enum import IntFlag


class Allow(IntFlag):
    ADMINISTRATOR = 1 << 3
    VIEW_CHANNEL = 1 << 10
    SEND_MESSAGES = 1 << 11
    MANAGE_MESSAGES = 1 << 13
    EMBED_LINKS = 1 << 14
    ATTACH_FILES = 1 << 15
    READ_MESSAGE_HISTORY = 1 << 16
    MANAGE_THREADS = 1 << 34
    SEND_MESSAGES_IN_THREADS = 1 << 38


EVERYONE = (
    Allow.VIEW_CHANNEL
    | Allow.SEND_MESSAGES
    | Allow.EMBED_LINKS
    | Allow.ATTACH_FILES
    | Allow.READ_MESSAGE_HISTORY
    | Allow.SEND_MESSAGES_IN_THREADS
)
EVERYTHING = Allow((1 << 50) - 1)


def resolve(
    base: int, role_bits: list[int], everyone_overwrite: tuple[int, int], others: list[tuple[int, int]]
) -> Allow:
    """Base and role permissions, then the overwrite of everyone, then those of roles and member together."""
    total = base
    for bits in role_bits:
        total |= bits
    if total & Allow.ADMINISTRATOR:
        return EVERYTHING
    allow, deny = everyone_overwrite
    total = (total & ~deny) | allow
    denied = allowed = 0
    for allow, deny in others:
        allowed |= allow
        denied |= deny
    return Allow((total & ~denied) | allowed)
