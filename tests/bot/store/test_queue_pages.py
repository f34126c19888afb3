"""A page of the queue in every order: read off an index, whatever the number of cases, and the right one."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from bot.store import Database, open_database
from bot.store.cases import LISTED, MANY, ORDERS, CaseState, CaseTable, Order
from rules.assessment import Verdict


@pytest.mark.parametrize("order", Order)
async def test_no_order_of_the_queue_sorts_all_cases_for_one_page(order: Order, tmp_path: Path) -> None:
    async with open_database(tmp_path / "w.db") as database:
        sql = f"EXPLAIN QUERY PLAN SELECT {LISTED} FROM cases WHERE state = 'queued' ORDER BY {ORDERS[order]} LIMIT 20"
        plan = " ".join(str(row["detail"]) for row in await database.rows(sql))
    assert "USING INDEX" in plan
    assert "TEMP B-TREE" not in plan


ROWS = """
WITH RECURSIVE n (i) AS (SELECT 0 UNION ALL SELECT i + 1 FROM n WHERE i < :many)
INSERT INTO cases (fingerprint, title, verdict, sketch, state, score, interest, first_seen, last_seen)
SELECT 'f' || i, 't', iif(i % 3, 'fix', 'avoid'),
  json_object('hazards', iif(i % 7, json_array(), json_array('eye_particle'))),
  json_extract(:states, '$[' || (i % 5) || ']'),
  (i * 37 % 101) / 101.0, json_object('why', json_array(), 'marks', json_object('severity', i % 11 / 11.0)), 0,
  i * 7919 % 1009
FROM n
"""
LISTING = "INSERT INTO case_hazards SELECT value, cases.id FROM cases, json_each(sketch, '$.hazards')"


async def fill(database: Database, many: int) -> CaseTable:
    """Cases in all states, every seventh with the hazard, every third to be avoided."""
    async with database.transaction() as transaction:
        await transaction.run(ROWS, {"many": many, "states": json.dumps(list(CaseState))})
        await transaction.run(LISTING)
    return CaseTable(database)


@pytest.mark.parametrize("many", [60, MANY * 7 + 700], ids=["rare hazard", "common hazard"])
async def test_every_page_is_what_sorting_all_cases_gives(many: int, tmp_path: Path) -> None:
    async with open_database(tmp_path / "w.db") as database:
        table = await fill(database, many)
        for order in (Order.SCORE, Order.NEWEST, Order.SEVERITY):
            for state in (None, CaseState.TAKEN):
                for verdict in (None, Verdict.AVOID):
                    for hazard in (None, "eye_particle"):
                        found = await table.page(state, order, verdict=verdict, hazard=hazard, limit=7, offset=3)
                        whole = (
                            "SELECT id FROM cases WHERE (:state IS NULL OR state = :state) AND (:verdict IS NULL OR"
                            " verdict = :verdict) AND (:hazard IS NULL OR sketch LIKE '%' || :hazard || '%')"
                            f" ORDER BY {ORDERS[order]} LIMIT 7 OFFSET 3"
                        )
                        rows = await database.rows(whole, {"state": state, "verdict": verdict, "hazard": hazard})
                        assert [case.id for case in found] == [row[0] for row in rows]
