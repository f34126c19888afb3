"""How fast messages are read, side by side with the bare tokenizer: `python -m tests.bench.reading`.

Prints one figure a line and asserts nothing: the figures belong to the machine that they were taken on. Beside
them stands a general-purpose parser of ingredient lines: `pip install ingredient-parser-nlp` into a throw-away
environment for this run alone. It wants the NLTK tagger averaged_perceptron_tagger_eng, and is left out with a word
where either is missing. Hostile texts have their own run: `python -m tests.bench.hostile`.
"""

from __future__ import annotations

import resource
import statistics
import sys
import time
from collections.abc import Callable, Sequence
from importlib import import_module

from nlp.reader import Reader
from nlp.training.annotated import Split, load_corpus
from rules.catalogue import load_catalogue
from rules.products import load_products

ROUNDS = 3


def rate(run: Callable[[Sequence[str]], object], texts: Sequence[str]) -> float:
    """Messages a second of processor time, the best of several rounds."""
    best = 0.0
    for _ in range(ROUNDS):
        start = time.process_time()
        run(texts)
        best = max(best, len(texts) / (time.process_time() - start))
    return best


def single(reader: Reader, texts: Sequence[str]) -> tuple[float, float]:
    """Median and 99th percentile of one message at a time, milliseconds of processor time."""
    taken = []
    for text in texts:
        start = time.process_time()
        reader.read(text)
        taken.append((time.process_time() - start) * 1000)
    return statistics.median(taken), statistics.quantiles(taken, n=100)[98]


def other_parser() -> Callable[[Sequence[str]], object] | None:
    try:
        parse = import_module("ingredient_parser").parse_ingredient
        parse("1 tsp castor oil")
    except (ImportError, LookupError, OSError) as error:
        sys.stderr.write(f"ingredient-parser-nlp is left out: {error}\n")
        return None
    return lambda texts: [parse(line) for text in texts for line in text.splitlines() if line.strip()]


def main() -> None:
    texts = [message.text for split in (Split.TRAIN, Split.DEV) for message in load_corpus(split)]
    started = time.process_time()
    reader = Reader(load_catalogue(), load_products())
    say = sys.stdout.write
    say(f"load {time.process_time() - started:.2f} s\n")
    say(f"messages {len(texts)}, {statistics.mean(map(len, texts)):.0f} characters on average\n")
    say(f"read_many {rate(lambda t: list(reader.read_many(t)), texts):.0f} messages/s\n")
    with reader.pipeline.select_pipes(disable=["urgent"]):
        calm = rate(lambda t: list(reader.read_many(t)), texts)
    say(f"read_many without the component of the larger model {calm:.0f} messages/s\n")
    say(f"tokenizer alone {rate(lambda t: [reader.pipeline.make_doc(text) for text in t], texts):.0f} messages/s\n")
    other = other_parser()
    if other is not None:
        say(f"ingredient-parser-nlp {rate(other, texts[:60]):.0f} messages/s\n")
    median, slowest = single(reader, texts)
    say(f"one at a time: median {median:.2f} ms, 99th percentile {slowest:.2f} ms\n")
    say(f"resident memory at most {resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024:.0f} MB\n")


if __name__ == "__main__":
    main()
