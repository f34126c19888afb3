"""The commands: a recipe that is pasted or clicked on, help, one's own data, and the desk and the state for staff."""

from __future__ import annotations

from typing import Any, Literal

import discord
from discord import app_commands

from bot.platform.answers import acknowledge, tell, whisper
from bot.platform.browse import Browse
from bot.platform.cooldown import Turn
from bot.platform.deskview import DeskView
from bot.platform.forms import filled, paste_form
from bot.platform.house import House
from bot.platform.intake import Intake, Post, spoken
from bot.platform.operator import Operator
from bot.platform.privacy import Privacy
from bot.platform.rights import Rights
from bot.platform.tongue import of_press
from bot.platform.translation import SAYS
from bot.words.phrases import load_phrases


class Commands:
    """Registers everything on a tree; what a command does stands in its own method."""

    def __init__(
        self,
        house: House,
        intake: Intake,
        rights: Rights,
        privacy: Privacy,
        browse: Browse,
        desk: DeskView,
        operator: Operator,
    ) -> None:
        self._house, self._intake, self._rights = house, intake, rights
        self._privacy, self._browse, self._desk, self._operator = privacy, browse, desk, operator

    def _name(self, key: str) -> app_commands.locale_str:
        return app_commands.locale_str(self._house.words.raw("command_name", key), key=key)

    def _says(self, key: str) -> app_commands.locale_str:
        return app_commands.locale_str(self._house.words.raw(SAYS, key), key=key, table=SAYS)

    def register(self, tree: app_commands.CommandTree[Any]) -> None:
        self._register_recipes(tree)
        for key, act in (
            ("help", self.help),
            ("my_data", self._privacy.my_data),
            ("forget_me", self._privacy.forget_me),
        ):
            tree.add_command(self._plain(key, act))
        self._register_quiet(tree)
        staff = discord.Permissions(0)
        for key, act in (
            ("desk", self._browse.open),
            ("rebuild", self.rebuild),
            ("status", self._operator.status),
        ):
            command = self._plain(key, act)
            command.default_permissions = staff
            tree.add_command(command)

    def _plain(self, key: str, act: Any) -> app_commands.Command[Any, ..., None]:
        async def run(interaction: discord.Interaction) -> None:
            self._house.metrics.presses.labels(key).inc()
            await act(interaction)

        return app_commands.Command(name=self._name(key), description=self._says(key), callback=run)

    def _register_recipes(self, tree: app_commands.CommandTree[Any]) -> None:
        async def check(interaction: discord.Interaction, recipe: str = "") -> None:
            await self.check(interaction, recipe)

        async def check_post(interaction: discord.Interaction, message: discord.Message) -> None:
            await self.check_post(interaction, message)

        app_commands.describe(recipe=self._says("option_recipe"))(check)
        tree.add_command(
            app_commands.Command(name=self._name("check"), description=self._says("check"), callback=check)
        )
        tree.add_command(app_commands.ContextMenu(name=self._name("check_recipe"), callback=check_post))

    def _register_quiet(self, tree: app_commands.CommandTree[Any]) -> None:
        async def quiet(interaction: discord.Interaction, state: Literal["on", "off"] = "on") -> None:
            await self._privacy.set_quiet(interaction, state == "on")

        app_commands.describe(state=self._says("option_on"))(quiet)
        tree.add_command(
            app_commands.Command(name=self._name("quiet"), description=self._says("quiet"), callback=quiet)
        )

    async def check(self, interaction: discord.Interaction, recipe: str) -> None:
        """With a recipe it is read; without one a form opens for a long paste."""
        if spoken(recipe):
            await self._accept(interaction, Post(spoken(recipe)), "slash")
        else:
            await interaction.response.send_modal(paste_form(load_phrases(of_press(interaction))))

    async def pasted(self, interaction: discord.Interaction, _argument: str, _values: list[str]) -> None:
        text = spoken(filled(interaction.data or {}).get("recipe", ""))
        await self._accept(interaction, Post(text), "form")

    async def check_post(self, interaction: discord.Interaction, message: discord.Message) -> None:
        """The platform hands over the text of the post that was clicked on, whoever wrote it."""
        me = interaction.client.user
        if me is not None and message.author.id == me.id:
            await tell(interaction, "own_post")
        elif self._house.people.key(str(message.author.id)) in self._house.quiet:
            await tell(interaction, "quiet_subject")
        elif not (text := spoken(message.content)) and not message.attachments:
            await tell(interaction, "nothing_to_read")
        else:
            await self._accept(interaction, Post(text, tuple(message.attachments)), "menu", message.id)

    async def _accept(self, interaction: discord.Interaction, post: Post, way: str, subject: int | None = None) -> None:
        """First a sign within the three seconds, then on disk; the answer comes through the outbox like any other."""
        author = self._house.people.key(str(interaction.user.id))
        if self._intake.turn(author, post.text) is not Turn.GO:
            await tell(interaction, "cool_down", seconds=self._intake.seconds_left(author))
            return
        if interaction.channel_id is None or not await acknowledge(interaction, thinking=True):
            return
        post = await self._intake.whole(post)
        if not post.text:
            await tell(interaction, post.unread or "nothing_to_read")
            return
        key = str(interaction.id)
        await self._house.replies.expect(
            key, str(interaction.channel_id), interaction.token, None if subject is None else str(subject)
        )
        channel, author_id, at = interaction.channel_id, interaction.user.id, interaction.created_at
        await self._intake.accept(key, channel, author_id, post, at, way)

    async def help(self, interaction: discord.Interaction) -> None:
        me = interaction.client.user
        await tell(interaction, "text", "platform_help", mention=me.mention if me else "@me")

    async def rebuild(self, interaction: discord.Interaction) -> None:
        if not await self._rights.need_creator(interaction):
            return
        if self._house.settings.desk_channel is None:
            await whisper(interaction, self._house.say("no_desk", "platform_desk"))
            return
        await self._desk.rebuild()
        await whisper(interaction, self._house.say("rebuilt", "platform_desk"))
