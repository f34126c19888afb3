"""The platform's way to say no: an HTTP status with a JSON code."""

from __future__ import annotations

from aiohttp import web


class RefusedError(Exception):
    """An error answer. `code` is the documented JSON error code."""

    def __init__(self, status: int, code: int, message: str, path: str | None = None) -> None:
        super().__init__(message)
        self.status, self.code, self.message, self.path = status, code, message, path

    def response(self) -> web.Response:
        body: dict[str, object] = {"code": self.code, "message": self.message}
        if self.path:
            body["errors"] = {self.path: {"_errors": [{"code": "INVALID", "message": self.message}]}}
        return web.json_response(body, status=self.status)


def missing_access() -> RefusedError:
    return RefusedError(403, 50001, "Missing Access")


def missing_permissions() -> RefusedError:
    return RefusedError(403, 50013, "Missing Permissions")


def unknown(what: str, code: int) -> RefusedError:
    return RefusedError(404, code, f"Unknown {what}")


def invalid(path: str, message: str) -> RefusedError:
    return RefusedError(400, 50035, f"Invalid Form Body: {message}", path)
