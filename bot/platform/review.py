"""What the creator does with a case: take, correct, rule, drop, undo. The database decides, the card follows."""

from __future__ import annotations

import asyncio
from functools import partial

import discord

from bot.desk import NoSuchCaseError
from bot.platform.answers import acknowledge, whisper
from bot.platform.cards import numbers
from bot.platform.forms import correct_form, filled, rule_form, verdict_of
from bot.platform.house import House
from bot.platform.mending import Mending
from bot.platform.rights import Rights
from bot.record import title
from bot.store.cases import Case
from nlp.reading import Reading
from rules.assess import assess
from rules.assessment import Assessment
from rules.recipe import Recipe

CASE_DIGITS = 12


class Review:
    """Every act checks the role first; who and when stands in the audit trail."""

    def __init__(self, house: House, rights: Rights) -> None:
        self._house, self._rights, self._mending = house, rights, Mending(house)

    async def _case(self, interaction: discord.Interaction, argument: str) -> Case | None:
        """The case of a press by someone who may; None where a clear no was said."""
        if not await self._rights.need_creator(interaction):
            return None
        try:
            return await self._house.desk.show(case_number(argument))
        except NoSuchCaseError:
            await whisper(interaction, self._say("no_case", case=argument))
            return None

    def _say(self, key: str, **facts: object) -> str:
        return self._house.say(key, "platform_desk", **facts)

    async def take(self, interaction: discord.Interaction, argument: str, _values: list[str]) -> None:
        if case := await self._case(interaction, argument):
            await self._house.desk.take(case.id, str(interaction.user.id))
            await self._done(interaction, case, self._say("done_take", case=case.id))

    async def drop(self, interaction: discord.Interaction, argument: str, _values: list[str]) -> None:
        if case := await self._case(interaction, argument):
            await self._house.desk.drop(case.id, str(interaction.user.id))
            await self._done(interaction, case, self._say("done_drop", case=case.id))

    async def undo(self, interaction: discord.Interaction, argument: str, _values: list[str]) -> None:
        if case := await self._case(interaction, argument):
            async with self._mending.around(case):
                entry = await self._house.desk.undo(str(interaction.user.id), case.id)
            if entry is None:
                await whisper(interaction, self._say("nothing_to_undo", case=case.id))
                return
            act = self._say(entry.action.value).lower()
            await self._done(interaction, case, self._say("done_undo", action=act, case=case.id))

    async def _done(self, interaction: discord.Interaction, case: Case, words: str) -> None:
        self._house.touch(case.id)
        await whisper(interaction, words)

    async def numbers(self, interaction: discord.Interaction, argument: str, _values: list[str]) -> None:
        if case := await self._case(interaction, argument):
            ruling = await self._house.desk.rulings.standing(case.id)
            await whisper(interaction, numbers(self._house.words, case, ruling, self._house.settings.region))

    async def correct(self, interaction: discord.Interaction, argument: str, _values: list[str]) -> None:
        case = await self._case(interaction, argument)
        if case is None:
            return
        if case.recipe is None:
            await whisper(interaction, self._say("no_recipe"))
            return
        await interaction.response.send_modal(correct_form(self._house.words, case.id, lines_of(case.recipe)))

    async def corrected(self, interaction: discord.Interaction, argument: str, _values: list[str]) -> None:
        """Read again and judged again at once, by the same reader and rules."""
        case = await self._case(interaction, argument)
        if case is None or case.recipe is None or not await acknowledge(interaction, thinking=True):
            return
        text = filled(interaction.data or {}).get("lines", "")
        found = await self._apart(partial(self._reread, text, case.recipe))
        if found is None:
            await whisper(interaction, self._say("not_read"))
            return
        recipe, assessment = found
        await self._house.desk.correct(case.id, title(recipe), recipe, assessment, str(interaction.user.id))
        verdict = self._house.words.raw("verdict", assessment.verdict)
        await self._done(interaction, case, self._say("done_correct", verdict=verdict))

    def _reread(self, text: str, before: Recipe) -> tuple[Recipe, Assessment] | None:
        reading: Reading = self._house.reader.read(text)
        recipe = next((recipe for recipe in reading.recipes if recipe.lines), None)
        if recipe is None:
            return None
        # What the form does not say again stays as it was.
        kept = {
            name: getattr(before, name)
            for name in ("product", "sites", "contact", "keeping")
            if not getattr(recipe, name)
        }
        recipe = recipe.model_copy(update=kept)
        return recipe, assess(recipe, jurisdiction=self._house.settings.region)

    async def _apart(self, work: partial[tuple[Recipe, Assessment] | None]) -> tuple[Recipe, Assessment] | None:
        return await asyncio.get_running_loop().run_in_executor(self._house.executor, work)

    async def rule(self, interaction: discord.Interaction, argument: str, _values: list[str]) -> None:
        if case := await self._case(interaction, argument):
            await interaction.response.send_modal(rule_form(self._house.words, case.id, case.verdict))

    async def ruled(self, interaction: discord.Interaction, argument: str, _values: list[str]) -> None:
        case = await self._case(interaction, argument)
        if case is None:
            return
        given = filled(interaction.data or {})
        verdict, words = verdict_of(given.get("verdict", "")), given.get("words", "").strip()
        if verdict is None:
            said = discord.utils.escape_markdown(given.get("verdict", "")[:40])
            await whisper(interaction, self._say("no_verdict", said=said))
        elif not words:
            await whisper(interaction, self._say("no_words"))
        else:
            async with self._mending.around(case):
                await self._house.desk.rule(case.id, verdict, words, str(interaction.user.id))
            await self._done(interaction, case, self._say("done_rule", case=case.id))


def case_number(argument: str) -> int:
    """The number of a case from an id that came from outside; 0, which no case has, for anything else."""
    sound = argument.isascii() and argument.isdigit() and len(argument) <= CASE_DIGITS
    return int(argument) if sound else 0


def lines_of(recipe: Recipe) -> str:
    """The lines as they were written, one under the other, to be corrected."""
    return "\n".join(line.as_written.strip() for line in recipe.lines)
