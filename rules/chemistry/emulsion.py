"""Whether oil and water in it stay together."""

from __future__ import annotations

from rules.catalogue import Role, Substance
from rules.chemistry.acidity import Acidity
from rules.chemistry.composition import Composition
from rules.chemistry.phases import Phases, is_bought_emulsion
from rules.chemistry.results import Emulsion, Mixing
from rules.chemistry.thresholds import source_of, threshold
from rules.interval import Interval
from rules.recipe import Circumstance, Recipe

LEAST_OIL_PERCENT = 0.02
# Required HLB of an oil whose row gives none: vegetable oils. From memory.
USUAL_REQUIRED_HLB = (6.0, 8.0)
COLD_CREAM_BORAX_SHARE = (0.01, 0.3)  # against beeswax, where the soap forms in place; from memory


def emulsion(composition: Composition, phases: Phases, recipe: Recipe, acidity: Acidity) -> Emulsion:
    """HLB and amounts can rule an emulsion out; they cannot prove that one keeps.

    HLB = sum w_i HLB_i / sum w_i over emulsifiers, required HLB = weight mean over the oils: OCL 29 (2022)
    ocl210096.
    """
    emulsifier = Interval.total(share for _, share in phases.emulsifiers).clamped(0, 100)
    mixing, rule = _mixing(composition, phases, emulsifier, acidity)
    if mixing is Mixing.SEPARATES and _is_shaken(recipe, phases):
        mixing = Mixing.SHAKE
    return Emulsion(
        mixing=mixing,
        oil_percent=phases.all_oil.clamped(0, 100),
        water_percent=phases.water,
        emulsifier_percent=emulsifier,
        required_hlb=required_hlb(phases.oils),
        hlb=hlb_of(phases.emulsifiers),
        sources=(source_of(rule),),
    )


def required_hlb(oils: tuple[tuple[Substance, Interval], ...]) -> Interval | None:
    """Weight mean of the oils' required HLB for an oil-in-water emulsion, +-1."""
    total = sum(share.best for _, share in oils)
    if total <= 0:
        return None
    ranges = [(oil.required_hlb or USUAL_REQUIRED_HLB, share.best / total) for oil, share in oils]
    low = sum(r[0] * weight for r, weight in ranges)
    high = sum(r[1] * weight for r, weight in ranges)
    return Interval(low - 1, (low + high) / 2, high + 1)


def hlb_of(emulsifiers: tuple[tuple[Substance, Interval], ...]) -> Interval | None:
    """Weight mean HLB of the emulsifiers that have one."""
    known = [(e.hlb, share.best) for e, share in emulsifiers if e.hlb is not None]
    total = sum(weight for _, weight in known)
    if total <= 0:
        return None
    mean = sum(hlb * weight for hlb, weight in known) / total
    return Interval(mean - 1, mean, mean + 1)


def _is_shaken(recipe: Recipe, phases: Phases) -> bool:
    """Shaking helps a fat oil; drops of essential oil reach the skin undiluted all the same."""
    only_scent = all(Role.ESSENTIAL_OIL in oil.roles or Role.FRAGRANCE in oil.roles for oil, _ in phases.oils)
    return Circumstance.SHAKEN_BEFORE_USE in recipe.circumstances and not only_scent


def _mixing(composition: Composition, phases: Phases, emulsifier: Interval, acidity: Acidity) -> tuple[Mixing, str]:
    if phases.water.best < phases.little_water:
        return Mixing.NOT_TWO_PHASES, "little_water_percent"
    if acidity.soap_curdles:
        return Mixing.SEPARATES, "soap_curdles"
    if phases.emulsions.best > phases.oil.best * 2:
        return _in_bought_emulsion(composition, phases)
    if phases.oil.best < LEAST_OIL_PERCENT:
        return Mixing.NOT_TWO_PHASES, "emulsifier_least_share"
    if phases.alcohol.best > phases.water.best:
        return Mixing.CANNOT_TELL, "emulsifier_least_share"
    if phases.undissolved.best >= threshold("paste_powder_percent"):
        return Mixing.CANNOT_TELL, "paste_powder_percent"
    if _is_cold_cream(composition):
        return Mixing.HOLDS, "emulsifier_least_share"
    return _by_emulsifier(phases, emulsifier)


def _in_bought_emulsion(composition: Composition, phases: Phases) -> tuple[Mixing, str]:
    """A lotion carries a little more oil, and thins to milk that creams when watered down."""
    added_oil = phases.oil.best / phases.emulsions.best
    own = sum(
        p.percent.best * p.substance.contains.get("water", 0.6)
        for p in composition.portions
        if p.substance is not None and is_bought_emulsion(p)
    )
    dilution = 1 + max(0.0, phases.water.best - own) / phases.emulsions.best
    if dilution >= 2.5:
        return Mixing.SHAKE, "dilution_lost"
    if dilution >= threshold("dilution_lost") or added_oil > 0.15:
        return Mixing.CANNOT_TELL, "dilution_lost"
    return Mixing.HOLDS, "dilution_safe"


def _is_cold_cream(composition: Composition) -> bool:
    borax, beeswax = composition.percent_of("borax").best, composition.percent_of("beeswax").best
    return beeswax > 0 and COLD_CREAM_BORAX_SHARE[0] <= borax / beeswax <= COLD_CREAM_BORAX_SHARE[1]


def _by_emulsifier(phases: Phases, emulsifier: Interval) -> tuple[Mixing, str]:
    oil = phases.oil.best
    ratio = emulsifier.best / oil
    if ratio < threshold("emulsifier_least_share"):
        return Mixing.SEPARATES, "emulsifier_least_share"
    washing = sum(s.best for e, s in phases.emulsifiers if e.roles & {Role.SURFACTANT, Role.SOAP})
    scent_only = all(oil_.roles & {Role.ESSENTIAL_OIL, Role.FRAGRANCE} for oil_, _ in phases.oils)
    if washing > emulsifier.best / 2:
        thin_soap = not phases.thickened and all(Role.SOAP in e.roles for e, _ in phases.emulsifiers)
        return _by_surfactant(oil / washing, creams=thin_soap and not scent_only)
    if scent_only:
        sound = threshold("solubiliser_sound_ratio")
        mixing = Mixing.HOLDS if ratio >= sound else Mixing.CANNOT_TELL if ratio >= 1 else Mixing.SEPARATES
        return mixing, "solubiliser_sound_ratio"
    if ratio < threshold("emulsifier_sound_share"):
        return Mixing.CANNOT_TELL, "emulsifier_sound_share"
    need, have = required_hlb(phases.oils), hlb_of(phases.emulsifiers)
    if need is None or have is None:
        return Mixing.CANNOT_TELL, "hlb_slack"
    slack = threshold("hlb_slack")
    fits = need.low - slack <= have.best <= need.high + slack
    return (Mixing.HOLDS if fits else Mixing.CANNOT_TELL), "hlb_slack"


def _by_surfactant(oil_to_active: float, *, creams: bool) -> tuple[Mixing, str]:
    """Detergent takes up a little oil; in thin soap fat oil creams for want of thickness."""
    if creams and oil_to_active <= 1:
        return Mixing.SHAKE, "surfactant_holds_oil"
    if oil_to_active < threshold("surfactant_holds_oil"):
        return Mixing.HOLDS, "surfactant_holds_oil"
    return (Mixing.SHAKE if oil_to_active <= 1 else Mixing.SEPARATES), "surfactant_holds_oil"
