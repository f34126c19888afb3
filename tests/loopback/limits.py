"""The documented limits of a message, checked as the platform checks them: over one is a 400."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from tests.loopback.errors import RefusedError, invalid

Json = dict[str, Any]
EMBED_LIMITS = {"title": 256, "description": 4096}
EPHEMERAL = 1 << 6


def check_message(body: Json, *, must_hold: bool = True) -> None:
    """Raise a RefusedError for what the platform would not take. `must_hold`: an empty message is one of those."""
    content, embeds, components = (
        body.get("content") or "",
        body.get("embeds") or [],
        body.get("components") or [],
    )
    if len(content) > 2000:
        raise invalid("content", "Must be 2000 or fewer in length.")
    if must_hold and not (content.strip() or embeds or components or body.get("attachments")):
        raise RefusedError(400, 50006, "Cannot send an empty message")
    if len(str(body.get("nonce") or "")) > 25:
        raise invalid("nonce", "Must be 25 or fewer in length.")
    if len(embeds) > 10:
        raise invalid("embeds", "Must be 10 or fewer in length.")
    if sum(_check_embed(embed) for embed in embeds) > 6000:
        raise invalid("embeds", "Embed size exceeds maximum size of 6000")
    if any(len(file.get("description") or "") > 1024 for file in body.get("attachments") or ()):
        raise invalid("attachments.description", "Must be 1024 or fewer in length.")
    _check_rows(components)
    _check_mentions(body.get("allowed_mentions"))


def _check_embed(embed: Json) -> int:
    total = 0
    for key, limit in EMBED_LIMITS.items():
        total += _measured(embed.get(key), limit, f"embeds.{key}")
    total += _measured((embed.get("footer") or {}).get("text"), 2048, "embeds.footer")
    total += _measured((embed.get("author") or {}).get("name"), 256, "embeds.author")
    fields = embed.get("fields") or []
    if len(fields) > 25:
        raise invalid("embeds.fields", "Must be 25 or fewer in length.")
    for entry in fields:
        if not entry["name"].strip() or not entry["value"].strip():
            raise invalid("embeds.fields", "This field is required")
        total += _measured(entry["name"], 256, "embeds.fields.name")
        total += _measured(entry["value"], 1024, "embeds.fields.value")
    return total


def _measured(text: str | None, limit: int, where: str) -> int:
    if len(text or "") > limit:
        raise invalid(where, f"Must be {limit} or fewer in length.")
    return len(text or "")


def _check_rows(rows: list[Json]) -> None:
    if len(rows) > 5:
        raise invalid("components", "Must be between 1 and 5 in length.")
    seen: set[str] = set()
    for row in rows:
        if row["type"] != 1 or not 1 <= len(row["components"]) <= 5:
            raise invalid("components", "An action row holds 1 to 5 components")
        if any(item["type"] != 2 for item in row["components"]) and len(row["components"]) > 1:
            raise invalid("components", "A select stands alone in its row")
        for item in row["components"]:
            _check_item(item, seen)


def _check_item(item: Json, seen: set[str]) -> None:
    custom_id = item.get("custom_id")
    if item["type"] == 2 and len(item.get("label") or "") > 80:
        raise invalid("components.label", "Must be 80 or fewer in length.")
    if item["type"] == 3 and not 1 <= len(item["options"]) <= 25:
        raise invalid("components.options", "Must be between 1 and 25 in length.")
    for option in item.get("options", ()):
        if not 1 <= len(option["label"]) <= 100 or not 1 <= len(option["value"]) <= 100:
            raise invalid("components.options", "Must be between 1 and 100 in length.")
    if item.get("style") != 5:
        if not custom_id or len(custom_id) > 100:
            raise invalid("components.custom_id", "Must be between 1 and 100 in length.")
        if custom_id in seen:
            raise invalid("components.custom_id", "Component custom id cannot be duplicated")
        seen.add(custom_id)


def _check_mentions(allowed: Json | None) -> None:
    if allowed and "users" in (allowed.get("parse") or []) and allowed.get("users"):
        raise invalid("allowed_mentions", "parse and users are mutually exclusive")


def check_modal(modal: Json) -> None:
    if not 1 <= len(modal["title"]) <= 45:
        raise invalid("data.title", "Must be between 1 and 45 in length.")
    if not 1 <= len(modal["custom_id"]) <= 100 or not 1 <= len(modal["components"]) <= 5:
        raise invalid("data.components", "Must be between 1 and 5 in length.")
    for item in walk(modal["components"]):
        if item["type"] == 4 and len(item.get("value") or "") > min(4000, item.get("max_length") or 4000):
            raise invalid("data.components.value", "Must be 4000 or fewer in length.")
        if item["type"] == 18 and not 1 <= len(item["label"]) <= 45:
            raise invalid("data.components.label", "Must be between 1 and 45 in length.")
        if len(item.get("placeholder") or "") > 100 or len(item.get("description") or "") > 100:
            raise invalid("data.components", "Must be 100 or fewer in length.")


def walk(components: list[Json]) -> Iterator[Json]:
    """Every component, those inside rows and labels too."""
    for item in components:
        yield item
        yield from walk(item.get("components") or [])
        if item.get("component"):
            yield from walk([item["component"]])
