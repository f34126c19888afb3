"""A busy evening at Lantern Quay: people post, the chemist decides, and everything that happened is remembered."""

from __future__ import annotations

import asyncio
import random
from collections import Counter

from tests.faults.program import Program
from tests.loopback import Loopback, Person
from tests.loopback.interactions import Interaction
from tests.loopback.world import Message

TEXTS = (
    "Lip balm: 1 tbsp beeswax, 2 tbsp coconut oil, {n} drops vitamin E",
    "Lip tint: 2 tbsp coconut oil, 1 tbsp beeswax, {n} crayons",
    "Face mist to keep in the bathroom: 1 cup rose water, {n} tbsp aloe vera juice",
    "Hair mask: {n} tbsp coconut milk, 1 tbsp honey, leave on for 20 minutes, then rinse",
    "Eye shadow: {n} tsp craft glitter, 1 tsp coconut oil",
    "is {n} tsp lemon juice ok in a face mask?",
    "good evening, day {n} of the market!",
    "help, {n} drops of lye went into my eye and it burns",
)
# What the chemist presses, and the state that the case has afterwards.
PRESSES = {"desk_take": "taken", "desk_drop": "dropped"}


class Evening:
    """Posts in several channels and presses on the desk, at a steady pace, until it is told to stop."""

    def __init__(self, platform: Loopback, seed: int) -> None:
        self.platform, self.dice = platform, random.Random(seed)
        world = platform.world
        self.channels = [world.channel(f"lane-{number}") for number in range(6)]
        self.desk = world.channel("desk")
        self.team = world.role("chemist")
        self.creator = Person(platform, world.person("quay-chemist", self.team))
        self.people = [Person(platform, world.person(f"gull-{number}")) for number in range(60)]
        self.posts: list[Message] = []
        self.presses: list[tuple[int, str, Interaction]] = []

    @property
    def settings(self) -> dict[str, str]:
        return {"WATCHGLASS_DESK_CHANNEL": str(self.desk.id), "WATCHGLASS_CREATOR_ROLES": str(self.team.id)}

    def post(self, text: str | None = None) -> Message:
        text = text or self.dice.choice(TEXTS).format(n=self.dice.randint(1, 40))
        self.posts.append(self.dice.choice(self.people).asks(self.dice.choice(self.channels), text))
        return self.posts[-1]

    def press(self) -> None:
        cards = [post for post in self.desk.messages.values() if post.author.bot]
        if not cards:
            return
        act, case = self.dice.choice(list(PRESSES)), self.dice.randint(1, max(1, len(cards)))
        pressed = self.creator.presses_id(cards[-1], f"wg:{act}:{case}")
        self.presses.append((case, act, pressed))

    async def run(self, a_second: float) -> None:
        """Ends when cancelled."""
        while True:
            await asyncio.sleep(self.dice.expovariate(a_second))
            self.post()
            if self.dice.random() < 0.1:
                self.press()

    async def all_answered(self, seconds: float = 60) -> None:
        await self.platform.until(lambda: len(self.answers()) == len(self.posts), seconds)

    def answers(self) -> Counter[int]:
        """How many posts of the bot answer each message."""
        return Counter(
            int(post.reference["message_id"])
            for channel in self.channels
            for post in channel.messages.values()
            if post.author.bot and post.reference
        )

    def faults(self, program: Program) -> list[str]:
        """Everything that is not as it was promised, a line each; nothing may be in hand any more."""
        return [*self._tags(program), *self._store(program), *self._decisions(program)]

    def _tags(self, program: Program) -> list[str]:
        answers = self.answers()
        accepted = {int(row[0]) for row in program.rows("SELECT message_id FROM inbox")}
        found = [f"{post.id} was not accepted" for post in self.posts if post.id not in accepted]
        found += [f"{key} was accepted and not answered" for key in accepted if not answers[key]]
        return found + [f"{key} was answered {count} times" for key, count in answers.items() if count > 1]

    def _store(self, program: Program) -> list[str]:
        found = [str(row[0]) for row in program.rows("PRAGMA integrity_check") if row[0] != "ok"]
        found += [f"a stray row in {row[0]}" for row in program.rows("PRAGMA foreign_key_check")]
        halves = {
            "answered without an answer": (
                "SELECT COUNT(*) FROM inbox WHERE state = 'done' AND message_id NOT IN (SELECT message_id FROM outbox)"
            ),
            "answered without a tag": (
                "SELECT COUNT(*) FROM inbox WHERE state = 'done' AND message_id NOT IN (SELECT message_id FROM tags)"
            ),
            "set aside": "SELECT COUNT(*) FROM inbox WHERE state = 'aside'",
            "failed to go out": "SELECT COUNT(*) FROM outbox WHERE state = 'failed'",
            "cases that count other people than their tags": (
                "SELECT COUNT(*) FROM cases WHERE people <>"
                " (SELECT COUNT(DISTINCT author_key) FROM tags WHERE case_id = cases.id)"
            ),
        }
        counted = {what: program.rows(sql)[0][0] for what, sql in halves.items()}
        return found + [f"{count} {what}" for what, count in counted.items() if count]

    def _decisions(self, program: Program) -> list[str]:
        """What she was told is done is kept; what is kept agrees with itself."""
        kept = Counter((int(row[0]), str(row[1])) for row in program.rows("SELECT case_id, action FROM audit"))
        told = Counter(
            (case, act.removeprefix("desk_"))
            for case, act, pressed in self.presses
            if pressed.shown and f"{case}" in pressed.text and "no case" not in pressed.text.lower()
        )
        found = [f"she was told of {count} x {what}, kept are {kept[what]}" for what, count in told.items()
                 if kept[what] < count]  # fmt: skip
        last = "SELECT case_id, action FROM audit WHERE id IN (SELECT MAX(id) FROM audit GROUP BY case_id)"
        states = dict(program.rows("SELECT id, state FROM cases"))
        for case, action in program.rows(last):
            if states[case] != PRESSES[f"desk_{action}"]:
                found.append(f"case {case} is {states[case]} and was last: {action}")
        return found
