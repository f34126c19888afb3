"""People without their names: keyed hashes in place of ids, the key kept beside the database and not in
it."""

from __future__ import annotations

import hashlib
import hmac
import os
import secrets
from pathlib import Path

KEY_BYTES = 32


class People:
    """Turns an author's id into a key that means nothing without the secret."""

    def __init__(self, secret: bytes) -> None:
        self._secret = secret

    def key(self, author: str) -> str:
        """The same for the same author, 32 hexadecimal figures."""
        digest = hmac.new(self._secret, author.encode("utf-8", "surrogatepass"), hashlib.sha256)
        return digest.hexdigest()[:32]

    @classmethod
    def beside(cls, database: Path) -> People:
        """Reads the secret file beside the database, or makes it, readable by its owner only."""
        path = database.with_name(database.name + ".key")
        path.parent.mkdir(parents=True, exist_ok=True)
        try:
            handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
        except FileExistsError:
            return cls(_read(path))
        with os.fdopen(handle, "wb") as file:
            file.write(secrets.token_bytes(KEY_BYTES))
        return cls(_read(path))


def _read(path: Path) -> bytes:
    secret = path.read_bytes()
    if len(secret) != KEY_BYTES:
        raise ValueError(
            f"the key file {path} must hold {KEY_BYTES} bytes and holds {len(secret)}; put back its backup"
        )
    return secret
