"""A photograph as a pyramid of tiles, so that a phone loads only what it shows; kept beside the book.

Level 0 is one tile; each further level has twice as many pixels along a side, the last has every pixel.
"""

import io
import shutil
import tempfile
from pathlib import Path
from threading import Lock
from typing import Any

from etchbook.trials.records import PictureEntry
from etchbook.usecases.keeping.errors import NotThereError
from etchbook.usecases.keeping.looking import held
from etchbook.usecases.keeping.ports import BookStore
from etchbook.wiring.apart import SLOW
from etchbook.wiring.laidout import laid_out, with_folder

SIDE = 512
FOLDER = "tiles"
_locks: dict[str, Lock] = {}
_lock = Lock()


def levels(width: int, height: int) -> int:
    """How many levels a pyramid has."""
    return max(0, (max(width, height) - 1) // SIDE).bit_length() + 1


def size_of(entry: PictureEntry) -> dict[str, Any]:
    """A picture's size and tiles, as a page wants to know them."""
    return {
        "picture": entry.code,
        "width": entry.width,
        "height": entry.height,
        "levels": levels(entry.width, entry.height),
        "side": SIDE,
    }


def tile(store: BookStore, book: Path, code: str, place: tuple[int, int, int]) -> bytes:
    """One tile as JPEG; a level is cut when its first tile is asked for, so that the coarse ones come at once.

    Parameters
    ----------
    place : level, column, row
    """
    entry, _ = held(store, code, PictureEntry)
    level, column, row = place
    folder = book / FOLDER / entry.sha256 / str(level)
    if level < levels(entry.width, entry.height) and not folder.is_dir():
        with _turn(str(folder)):
            if not folder.is_dir():
                with_folder(store, entry.sha256, entry.suffix, entry.name,
                            lambda photo: SLOW.ask(cut, str(photo), str(folder), level))  # fmt: skip
    path = folder / f"{column}-{row}.jpg"
    if not path.is_file():
        raise NotThereError(f"{entry.code} has no tile {column}, {row} at level {level}")
    return path.read_bytes()


def cut(photo: str, folder: str, level: int) -> None:
    """Cut one level of a photograph that lies decoded; its folder appears only when it is whole (carried out apart)."""
    import numpy as np
    from PIL import Image

    from etchbook.picture.reduce import block_mean
    from etchbook.report.photos import eight_bits

    target = Path(folder)
    target.parent.mkdir(parents=True, exist_ok=True)
    rgb = laid_out(photo).rgb
    block = 2 ** (levels(rgb.shape[1], rgb.shape[0]) - 1 - level)
    light = eight_bits(rgb) if block == 1 else np.round(block_mean(rgb, block) * 255).astype(np.uint8)
    part = Path(tempfile.mkdtemp(dir=target.parent))
    try:
        for row in range(0, light.shape[0], SIDE):
            for column in range(0, light.shape[1], SIDE):
                data = io.BytesIO()
                Image.fromarray(light[row : row + SIDE, column : column + SIDE]).save(data, "JPEG", quality=88)
                (part / f"{column // SIDE}-{row // SIDE}.jpg").write_bytes(data.getvalue())
        if not target.is_dir():
            part.rename(target)
    finally:
        shutil.rmtree(part, ignore_errors=True)


def _turn(name: str) -> Lock:
    with _lock:
        return _locks.setdefault(name, Lock())
