"""The substances: one TOML file a family, validated when loaded."""

from rules.catalogue.catalogue import Catalogue, CatalogueError, load_catalogue, read_tables
from rules.catalogue.substance import Edge, Particle, Phase, Role, Shelf, Substance

__all__ = [
    "Catalogue",
    "CatalogueError",
    "Edge",
    "Particle",
    "Phase",
    "Role",
    "Shelf",
    "Substance",
    "load_catalogue",
    "read_tables",
]
