"""Which program holds something: a lock that the system lets go of when the program ends, however it ends."""

import os
import secrets
from pathlib import Path
from typing import IO


class Hold:
    """A name of our own, held for as long as this program runs.

    Parameters
    ----------
    folder : where the locks of the others lie too; where nothing may be written there, nobody else is asked
    """

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.name = secrets.token_hex(8)
        self._file: IO[bytes] | None = None
        try:
            folder.mkdir(mode=0o700, parents=True, exist_ok=True)
            self._file = self._place(self.name).open("wb")
            _locked(self._file)
        except OSError:
            self._file = None

    def abandoned(self, name: str) -> bool:
        """Whether the program that held this name is gone; its lock is then swept away."""
        place = self._place(name)
        try:
            with place.open("rb+") as held:
                if name == self.name or not _locked(held):
                    return False
        except FileNotFoundError:
            return True
        except OSError:
            return False
        place.unlink(missing_ok=True)
        return True

    def release(self) -> None:
        """Let go."""
        if self._file is not None:
            self._file.close()
            self._place(self.name).unlink(missing_ok=True)
            self._file = None

    def _place(self, name: str) -> Path:
        if not name.isalnum():
            raise ValueError(f'"{name}" is no name of a bench')
        return self.folder / f"{name}.lock"


def _locked(file: IO[bytes]) -> bool:
    """Take the lock of an open file; False where another program has it."""
    try:
        if os.name == "nt":
            import msvcrt

            msvcrt.locking(file.fileno(), msvcrt.LK_NBLCK, 1)  # type: ignore[attr-defined,unused-ignore]
        else:
            import fcntl

            fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError:
        return False
    return True
