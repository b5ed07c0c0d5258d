"""Devices that were let in to the bench: each has a session of its own, which can be taken away."""

import hashlib
import secrets
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from typing import Any

from etchbook.store.benchnotes import BenchNotes
from etchbook.usecases.keeping.errors import NotThereError

LASTS = timedelta(days=180)
"""How long a session is good when nobody uses it."""
LONGEST = 40
APART = timedelta(minutes=1)
"""How often it is written down at most that a device was seen."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Device:
    """One device; `ended` is when its session was taken away, "" while it is good."""

    id: str
    name: str
    begun: str
    seen: str
    address: str
    ended: str


class Devices:
    """Who was let in. Of a session only a hash is written down, so that nobody can copy it from the disk."""

    def __init__(self, notes: BenchNotes) -> None:
        self._notes = notes

    def let_in(self, name: str, address: str) -> tuple[Device, str]:
        """A new device and the secret of its session, which is told to nobody else."""
        secret, now = secrets.token_urlsafe(32), _now()
        called = " ".join("".join(letter if letter.isprintable() else " " for letter in name).split())[:LONGEST]
        row = {"id": secrets.token_urlsafe(9), "name": called or "a device without a name", "begun": now, "seen": now,
               "address": address, "ended": ""}  # fmt: skip
        self._notes.add("devices", token=_hashed(secret), **row)
        return _device(row), secret

    def of(self, secret: str, address: str) -> Device | None:
        """The device whose session this is; None where it is unknown, too old or was taken away."""
        row = self._notes.row("devices", token=_hashed(secret), ended="") if secret else None
        if row is None:
            return None
        since = datetime.now(UTC) - datetime.fromisoformat(row["seen"])
        if since > LASTS:
            return None
        if since > APART or row["address"] != address:
            self._notes.change("devices", {"id": row["id"]}, seen=_now(), address=address)
        return _device(row)

    def every(self) -> list[Device]:
        """All devices, those seen last first; behind them those that were sent away."""
        rows = sorted(self._notes.rows("devices"), key=lambda row: str(row["seen"]), reverse=True)
        return sorted((_device(row) for row in rows), key=lambda one: bool(one.ended))

    def send_away(self, name: str) -> Device:
        """Take a device's session away; from its next request on it is a stranger again."""
        row = self._notes.row("devices", id=name)
        if row is None:
            raise NotThereError("there is no such device: load the page again")
        if not row["ended"]:
            self._notes.change("devices", {"id": name, "ended": ""}, ended=_now())
        return _device({**row, "ended": row["ended"] or _now()})


def _hashed(secret: str) -> str:
    return hashlib.sha256(secret.encode()).hexdigest()


def _now() -> str:
    return datetime.now(UTC).isoformat(timespec="seconds")


def _device(row: dict[str, Any]) -> Device:
    return Device(**{name: str(row[name]) for name in Device.__dataclass_fields__})
