"""Writes down what became of a message: verdict, case and answer in one transaction."""

from __future__ import annotations

from collections.abc import Callable

from bot.store.cases import CaseTable, NewCase
from bot.store.corrections import CorrectionTable
from bot.store.database import Database, Transaction
from bot.store.inbox import Accepted, InboxTable
from bot.store.outbox import OutboxTable
from bot.store.tags import TagRow, TagTable
from bot.tag import Answer
from bot.tongue import of_text
from bot.triage import Item, Triage
from bot.words.clean import clean_name, cut
from bot.words.phrases import HOME, load_phrases
from nlp.reading import Kind
from rules.catalogue import load_catalogue
from rules.products import load_products
from rules.recipe import Recipe

TITLE = 80
TITLE_NAMES = 4


class Recorder:
    """`mends`: what was said before can be changed, as on the platform and not in a terminal."""

    def __init__(
        self,
        database: Database,
        inbox: InboxTable,
        outbox: OutboxTable,
        clock: Callable[[], int],
        *,
        mends: bool = False,
    ) -> None:
        self._mends = mends
        self._corrections = CorrectionTable(database)
        self._database = database
        self._inbox = inbox
        self._outbox = outbox
        self._cases = CaseTable(database)
        self._tags = TagTable(database)
        self._clock = clock

    async def answer(self, message: Accepted, found: Triage) -> None:
        """Everything or nothing; nothing where the message was answered before."""
        async with self._database.transaction() as transaction:
            if not await self._inbox.close(transaction, message.message_id):
                return
            if not found.items:
                await self._without_recipe(transaction, message, found)
            for index, item in enumerate(found.items):
                new = new_case(item, message.message_id)
                case = await self._cases.write(transaction, new, item.case, self._clock())
                await self._cases.count_person(transaction, case, message.author_key)
                await self._tag(transaction, message, found, index, case, item.recipe)
                if found.amended and self._mends:
                    for earlier in await self._corrections.mends(transaction, message, case):
                        said = message.model_copy(update={"message_id": earlier})
                        await self._say(transaction, said, found.reply, found.more or None, found.reading.kind)
            await self._say(transaction, message, found.reply, found.more or None, found.reading.kind)

    async def set_aside(self, message: Accepted, error: str) -> None:
        """Out of the line with its reason, and a polite word to the one who asked."""
        async with self._database.transaction() as transaction:
            if await self._inbox.put_aside(transaction, message.message_id, error):
                words = load_phrases(of_text(message.text) or HOME).raw("kind", "unreadable")
                await self._say(transaction, message, words, None, Kind.CHATTER)

    async def _without_recipe(self, transaction: Transaction, message: Accepted, found: Triage) -> None:
        case = None
        if found.interest.queued:
            new = NewCase(
                brought_by=message.message_id,
                fingerprint=f"message:{message.message_id}",
                title=cut(clean_name(message.text, TITLE), TITLE),
                sketch=None,
                recipe=None,
                assessment=None,
                interest=found.interest,
            )
            case = await self._cases.write(transaction, new, None, self._clock())
            await self._cases.count_person(transaction, case, message.author_key)
        await self._tag(transaction, message, found, 0, case, None)

    async def _tag(
        self,
        transaction: Transaction,
        message: Accepted,
        found: Triage,
        index: int,
        case: int | None,
        recipe: Recipe | None,
    ) -> None:
        row = TagRow(
            message_id=message.message_id,
            recipe_index=index,
            case_id=case,
            author_key=message.author_key,
            channel=message.channel,
            kind=found.reading.kind,
            language=found.reading.language,
            recipe=None if recipe is None else recipe.model_dump_json(),
            tagged_at=message.received_at,
        )
        # A message that was set aside and tried again has no tag yet; one that was answered never comes here.
        await self._tags.add(transaction, row)

    async def _say(self, transaction: Transaction, message: Accepted, text: str, more: str | None, kind: Kind) -> None:
        answer = Answer(
            message_id=message.message_id,
            channel=message.channel,
            text=text,
            more=more,
            urgent=kind is Kind.URGENT,
        )
        await self._outbox.add(transaction, answer, self._clock())


def new_case(item: Item, message_id: str) -> NewCase:
    return NewCase(
        brought_by=message_id,
        fingerprint=item.sketch.fingerprint,
        title=title(item.recipe),
        sketch=item.sketch,
        recipe=item.recipe,
        assessment=item.assessment,
        interest=item.interest,
    )


def title(recipe: Recipe) -> str:
    """ "lip balm: crayon, coconut oil and 2 more", for lists; never the message's own words."""
    known = load_catalogue()
    names = []
    for line in recipe.lines:
        substance = known.get(line.substance)
        name = substance.name if substance is not None else clean_name(line.name, 24)
        if name and name not in names:
            names.append(name)
    said, phrases = ", ".join(names[:TITLE_NAMES]), load_phrases()
    if len(names) > TITLE_NAMES:
        said = phrases.say("case", "and_more", names=said, count=len(names) - TITLE_NAMES)
    product = load_products().get(recipe.product or "")
    if product is not None:
        said = phrases.say("case", "titled", product=product.name, names=said)
    return cut(said, TITLE)
