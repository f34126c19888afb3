"""The only room that speaks SQL: one file a table, and the door to the database."""

from bot.store.database import Database, open_database
from bot.store.errors import StoreError

__all__ = ["Database", "StoreError", "open_database"]
