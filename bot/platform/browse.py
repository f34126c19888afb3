"""The queue in pages, seen by the creator alone: sorted by demand, novelty, severity or uncertainty."""

from __future__ import annotations

import discord

from bot.platform.answers import whisper
from bot.platform.buttons import Item, button, select, view_of
from bot.platform.cards import card_embed, card_text, card_view, people_words
from bot.platform.house import House
from bot.platform.review import case_number
from bot.platform.rights import Rights
from bot.store.cases import CaseRow, CaseState, Order
from bot.words.clean import clean_words, cut

PAGE = 8
LAST_PAGE = 9999


class Browse:
    def __init__(self, house: House, rights: Rights) -> None:
        self._house, self._rights = house, rights

    async def open(self, interaction: discord.Interaction) -> None:
        """The first page, as an answer of its own."""
        if await self._rights.need_creator(interaction):
            text, view = await self._page(Order.SCORE, 0)
            await whisper(interaction, text, view)

    async def turn(self, interaction: discord.Interaction, argument: str, _values: list[str]) -> None:
        order, _, page = argument.partition(".")
        await self._show(interaction, order, page)

    async def sort(self, interaction: discord.Interaction, _argument: str, values: list[str]) -> None:
        await self._show(interaction, (values or [""])[0], "0")

    async def _show(self, interaction: discord.Interaction, order: str, page: str) -> None:
        """Turns the page in place. Both parts come from outside."""
        if not await self._rights.need_creator(interaction):
            return
        known = next((known for known in Order if known.value == order), Order.SCORE)
        number = min(int(page), LAST_PAGE) if page.isascii() and page.isdigit() else 0
        text, view = await self._page(known, number)
        await interaction.response.edit_message(content=text, view=view)

    async def case(self, interaction: discord.Interaction, _argument: str, values: list[str]) -> None:
        """One case with its buttons, for her alone; the card on the desk follows what she does."""
        if not await self._rights.need_creator(interaction):
            return
        number = (values or [""])[0]
        found = await self._house.desk.cases.get(case_number(number))
        if found is None:
            await whisper(interaction, self._say("no_case", case=discord.utils.escape_markdown(number[:20])))
            return
        ruling = await self._house.desk.rulings.standing(found.id)
        text = card_text(self._house.words, found, ruling, self._house.settings.region)
        view = card_view(self._house.words, found, bool(text.rest))
        await interaction.response.send_message(text.head, embed=card_embed(text), view=view, ephemeral=True)

    def _say(self, key: str, **facts: object) -> str:
        return self._house.say(key, "platform_desk", **facts)

    async def _page(self, order: Order, page: int) -> tuple[str, discord.ui.View]:
        cases = self._house.desk.cases
        count = await cases.count(CaseState.QUEUED)
        if count == 0:
            return self._say("empty"), view_of()
        last = (count - 1) // PAGE
        page = min(page, last)
        shown = await cases.page(CaseState.QUEUED, order, limit=PAGE, offset=page * PAGE)
        name = self._say(f"order_{order}")
        head = self._say("page", order=name, page=page + 1, pages=last + 1, count=count)
        return "\n".join([head, *map(self._row, shown)]), self._view(order, page, last, shown)

    def _row(self, case: CaseRow) -> str:
        words = self._house.words
        return self._say(
            "row",
            case=case.id,
            title=cut(clean_words(case.title), 70),
            verdict=words.raw("verdict", case.verdict) if case.verdict else "",
            people=people_words(words, case.people),
            score=f"{case.score:.2f}",
            why=case.why[0] if case.why else "",
        )

    def _view(self, order: Order, page: int, last: int, shown: list[CaseRow]) -> discord.ui.View:
        orders = [(known.value, self._say(f"order_{known}")) for known in Order]
        titles = [(str(case.id), cut(f"{case.id} · {case.title}", 90)) for case in shown]
        items: list[Item] = [
            select("desk_sort", "", self._say("order_prompt"), orders, chosen=order.value),
            select("desk_open", "", self._say("open_prompt"), titles),
        ]
        if page > 0:
            items.append(button("desk_page", f"{order}.{page - 1}", self._say("newer")))
        if page < last:
            items.append(button("desk_page", f"{order}.{page + 1}", self._say("older")))
        return view_of(*items)
