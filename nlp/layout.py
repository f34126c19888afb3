"""How a message is laid out: lines, sentences, brackets, token by token."""

from __future__ import annotations

from dataclasses import dataclass

from nlp.tokens import Words

_OPEN = {"(": ")", "[": "]", "{": "}"}
_ENDS = frozenset({".", ";", "!", "?", "•"})
_LONGEST_BRACKET = 60  # tokens; a bracket that stays open longer was never meant as one


@dataclass(frozen=True, slots=True)
class Layout:
    """line, sentence: their number for each token. bracket: number of the innermost closed bracket, 0 outside."""

    line: list[int]
    sentence: list[int]
    bracket: list[int]
    brackets: list[tuple[int, int]]

    def inside(self, at: int) -> tuple[int, int] | None:
        """Bounds of the bracket around a token, its signs included."""
        number = self.bracket[at] if 0 <= at < len(self.bracket) else 0
        return self.brackets[number - 1] if number else None


def layout_of(words: Words) -> Layout:
    line = sentence = 0
    lines, sentences = [], []
    for at, word in enumerate(words.norm):
        lines.append(line)
        sentences.append(sentence)
        if word[0] == "\n":
            line += 1
            sentence += 1
        elif word in _ENDS and not (word == "." and _abbreviates(words, at)):
            sentence += 1
    bracket, brackets = _brackets(words)
    return Layout(lines, sentences, bracket, brackets)


def _abbreviates(words: Words, at: int) -> bool:
    """ "tsp. of": a full stop glued to a short word, with a small letter or figure behind it."""
    following = words.text[at + 1][:1] if at + 1 < len(words) else ""
    return words.glued(at) and len(words.at(at - 1)) <= 4 and (following.islower() or following.isdigit())


def _brackets(words: Words) -> tuple[list[int], list[tuple[int, int]]]:
    """Outermost pairs on one line; what is not closed does not count."""
    bracket = [0] * len(words)
    pairs: list[tuple[int, int]] = []
    opened = depth = 0
    for at, word in enumerate(words.norm):
        if depth and (word[0] == "\n" or at - opened > _LONGEST_BRACKET):
            depth = 0
        if word in _OPEN:
            opened = opened if depth else at
            depth += 1
        elif depth and word in _OPEN.values():
            depth -= 1
            if not depth:
                pairs.append((opened, at + 1))
                bracket[opened : at + 1] = [len(pairs)] * (at + 1 - opened)
    return bracket, pairs
