"""What the verbs need from outside; the wiring fills these."""

from collections.abc import Mapping
from typing import TYPE_CHECKING, Protocol

from etchbook.acceptance.records import Judgement
from etchbook.joint import Groove
from etchbook.picture import Picture
from etchbook.section import Mark, Reading

if TYPE_CHECKING:
    from etchbook.simulate import PaintedSection


class Desk(Protocol):
    """Where pictures, marks and texts come from and where results go."""

    def photo(self, path: str) -> Picture:
        """The photograph at a path, made one picture."""
        ...

    def marks(self, path: str, picture: Picture) -> tuple[Mark, ...]:
        """A person's marks on that picture."""
        ...

    def groove(self, path: str) -> Groove | None:
        """The preparation of the joint that the marks state, None where they state none."""
        ...

    def text(self, path: str) -> str:
        """A text file: a reading, or limits of the user's own."""
        ...

    def original(self, path: str) -> bytes:
        """The bytes of a photograph as they were."""
        ...

    def keep(self, pages: Mapping[str, bytes]) -> None:
        """Write all of these files whole, or none."""
        ...


class Press(Protocol):
    """Turns readings into pages and painted sections into files."""

    def page(self, kind: str, reading: Reading, judgement: Judgement | None, picture: Picture | None) -> bytes:
        """One page of a kind: json, csv, regions, overlay.png, overlay.svg, pdf or html."""
        ...

    def reading(self, document: str) -> Reading:
        """The reading that a JSON document holds."""
        ...

    def example(self, reading: Reading, original: bytes, suffix: str) -> Mapping[str, bytes]:
        """A corrected reading as a labelled example: photo, regions, marks, reading."""
        ...

    def painted(self, section: "PaintedSection", name: str) -> Mapping[str, bytes]:
        """A painted section by file name: the picture, its true regions (PNG) and its truth (JSON)."""
        ...
