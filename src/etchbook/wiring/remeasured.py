"""What is done with a section that lies open, in a process apart: measured again, its scale found, read anew."""

from collections import OrderedDict
from collections.abc import Callable
from dataclasses import replace
from typing import TypeVar

from etchbook.picture import NoScale, Scale
from etchbook.section import KnownThickness, Mark, Reading, read_section
from etchbook.section.again import Again, OpenSection, measured_again
from etchbook.wiring.laidout import laid_out, section_in

MOST_OPEN = 8
ScaleFound = Scale | NoScale | KnownThickness
K = TypeVar("K")
V = TypeVar("V")
_open: OrderedDict[tuple[str, str], OpenSection] = OrderedDict()


def remember(kept: "OrderedDict[K, V]", key: K, most: int, make: Callable[[], V]) -> V:
    """What was made under that key before, or made now; the one longest unused is forgotten beyond `most`."""
    found = kept[key] if key in kept else make()
    kept[key] = found
    kept.move_to_end(key)
    while len(kept) > most:
        kept.popitem(last=False)
    return found


def again(folder: str, path: str, scale: ScaleFound, marks: tuple[Mark, ...], quick: bool) -> Again:
    """Outline and dimensions with the marks on top."""
    section = remember(_open, (folder, path), MOST_OPEN, lambda: section_in(folder, path))
    return measured_again(section, scale, marks, quick=quick)


def scale_in(folder: str, typed: str) -> ScaleFound:
    """The scale that a person asked for, such as from the rule in the picture."""
    from etchbook.usecases.reading import find_scale
    from etchbook.usecases.scales import scale_wish

    return find_scale(laid_out(folder), scale_wish(None, None, typed))


def read_anew(folder: str, before: Reading, scale: ScaleFound, marks: tuple[Mark, ...], program: str) -> Reading:
    """The picture read with these marks, as a whole reading."""
    made = read_section(laid_out(folder), before.joint, scale, marks=marks, preparation=before.preparation,
                        notes=before.notes, program=program)  # fmt: skip
    return replace(made, notes=tuple(dict.fromkeys(made.notes)), picture=before.picture)
