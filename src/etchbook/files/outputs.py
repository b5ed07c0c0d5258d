"""Results written whole or not at all."""

import os
import tempfile
from collections.abc import Mapping
from pathlib import Path

from etchbook.files.errors import OutputError


def write_whole(path: Path, data: bytes) -> None:
    """Write one file so that at any moment the old or the new one is there, never a part."""
    write_all({path: data})


def write_all(pages: Mapping[Path, bytes]) -> None:
    """Write several files: all are laid down beside their places first, and only then put there.

    Parameters
    ----------
    pages : contents by path; a file that was there before is replaced
    """
    for path in pages:
        _check(path)
    _check_distinct(pages)
    laid: dict[Path, Path] = {}
    try:
        for path, data in pages.items():
            laid[path] = _lay_down(path, data)
        _put(laid)
    finally:
        for temporary in laid.values():
            temporary.unlink(missing_ok=True)


def _check(path: Path) -> None:
    folder = path.parent
    if path.is_dir():
        raise OutputError(f"{path} is a folder; name a file in it to write to")
    if not folder.exists():
        raise OutputError(f"the folder {folder} does not exist; make it first or choose another place")
    if not folder.is_dir():
        raise OutputError(f"{folder} is not a folder; choose another place for {path.name}")
    if not os.access(folder, os.W_OK | os.X_OK):
        raise OutputError(f"nothing may be written in the folder {folder}; choose another place for {path.name}")


def _check_distinct(pages: Mapping[Path, bytes]) -> None:
    places = [path.resolve() for path in pages]
    for place in places:
        if places.count(place) > 1:
            raise OutputError(f"two results were to be written to {place.name}; give each a name of its own")


def _lay_down(path: Path, data: bytes) -> Path:
    """The data in a temporary file in the same folder, so that moving it is one step."""
    temporary = None
    try:
        handle, name = tempfile.mkstemp(prefix=f".{path.name[:60]}.", suffix=".part", dir=path.parent)
        temporary = Path(name)
        with os.fdopen(handle, "wb") as out:
            out.write(data)
            out.flush()
            os.fsync(out.fileno())
        temporary.chmod(_mode(path))
        return temporary
    except OSError as error:
        if temporary is not None:
            temporary.unlink(missing_ok=True)
        raise OutputError(f"{path} could not be written ({_why(error)}); nothing was changed") from None


def _mode(path: Path) -> int:
    """Rights of the file that is replaced, or those that a new file would get."""
    if path.exists():
        return path.stat().st_mode & 0o777
    mask = os.umask(0)
    os.umask(mask)
    return 0o666 & ~mask


def _put(laid: Mapping[Path, Path]) -> None:
    """Move all into place; if one fails, those already moved are taken back."""
    before = {path: path.read_bytes() if path.exists() else None for path in laid} if len(laid) > 1 else {}
    moved: list[Path] = []
    try:
        for path, temporary in laid.items():
            temporary.replace(path)
            moved.append(path)
    except OSError as error:
        failed = next(path for path in laid if path not in moved)
        for path in moved:
            old = before[path]
            path.unlink() if old is None else path.write_bytes(old)
        raise OutputError(f"{failed} could not be written ({_why(error)}); nothing was changed") from None


def _why(error: OSError) -> str:
    return (error.strerror or "the disk refused").lower()
