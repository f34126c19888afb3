"""A small shelf of substances with published densities and contents, and short ways to write a recipe
down."""

from __future__ import annotations

from typing import Any

from rules.catalogue import Catalogue, Substance
from rules.chemistry.chemistry import Chemistry, analyse
from rules.chemistry.composition import Composition, compose
from rules.interval import Interval
from rules.recipe import Amount, Line, Recipe, Unit

USDA = "USDA Standard Reference WEIGHT file"


def _row(substance_id: str, phase: str, density: float | None = None, spread: float = 0.02, **more: Any) -> Substance:
    """One substance; density in g/ml within +-spread."""
    bounds = None if density is None else (density * (1 - spread), density, density * (1 + spread))
    defaults: dict[str, Any] = {"name": substance_id.replace("_", " "), "shelf": "cosmetic", "source": USDA}
    return Substance.model_validate(
        {"id": substance_id, "phase": phase, "density": bounds, "basis": "read", **defaults, **more}
    )


ROWS = (
    _row("water", "water", 0.998, ph=(5.5, 8.5)),
    _row("rose_water", "water", 1.0, contains={"water": 0.998}, ph=(4.0, 6.0)),
    _row("witch_hazel", "water", 0.985, contains={"water": 0.886, "ethanol": 0.113}, ph=(3.0, 5.5)),
    _row("aloe_vera_juice", "water", 1.005, contains={"water": 0.99}, ph=(4.0, 5.5)),
    _row("aloe_vera_gel", "water", 1.02, contains={"water": 0.97}, ph=(4.0, 7.0)),
    _row(
        "lemon_juice",
        "water",
        1.031,
        contains={"water": 0.923, "citric_acid": 0.053},
        ph=(2.0, 2.6),
        roles=["acid"],
    ),
    _row(
        "squeezed_lemon",
        "water",
        1.031,
        contains={"water": 0.923, "citric_acid": 0.053},
        ph=(2.0, 2.6),
        roles=["acid", "perishable", "food"],
    ),
    _row("bentonite", "powder", 0.75, 0.2, ph=(8.5, 10.5)),
    _row(
        "cider_vinegar",
        "water",
        1.01,
        contains={"water": 0.94, "acetic_acid": 0.05},
        ph=(2.4, 3.4),
        roles=["acid"],
    ),
    _row("milk", "emulsion", 1.031, contains={"water": 0.88, "lactose": 0.048}, ph=(6.3, 6.7), shelf="food"),
    _row("glycerin", "solute", 1.261, roles=["humectant"], molar_mass=92.094),
    _row(
        "honey",
        "solute",
        1.433,
        contains={"water": 0.171, "fructose": 0.409, "glucose": 0.358, "sucrose": 0.009},
    ),
    _row("fructose", "solute"),
    _row("glucose", "solute"),
    _row("lactose", "solute"),
    _row("sucrose", "solute", 0.845, 0.1),
    _row("ethanol", "alcohol", 0.789),
    _row("isopropanol", "alcohol", 0.785),
    _row("rubbing_alcohol_91", "alcohol", 0.81, contains={"isopropanol": 0.882, "water": 0.118}),
    _row("vodka", "alcohol", 0.94, contains={"ethanol": 0.336, "water": 0.664}),
    _row("coconut_oil", "oil", 0.921, melts_celsius=24.5, required_hlb=(8.0, 8.0)),
    _row("sweet_almond_oil", "oil", 0.921, required_hlb=(6.0, 7.0)),
    _row("olive_oil", "oil", 0.913, required_hlb=(7.0, 7.0)),
    _row("shea_butter", "oil", 0.91, melts_celsius=35.0),
    _row("beeswax", "oil", 0.6, 0.1, melts_celsius=63.0),
    _row("lavender_essential_oil", "oil", 0.885, roles=["essential_oil"]),
    _row("tocopherol", "oil", 0.95, roles=["antioxidant", "looks_like_preservative"]),
    _row("mica", "powder", 0.5, 0.4, particle={"micrometres": (10, 20, 60), "edge": "plate", "density": 2.8}),
    _row("glitter", "solid", 0.65, particle={"micrometres": (100, 200, 400), "edge": "sharp", "density": 1.38}),
    _row("kaolin", "powder", 0.45, 0.4, particle={"micrometres": (0.5, 2, 10), "edge": "soft", "density": 2.6}),
    _row("xanthan_gum", "powder", 0.6, roles=["thickener"]),
    _row("flour", "powder", 0.528, 0.1, contains={"water": 0.12}),
    _row("chamomile_flowers", "powder", 0.1, 0.5, roles=["food"]),
    _row("magnesium_sulfate", "solute"),
    _row("epsom_salt", "solute", 0.95, 0.1, contains={"water": 0.512, "magnesium_sulfate": 0.488}),
    _row("sodium_chloride", "solute", 1.234),
    _row("sodium_bicarbonate", "solute", 0.933, 0.05, roles=["alkali", "carbonate"]),
    _row("citric_acid", "solute", 0.95, 0.1, roles=["acid"]),
    _row("acetic_acid", "solute", roles=["acid"]),
    _row("ascorbic_acid", "solute", 0.85, 0.1, roles=["acid"]),
    _row("potassium_sorbate", "solute", 0.5, roles=["preservative"]),
    _row("sodium_benzoate", "solute", 0.45, roles=["preservative"]),
    _row("phenoxyethanol", "solute", 1.1, roles=["preservative"]),
    _row("ethylhexylglycerin", "solute", 0.95, roles=["booster"]),
    _row("emulsifying_wax", "oil", 0.5, roles=["emulsifier"], hlb=11.0),
    _row("polysorbate_20", "surfactant", 1.1, roles=["solubiliser", "surfactant"], hlb=16.7),
    _row("soap_salt", "surfactant", roles=["soap", "surfactant", "emulsifier"], hlb=18.0),
    _row(
        "castile_soap",
        "surfactant",
        1.03,
        contains={"water": 0.66, "soap_salt": 0.28, "glycerin": 0.05},
        roles=["soap"],
    ),
    _row("detergent", "surfactant", roles=["surfactant"], hlb=40.0),
    _row(
        "shampoo",
        "surfactant",
        1.03,
        contains={"water": 0.8, "detergent": 0.12, "phenoxyethanol": 0.008},
        ph=(4.5, 7.5),
    ),
    _row(
        "lotion",
        "emulsion",
        0.98,
        contains={
            "water": 0.75,
            "olive_oil": 0.12,
            "emulsifying_wax": 0.05,
            "glycerin": 0.05,
            "phenoxyethanol": 0.009,
        },
        ph=(4.5, 7.0),
    ),
    _row("egg_white", "water", 1.027, contains={"water": 0.876}, piece_grams=(30, 33, 36), ph=(7.6, 9.0)),
    _row("hydrogen_peroxide", "solute", roles=["oxidiser"]),
    _row("peroxide_3", "water", 1.01, contains={"water": 0.97, "hydrogen_peroxide": 0.03}, ph=(3.0, 5.0)),
    _row("borax", "solute", 0.85, 0.1, roles=["alkali"]),
)
SHELF = Catalogue({row.id: row for row in ROWS}, {row.id: "shelf" for row in ROWS})

Written = tuple[float | tuple[float, float] | None, str | None, str | None]


def line(quantity: float | tuple[float, float] | None, unit: str | None, substance: str | None, **more: Any) -> Line:
    """One ingredient line; a pair of figures is a range, None an ingredient without an amount."""
    name = substance or "mystery powder"
    if quantity is None:
        return Line(as_written=name, name=name, span=(0, len(name)), substance=substance, **more)
    low, high = quantity if isinstance(quantity, tuple) else (quantity, quantity)
    amount = Amount(
        quantity=Interval(low, low / 2 + high / 2, high),
        unit=Unit(unit) if unit else None,
        written=(low, high),
    )
    return Line(as_written=name, name=name, span=(0, len(name)), substance=substance, amount=amount, **more)


def recipe(*lines: Written | Line, **more: Any) -> Recipe:
    return Recipe(lines=tuple(one if isinstance(one, Line) else line(*one) for one in lines), **more)


def composed(*lines: Written | Line, **more: Any) -> Composition:
    return compose(recipe(*lines, **more), SHELF)


def analysed(*lines: Written | Line, **more: Any) -> Chemistry:
    written = recipe(*lines, **more)
    return analyse(written, compose(written, SHELF), SHELF)
