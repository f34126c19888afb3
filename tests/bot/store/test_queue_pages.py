"""A page of the queue in every order: read off an index, whatever the number of cases."""

from __future__ import annotations

from pathlib import Path

import pytest

from bot.store import open_database
from bot.store.cases import LISTED, ORDERS, Order


@pytest.mark.parametrize("order", Order)
async def test_no_order_of_the_queue_sorts_all_cases_for_one_page(order: Order, tmp_path: Path) -> None:
    async with open_database(tmp_path / "w.db") as database:
        sql = f"EXPLAIN QUERY PLAN SELECT {LISTED} FROM cases WHERE state = 'queued' ORDER BY {ORDERS[order]} LIMIT 20"
        plan = " ".join(str(row["detail"]) for row in await database.rows(sql))
    assert "USING INDEX" in plan
    assert "TEMP B-TREE" not in plan
