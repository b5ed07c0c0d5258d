"""Photographs laid out: decoded once, in a process apart, into files that every process of the bench can look into.

A photograph takes six bytes a pixel, so only so many lie there at once; those longest unused go first.
"""

import atexit
import json
import os
import pickle
import shutil
import tempfile
import time
from collections import OrderedDict
from collections.abc import Callable
from dataclasses import replace
from hashlib import sha256
from pathlib import Path
from threading import Lock
from typing import Any, TypeVar

import numpy as np

from etchbook.joint import Joint
from etchbook.picture import Picture
from etchbook.section.again import OpenSection, open_section
from etchbook.usecases.keeping.ports import BookStore
from etchbook.wiring.apart import SLOW

R = TypeVar("R")
MOST_PIXELS = 200_000_000
MARK = "etchbook-open-"
DAY = 86_400.0
_laid: OrderedDict[str, int] = OrderedDict()
_locks: dict[str, Lock] = {}
_lock = Lock()
_home: list[Path] = []


def picture_folder(store: BookStore, digest: str, suffix: str, name: str) -> Path:
    """The folder in which a photograph of the book lies decoded.

    Parameters
    ----------
    digest, suffix : of the original
    name : as people call it
    """
    home = _own()
    folder = home / digest
    with _turn(digest):
        if not (folder / "about.json").is_file():
            SLOW.ask(lay_out, store.original(digest), f"x{suffix}", name, str(folder))
        about = json.loads((folder / "about.json").read_text(encoding="utf-8"))
    with _lock:
        _laid[digest] = int(about["pixels"])
        _laid.move_to_end(digest)
        while len(_laid) > 1 and sum(_laid.values()) > MOST_PIXELS:
            shutil.rmtree(home / _laid.popitem(last=False)[0], ignore_errors=True)
    return folder


def section_file(folder: Path, joint: Joint) -> Path:
    """The file of a section kept open for a joint, looked at where it is not there yet."""
    path = folder / f"{sha256(repr(joint).encode()).hexdigest()[:16]}.section"
    with _turn(path.name + folder.name):
        if not path.is_file():
            SLOW.ask(look_at, str(folder), joint, str(path))
    return path


def with_folder(store: BookStore, digest: str, suffix: str, name: str, use: Callable[[Path], R]) -> R:
    """Use a photograph that lies decoded; once more where it was cleared away in between."""
    try:
        return use(picture_folder(store, digest, suffix, name))
    except FileNotFoundError:
        return use(picture_folder(store, digest, suffix, name))


def lay_out(data: bytes, called: str, name: str, folder: str) -> None:
    """Decode a photograph into a folder, which appears only when it is whole (carried out apart)."""
    from etchbook.files import picture_from

    picture = picture_from(data, called)
    part = Path(tempfile.mkdtemp(dir=Path(folder).parent))
    np.save(part / "rgb.npy", picture.rgb)
    about = {"sha256": picture.sha256, "name": name, "notes": picture.notes, "pixels": picture.width * picture.height}
    (part / "about.json").write_text(json.dumps(about), encoding="utf-8")
    shutil.rmtree(folder, ignore_errors=True)
    part.rename(folder)


def laid_out(folder: str) -> Picture:
    """A decoded photograph; its pixels stay in the file until they are looked at."""
    about = json.loads((Path(folder) / "about.json").read_text(encoding="utf-8"))
    pixels = np.load(Path(folder) / "rgb.npy", mmap_mode="r").view(np.ndarray)
    return Picture(rgb=pixels, sha256=about["sha256"], name=about["name"], notes=tuple(about["notes"]))


def look_at(folder: str, joint: Joint, path: str) -> None:
    """Open a section and keep what was found out about it, without its pixels (carried out apart)."""
    found: Any = replace(open_section(laid_out(folder), joint), picture=None)  # type: ignore[arg-type]
    part = Path(f"{path}.{os.getpid()}")
    part.write_bytes(pickle.dumps(found, protocol=5))
    part.replace(path)


def section_in(folder: str, path: str) -> OpenSection:
    """A section that was opened, with its pixels."""
    held: OpenSection = pickle.loads(Path(path).read_bytes())  # from our own folder, which nobody else may write to
    return replace(held, picture=laid_out(folder))


def _turn(name: str) -> Lock:
    with _lock:
        return _locks.setdefault(name, Lock())


def _own() -> Path:
    """This bench's folder; those of benches that were killed are cleared away."""
    with _lock:
        if not _home or not _home[0].is_dir():
            root = Path(tempfile.gettempdir())
            for other in root.glob(f"{MARK}*"):
                if _left(other):
                    shutil.rmtree(other, ignore_errors=True)
            _home[:] = [Path(tempfile.mkdtemp(prefix=f"{MARK}{os.getpid()}-", dir=root))]
            _laid.clear()
            atexit.register(shutil.rmtree, _home[0], ignore_errors=True)
        return _home[0]


def _left(folder: Path) -> bool:
    """Whether the bench that made the folder is gone."""
    number = folder.name.removeprefix(MARK).partition("-")[0]
    try:
        if os.name == "nt":  # there, asking after a process would end it
            return time.time() - folder.stat().st_mtime > DAY
        os.kill(int(number), 0)
    except (ProcessLookupError, ValueError, OverflowError):
        return True
    except OSError:
        return False
    return False
