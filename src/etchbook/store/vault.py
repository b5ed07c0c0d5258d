"""Originals on disk, each named by the SHA-256 of its bytes; written whole, then renamed, never changed."""

import hashlib
import os
import re
import secrets
import time
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from etchbook.usecases.keeping.errors import BookError

DAY = 86_400.0
_OURS = re.compile(r"[0-9a-f]{64}(\.[a-z0-9]{1,8})?")


@dataclass(frozen=True, kw_only=True, slots=True)
class Staged:
    """Bytes that lie whole on the disk but not yet in their place."""

    sha256: str
    suffix: str
    size: int
    path: Path | None


class Vault:
    """A folder of originals: ``originals/ab/ab12....jpg``, with ``incoming`` beside it for what is being written.

    A file goes from ``incoming`` to its place inside the transaction that names it, so a sweep that holds the
    book's writer lock never meets one that is on its way.
    """

    def __init__(self, folder: Path) -> None:
        self.folder = folder / "originals"
        self.incoming = folder / "incoming"

    def make(self) -> None:
        """Make the folders of a new book."""
        for folder in (self.folder, self.incoming):
            folder.mkdir(parents=True, exist_ok=True)

    def path(self, sha256: str, suffix: str) -> Path:
        """Where an original lies; names that are none of ours never become a path."""
        if not _OURS.fullmatch(f"{sha256}{suffix}"):
            raise BookError(f'"{sha256[:70]}{suffix[:20]}" is no name of an original; nothing was written')
        return self.folder / sha256[:2] / f"{sha256}{suffix}"

    def stage(self, sha256: str, data: bytes, suffix: str) -> Staged:
        """Write the bytes to `incoming` and wait until the disk has them."""
        if self.path(sha256, suffix).exists():
            return Staged(sha256=sha256, suffix=suffix, size=len(data), path=None)
        self.incoming.mkdir(exist_ok=True)
        place = self.incoming / f"{os.getpid()}-{secrets.token_hex(6)}.part"
        try:
            with place.open("xb") as out:
                out.write(data)
                out.flush()
                os.fsync(out.fileno())
        except OSError:
            place.unlink(missing_ok=True)
            raise
        return Staged(sha256=sha256, suffix=suffix, size=len(data), path=place)

    def place(self, staged: Staged) -> None:
        """Move staged bytes to their place; the same bytes already there are left as they are."""
        if staged.path is None:
            return
        target = self.path(staged.sha256, staged.suffix)
        target.parent.mkdir(exist_ok=True)
        staged.path.replace(target)
        target.chmod(0o444)
        _settle(target.parent)

    def discard(self, staged: Staged) -> None:
        """Throw staged bytes away when they did not get into their place."""
        if staged.path is not None:
            staged.path.unlink(missing_ok=True)

    def read(self, sha256: str, suffix: str) -> bytes:
        """The bytes of an original, checked against their name."""
        try:
            data = self.path(sha256, suffix).read_bytes()
        except FileNotFoundError:
            raise BookError(f"the original {sha256[:12]} is missing from the book's folder; restore a backup") from None
        if hashlib.sha256(data).hexdigest() != sha256:
            raise BookError(f"the original {sha256[:12]} is damaged; run `etchbook book verify`, then restore a backup")
        return data

    def lying(self) -> Iterator[tuple[str, Path]]:
        """Every original on the disk with the SHA-256 in its name."""
        for path in sorted(self.folder.glob("??/*")):
            yield path.name.partition(".")[0], path

    def sweep(self, known: frozenset[str]) -> int:
        """Remove what a stopped program left behind; call it only while holding the book's writer lock."""
        swept = 0
        for sha256, path in list(self.lying()):
            if sha256 not in known:
                path.unlink(missing_ok=True)
                swept += 1
        for path in self.incoming.glob("*.part") if self.incoming.exists() else ():
            if _abandoned(path):
                path.unlink(missing_ok=True)
                swept += 1
        return swept


def _abandoned(path: Path) -> bool:
    """Whether nobody is writing this temporary file any more."""
    number = path.name.partition("-")[0]
    try:
        if time.time() - path.stat().st_mtime > DAY:
            return True
        if os.name == "nt":  # there, asking after a process would end it
            return False
        os.kill(int(number), 0)
    except (ProcessLookupError, FileNotFoundError):
        return True
    except (ValueError, PermissionError, OverflowError):
        return False
    return False


def _settle(folder: Path) -> None:
    """Wait until the disk has the folder's new entry, where the system can say so."""
    if os.name == "nt":
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
