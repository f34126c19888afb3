"""Who allows what where: CSV tables with a source on every row, validated when loaded."""

from rules.law.law import READ_ON, Law, load_law, place
from rules.law.rows import BanRow, ColourRow, LimitRow, Listing, OilRow
from rules.law.tables import LawError

__all__ = ["READ_ON", "BanRow", "ColourRow", "Law", "LawError", "LimitRow", "Listing", "OilRow", "load_law", "place"]
