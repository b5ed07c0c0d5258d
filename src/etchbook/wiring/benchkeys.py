"""The bench's own secret. It lies beside the person's settings, never in the book, which is copied and sent away."""

import os
import secrets
from pathlib import Path

from etchbook.wiring import shelf

LENGTH = 32


def key() -> bytes:
    """The secret from which form tokens are made; it outlives a restart, so that open pages stay good."""
    place = shelf.memo_folder() / "bench.key"
    try:
        held = place.read_bytes()
        if len(held) == LENGTH:
            return held
    except OSError:
        pass
    return _new(place)


def _new(place: Path) -> bytes:
    made = secrets.token_bytes(LENGTH)
    try:
        place.parent.mkdir(parents=True, exist_ok=True)
        part = place.with_name(f"{place.name}.{os.getpid()}")
        part.touch(mode=0o600)
        part.write_bytes(made)
        part.replace(place)
    except OSError:
        return made  # a home that cannot be written to: forms are good until the bench is started again
    return made
