"""Pictures of one face laid on each other for the picture's page; reckoned once, in a process apart."""

from collections import OrderedDict
from pathlib import Path
from typing import Any

import numpy as np

from etchbook.picture import Scale
from etchbook.picture.register import Registration
from etchbook.trials.records import PictureEntry, ReadingEdition
from etchbook.usecases import RefusedError
from etchbook.usecases.keeping.looking import held
from etchbook.usecases.keeping.ports import BookStore, Entry
from etchbook.wiring import tiles
from etchbook.wiring.apart import SLOW, EndedError
from etchbook.wiring.benchviews import reading_in
from etchbook.wiring.laidout import laid_out, with_folder
from etchbook.wiring.remeasured import remember

MOST_PAIRS = 32
_pairs: OrderedDict[tuple[str, str], Registration | str] = OrderedDict()


def others(store: BookStore, code: str) -> list[Entry]:
    """The other pictures of the face that a picture shows."""
    found = store.below(code.rpartition("-")[0])
    return [one for one in found if isinstance(one.record, PictureEntry) and one.code != code and not one.binned]


def laid_under(store: BookStore, code: str, other: str) -> dict[str, Any]:
    """Another picture of the same face, and how it lies under the first one.

    Returns
    -------
    dict
        Its tiles as a page asks for them, `onto` and `back` (px of it to px of the first, and back, row by row),
        and `words` on how well that is known; refused in words where it is not.
    """
    (first, _), (second, _) = held(store, code, PictureEntry), held(store, other, PictureEntry)
    if first.code.rpartition("-")[0] != second.code.rpartition("-")[0]:
        raise RefusedError(f"{second.code} shows another face than {first.code}; only pictures of one face are laid so")
    found = remember(_pairs, (first.sha256, second.sha256), MOST_PAIRS, lambda: _laid(store, first, second))
    from etchbook.usecases.blinking import register_words

    if isinstance(found, str):
        raise RefusedError(found)
    return {
        **tiles.size_of(second),
        "onto": np.linalg.inv(found.matrix).ravel().tolist(),
        "back": found.matrix.ravel().tolist(),
        "words": register_words(found, (first.code, second.code)),
    }


def _laid(store: BookStore, first: PictureEntry, second: PictureEntry) -> Registration | str:
    """Where the second lies under the first, or why that cannot be told, which takes just as long to find out."""
    sizes = tuple(_px_per_mm(store, one.code) for one in (first, second))
    known = (sizes[0], sizes[1]) if all(sizes) else None

    def lay(one: Path, two: Path) -> Registration:
        made: Registration = SLOW.ask(laid_apart, str(one), str(two), (first.code, second.code), known)
        return made

    try:
        return with_folder(
            store, first.sha256, first.suffix, first.name,
            lambda one: with_folder(store, second.sha256, second.suffix, second.name, lambda two: lay(one, two)),
        )  # fmt: skip
    except EndedError:
        raise
    except RefusedError as refusal:
        return str(refusal)


def laid_apart(first: str, second: str, names: tuple[str, str], px_per_mm: tuple[float, float] | None) -> Registration:
    """Two photographs that lie decoded, laid on each other (carried out apart)."""
    from etchbook.usecases.blinking import laid

    return laid(laid_out(first), laid_out(second), names, px_per_mm)


def _px_per_mm(store: BookStore, code: str) -> float:
    """From the newest reading of a picture, 0.0 where none knows it."""
    for entry in reversed(list(store.below(code))):
        if isinstance(entry.record, ReadingEdition) and not entry.binned:
            scale = reading_in(store, entry.code)[2].scale
            if isinstance(scale, Scale):
                return scale.px_per_mm
    return 0.0
