"""Is this the only process that asks for this bot's messages? A lock on a file of this machine says so.

Two processes that poll with one token take each other's messages; Telegram says so too (a conflict), but only later.
"""

from __future__ import annotations

import hashlib
import os
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from core.errors import BenchError


class PolledAlready(BenchError):
    """Another process of this machine polls with the same token."""


@contextmanager
def only_poller(token: str, api: str, folder: Path | None = None) -> Iterator[None]:
    """Holds the lock for this token and address; it ends with the process, however that ends. Raises PolledAlready."""
    name = hashlib.sha256(f"{api}|{token}".encode()).hexdigest()[:24]
    path = (folder or Path(tempfile.gettempdir())) / f"benchhand-{name}.lock"
    held = os.open(path, os.O_RDWR | os.O_CREAT, 0o600)
    try:
        try:
            _lock(held)
        except OSError:
            raise PolledAlready(
                "another benchhand serve already uses this token on this machine", hint="stop it first"
            ) from None
        yield
    finally:
        with suppress(OSError):
            os.close(held)


def _lock(held: int) -> None:
    try:
        import fcntl
    except ImportError:  # Windows has another way
        import msvcrt

        msvcrt.locking(held, msvcrt.LK_NBLCK, 1)  # type: ignore[attr-defined,unused-ignore]
    else:
        fcntl.flock(held, fcntl.LOCK_EX | fcntl.LOCK_NB)
