"""Health and metrics over HTTP, on loopback only: /health for a watchdog, /metrics for Prometheus."""

from __future__ import annotations

import logging
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager

from aiohttp import web

from bot.platform.house import House
from bot.platform.operator import Operator
from bot.settings import SettingsError

log = logging.getLogger(__name__)
HOST = "127.0.0.1"


@asynccontextmanager
async def health_server(house: House, operator: Operator) -> AsyncIterator[int | None]:
    """Serves while open; yields the port, None where the setting is off. Raises SettingsError for a port in use."""
    if house.settings.health_port is None:
        yield None
        return

    async def health(_request: web.Request) -> web.Response:
        state = await operator.measure()
        return web.json_response(state.figures(), status=200 if state.well else 503)

    async def metrics(_request: web.Request) -> web.Response:
        await operator.measure()
        return web.Response(body=house.metrics.text(), content_type="text/plain", charset="utf-8")

    app = web.Application()
    app.add_routes([web.get("/health", health), web.get("/metrics", metrics)])
    runner = web.AppRunner(app, access_log=None)
    await runner.setup()
    try:
        try:
            await web.TCPSite(runner, HOST, house.settings.health_port).start()
        except OSError:
            fault = f"health_port: {house.settings.health_port} is in use; set WATCHGLASS_HEALTH_PORT to a free one"
            raise SettingsError([fault]) from None
        port = int(runner.addresses[0][1])
        log.info("health and metrics on http://%s:%d", HOST, port)
        yield port
    finally:
        await runner.cleanup()
