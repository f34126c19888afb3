"""How much lye a recipe can use up: by its acids at once, by its fats where soap is made of it."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from math import floor

from rules.catalogue import Catalogue, Phase, Role, Substance
from rules.chemistry.composition import Composition
from rules.chemistry.tables import Row, Standing, read_table
from rules.chemistry.titratables import titratables_in
from rules.interval import Interval

LYES = ("sodium_hydroxide", "potassium_hydroxide")
NAOH_MASS = 39.997  # g/mol
# g of NaOH for 1 g of an ordinary triglyceride oil: the soap makers' charts (soap_charts, read) have 0.124 to 0.141.
ORDINARY_FAT = 0.135
# The most that a fat of those charts takes up, fractionated coconut oil apart: coconut oil in two of them.
HIGHEST_FAT = 0.191
# Acids of their own, taken up at room temperature as soon as lye meets them.
AT_ONCE = frozenset({"stearic_acid", "palmitic_acid", "oleic_acid", "lauric_acid", "myristic_acid", "carbomer"})
NO_FAT = frozenset({Role.ESSENTIAL_OIL, Role.FRAGRANCE, Role.ANTIOXIDANT, Role.UV_FILTER})
NAOH_PER_KOH = 39.997 / 56.106
SUPERFAT = 0.05  # of the fat is left unsaponified: common practice
WET_FOR_LYE, MOST_WATER = 0.5, 5.0  # g of water for 1 g of lye: less does not dissolve it, more makes no soap
POTASH_PURITY = 0.9  # flakes as sold hold about 10 % water: common practice of soap makers


class SaponificationRow(Row):
    """naoh: g of NaOH that 1 g takes up."""

    naoh: float


@lru_cache(maxsize=1)
def saponification_rows() -> dict[str, SaponificationRow]:
    return read_table("saponification", SaponificationRow)


def _takes_up(substance: Substance, generous: bool) -> float:
    row = saponification_rows().get(substance.id)
    if row is not None:
        return HIGHEST_FAT if generous and row.basis is Standing.MEMORY else row.naoh
    fat = substance.phase is Phase.OIL and substance.roles.isdisjoint(NO_FAT)
    return ORDINARY_FAT if fat else 0.0


def _uses(composition: Composition, catalogue: Catalogue, soap: bool, generous: bool) -> Iterator[Interval]:
    for portion in composition.portions:
        if portion.substance is None:
            continue
        if portion.substance.id in AT_ONCE or soap:
            yield portion.percent.scaled(_takes_up(portion.substance, generous))
    for name, acid in titratables_in(composition.parts, catalogue).items():
        if acid.protons > 0 and name not in AT_ONCE:
            yield acid.share.scaled(acid.protons * NAOH_MASS / acid.molar_mass)


def lye_in(composition: Composition) -> Interval:
    """All lye as NaOH, w/w % of the whole."""
    potash = composition.percent_of("potassium_hydroxide").scaled(NAOH_PER_KOH * POTASH_PURITY)
    return Interval.total((composition.percent_of("sodium_hydroxide"), potash))


def makes_soap(composition: Composition, catalogue: Catalogue, water: float) -> bool:
    """Whether the weights are those of soap making: fat for most of the lye, and water (w/w %) as its solution.

    Between half and half as much again of the lye that the fats take, in 0.5 to 5 times its weight of water: lotions
    and straighteners hold far more water or far less fat. Common practice of soap makers, no source.
    """
    lye = lye_in(composition).best
    fats = used_up(composition, catalogue, soap=True).best - used_up(composition, catalogue, soap=False).best
    return lye > 0 and 0.5 * fats <= lye <= 1.5 * fats and WET_FOR_LYE * lye <= water <= MOST_WATER * lye


def most_lye(composition: Composition, catalogue: Catalogue) -> dict[str, float]:
    """g of the one lye in it that its acids and fats take with 5 % to spare; empty where no grams are known.

    g = mass * NaOH that is used up, w/w * 0.95, and more of potash; rounded down, so that the rounding is never lye.
    """
    lyes = [lye for lye in LYES if composition.percent_of(lye).best > 0]
    if composition.total is None or len(lyes) != 1:
        return {}
    soda = composition.total.best * used_up(composition, catalogue, soap=True).best / 100 * (1 - SUPERFAT)
    grams = soda / (NAOH_PER_KOH * POTASH_PURITY) if lyes[0] == LYES[1] else soda
    return {"grams": floor(grams * 10) / 10 if grams >= 1 else floor(grams * 100) / 100}


def used_up(composition: Composition, catalogue: Catalogue, soap: bool, *, generous: bool = False) -> Interval:
    """NaOH that acids take up, and with `soap` the fats too, w/w % of the whole.

    `generous`: a fat whose figure is remembered counts with the most that a fat takes up, so that no remembered
    figure alone makes lye free.
    """
    return Interval.total(_uses(composition, catalogue, soap, generous))
