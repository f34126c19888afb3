"""A loopback server that speaks the platform's documented gateway and REST protocol, for the real client."""

from tests.loopback.people import Person
from tests.loopback.server import TOKEN, Loopback, Request

__all__ = ["TOKEN", "Loopback", "Person", "Request"]
