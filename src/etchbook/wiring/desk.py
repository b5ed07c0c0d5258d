"""Files on this machine as the verbs' desk."""

from collections.abc import Mapping
from pathlib import Path

from etchbook.files import load_groove, load_marks, load_photo, read_bytes, read_text, write_all
from etchbook.joint import Groove
from etchbook.picture import Picture
from etchbook.section import Mark


class FilesDesk:
    """Reads photographs, marks and texts from disk and writes results whole or not at all."""

    def photo(self, path: str) -> Picture:
        """The photograph at a path, made one picture."""
        return load_photo(Path(path))

    def marks(self, path: str, picture: Picture) -> tuple[Mark, ...]:
        """A person's marks, checked against the size of the picture they belong to."""
        return load_marks(Path(path), size=(picture.width, picture.height))

    def groove(self, path: str) -> Groove | None:
        """The preparation of the joint that a marks file states, None where it states none."""
        return load_groove(Path(path))

    def text(self, path: str) -> str:
        """A text file, with a cap on its size."""
        return read_text(Path(path))

    def original(self, path: str) -> bytes:
        """The bytes of a photograph as they were."""
        return read_bytes(Path(path))

    def keep(self, pages: Mapping[str, bytes]) -> None:
        """Write all of these files whole, or none."""
        write_all({Path(path): page for path, page in pages.items()})

    def make_folder(self, path: str) -> None:
        """Make a folder for results; one that is there already is kept."""
        Path(path).mkdir(parents=True, exist_ok=True)
