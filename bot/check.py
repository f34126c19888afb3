"""Validates every table that ships, and counts what is known, from memory, or unsourced."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass, field

from pydantic import ValidationError

from bot.brief.demonstrations import load_demonstrations
from bot.terminal.demo import load_messages
from bot.words.help_lines import load_help_lines
from bot.words.phrases import HOME, NAMES, gaps, languages, load_phrases
from rules.assessment import Hazard, Jurisdiction, Verdict
from rules.catalogue import Catalogue, load_catalogue
from rules.law.law import load_law
from rules.products import load_products
from rules.recipe import Site, Unit
from rules.sources import Checked, load_sources

# Word lists that must name every member of an enumeration.
COMPLETE = {
    "verdict": Verdict,
    "ruled": Verdict,
    "site": Site,
    "hazard": Hazard,
    "hazard_name": Hazard,
    "written_unit": Unit,
    "written_units": Unit,
    "region": Jurisdiction,
}
NEEDED = ("reason", "instead", "virtue", "question")


@dataclass(slots=True)
class Report:
    """What was counted, and what is wrong; no fault means that everything loads."""

    lines: list[str] = field(default_factory=list)
    faults: list[str] = field(default_factory=list)


def check_tables() -> Report:
    report = Report()
    for part in (_catalogue, _products, _sources, _law, _phrases, _help_lines, _demonstrations, _demo):
        _guarded(part, report)
    report.lines.append(f"{len(report.faults)} faults")
    return report


def _guarded(part: Callable[[Report], None], report: Report) -> None:
    try:
        part(report)
    except ValidationError as error:
        report.faults += [f"{error.title}: {'.'.join(map(str, e['loc']))}: {e['msg']}" for e in error.errors()]
    except ValueError as error:
        report.faults += str(error).splitlines()


def _catalogue(report: Report) -> None:
    catalogue = load_catalogue()
    aliases = sum(len({row.name.lower(), *row.aliases}) for row in catalogue)
    with_inci = sum(row.inci is not None for row in catalogue)
    basis = Counter(row.basis for row in catalogue)
    report.lines += [
        f"substances: {len(catalogue)}, with {aliases} names, {with_inci} with an INCI name",
        f"families: {', '.join(f'{name} {count}' for name, count in _families(catalogue))}",
        "source of substances: " + ", ".join(f"{name.replace('_', ' ')} {n}" for name, n in basis.most_common()),
    ]
    named = [row.id for row in catalogue if row.source not in load_sources()]
    if named:
        report.lines.append(f"substances whose source is a text of its own, not an id of sources.toml: {len(named)}")
    no_density = sum(row.density is None for row in catalogue)
    report.lines.append(f"substances without a density of their own (the family's is used): {no_density}")


def _families(catalogue: Catalogue) -> list[tuple[str, int]]:
    return sorted(Counter(catalogue.family(row.id) for row in catalogue).items())


def _products(report: Report) -> None:
    products = load_products()
    report.lines.append(f"kinds of product: {len(products)}")


def _sources(report: Report) -> None:
    sources = load_sources()
    memory = sorted(row.id for row in sources.values() if row.checked is Checked.MEMORY)
    report.lines.append(f"sources: {len(sources)}, of which not re-read: {', '.join(memory) or 'none'}")


def _law(report: Report) -> None:
    load_law()
    report.lines.append("law tables: loaded, every row with a source")


def _phrases(report: Report) -> None:
    home = load_phrases(HOME)
    for table, members in COMPLETE.items():
        report.faults += [f"words/{HOME}: [{table}] lacks {m.value}" for m in members if not home.has(table, m)]
    report.faults += [f"words/{HOME}: no table [{table}]" for table in NEEDED if table not in home.tables]
    for language in languages():
        own = load_phrases(language).tables
        count = 0
        for table, phrases in own.items():
            if table in NAMES:
                continue
            for key, phrase in phrases.items():
                count += 1
                report.faults += _phrase_faults(language, table, key, phrase)
        report.lines.append(f"phrases in {language}: {count} in {len(own)} tables")


def _phrase_faults(language: str, table: str, key: str, phrase: str) -> list[str]:
    """A phrase must parse, and a translation may not ask for more than the English one gives."""
    label = f"words/{language}: {table}.{key}"
    try:
        wanted = gaps(phrase)
    except ValueError as error:
        return [f"{label}: {error}"]
    home = load_phrases(HOME)
    if not home.has(table, key):
        return [f"{label}: English has no such phrase"]
    extra = wanted - gaps(home.raw(table, key))
    return [f"{label}: unknown gaps {', '.join(sorted(extra))}"] if extra else []


def _help_lines(report: Report) -> None:
    lines = load_help_lines()
    report.lines.append(f"help lines: {', '.join(sorted(region.value for region in lines))}, each with its source")


def _demonstrations(report: Report) -> None:
    report.lines.append(f"bench demonstrations: {len(load_demonstrations())}, one a hazard and one for what is sound")


def _demo(report: Report) -> None:
    report.lines.append(f"demo messages: {len(load_messages())}")
