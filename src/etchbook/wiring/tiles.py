"""A photograph as a pyramid of tiles, so that a phone loads only what it shows; kept beside the book."""

import io
import multiprocessing
import shutil
import tempfile
from pathlib import Path
from threading import Lock

from etchbook.trials.records import PictureEntry
from etchbook.usecases import RefusedError
from etchbook.usecases.keeping.errors import NotThereError
from etchbook.usecases.keeping.looking import held
from etchbook.usecases.keeping.ports import BookStore
from etchbook.wiring.benchjobs import forget, spool

SIDE = 512
FOLDER = "tiles"
_lock = Lock()


def levels(width: int, height: int) -> int:
    """How many levels a pyramid has; level 0 is one tile, the last has every pixel."""
    return max(0, (max(width, height) - 1) // SIDE).bit_length() + 1


def tile(store: BookStore, book: Path, code: str, place: tuple[int, int, int]) -> bytes:
    """One tile as JPEG; the whole pyramid is made, in a process of its own, when the first is asked for.

    Parameters
    ----------
    place : level, column, row
    """
    entry, _ = held(store, code, PictureEntry)
    folder = book / FOLDER / entry.sha256
    if not folder.is_dir():
        with _lock:
            if not folder.is_dir():
                _made_apart(store.original(entry.sha256), entry.suffix, folder)
    level, column, row = place
    path = folder / f"{level}-{column}-{row}.jpg"
    if not path.is_file():
        raise NotThereError(f"{entry.code} has no tile {column}, {row} at level {level}")
    return path.read_bytes()


def _made_apart(original: bytes, suffix: str, folder: Path) -> None:
    spooled = spool(original, f"x{suffix}")
    try:
        worker = multiprocessing.get_context("spawn").Process(target=make, args=(spooled, str(folder)), daemon=True)
        worker.start()
        worker.join()
    finally:
        forget(spooled)
    if not folder.is_dir():
        raise RefusedError("the picture could not be cut into tiles: see whether the book's folder may be written to")


def make(photo: str, folder: str) -> None:
    """Cut a photograph into tiles; the folder appears only when all of them are there."""
    from PIL import Image

    from etchbook.files import load_photo
    from etchbook.report.photos import eight_bits

    target = Path(folder)
    target.parent.mkdir(parents=True, exist_ok=True)
    image = Image.fromarray(eight_bits(load_photo(Path(photo)).rgb))
    apart = Path(tempfile.mkdtemp(dir=target.parent))
    try:
        for level in reversed(range(levels(*image.size))):
            _cut(image, level, apart)
            image = image.resize(((image.width + 1) // 2, (image.height + 1) // 2), Image.Resampling.BOX)
        apart.rename(target)
    finally:
        shutil.rmtree(apart, ignore_errors=True)


def _cut(image: "object", level: int, folder: Path) -> None:
    from PIL import Image

    assert isinstance(image, Image.Image)
    for row in range((image.height + SIDE - 1) // SIDE):
        for column in range((image.width + SIDE - 1) // SIDE):
            left, top = column * SIDE, row * SIDE
            part = image.crop((left, top, min(left + SIDE, image.width), min(top + SIDE, image.height)))
            data = io.BytesIO()
            part.save(data, "JPEG", quality=88)
            (folder / f"{level}-{column}-{row}.jpg").write_bytes(data.getvalue())
