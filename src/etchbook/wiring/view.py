"""A reading as a notebook user holds it: the record, its picture, and the pages that can be made of it."""

from collections.abc import Mapping
from pathlib import Path

from etchbook.acceptance.records import Judgement
from etchbook.joint import Joint
from etchbook.picture import NoScale, Picture, Scale
from etchbook.quantity import Quantity
from etchbook.section import Doubt, Outline, Reading


class ReadingView:
    """A reading with its picture.

    The record itself is frozen and knows nothing of pages (`record`); this thin cover
    forwards what is asked for most, shows itself in a notebook and saves pages.
    """

    __slots__ = ("picture", "record")

    def __init__(self, record: Reading, picture: Picture | None = None) -> None:
        self.record = record
        self.picture = picture

    @property
    def dimensions(self) -> Mapping[str, Quantity]:
        """Every dimension of the joint by id: Measured(value, u, unit) or Absent(reason)."""
        return self.record.dimensions

    @property
    def joint(self) -> Joint:
        """The joint that was read."""
        return self.record.joint

    @property
    def scale(self) -> Scale | NoScale:
        """Pixels per millimetre with u and how it was found, or why there is none."""
        return self.record.scale

    @property
    def outline(self) -> Outline:
        """Boundaries, landmarks and contours [px]."""
        return self.record.outline

    @property
    def doubts(self) -> tuple[Doubt, ...]:
        """Parts of the outline to look at before their numbers are used."""
        return self.record.doubts

    @property
    def notes(self) -> tuple[str, ...]:
        """What was assumed and what to know."""
        return self.record.notes

    def judge(self, against: str, *, risk: float = 0.05) -> Judgement:
        """Hold the reading against limits; see `etchbook.judge`."""
        from etchbook.wiring.library import judge

        return judge(self, against=against, risk=risk)

    def save(self, path: str | Path, judgement: Judgement | None = None) -> Path:
        """Write one page, its kind told by the name's ending.

        Parameters
        ----------
        path : ends in .json, .csv, .pdf, .html, .svg (overlay), .overlay.png or .regions.png
        judgement : printed in the page where the page has a place for it

        Returns
        -------
        Path
            Where the page lies; it is written whole or not at all.
        """
        from etchbook.wiring.desk import FilesDesk
        from etchbook.wiring.press import ReportPress

        page = ReportPress().page(page_kind(str(path)), self.record, judgement, self.picture)
        FilesDesk().keep({str(path): page})
        return Path(path)

    def _repr_html_(self) -> str:
        from etchbook.report import reading_html

        return reading_html(self.record)

    def __repr__(self) -> str:
        from etchbook.quantity import spoken

        rows = [f"  {name}: {spoken(value)}" for name, value in self.dimensions.items()]
        return "\n".join([f"Reading of {self.record.picture.name or 'a picture'} ({self.joint.family})", *rows])


ENDINGS = {
    ".regions.png": "regions",
    ".png": "overlay.png",
    ".svg": "overlay.svg",
    ".json": "json",
    ".csv": "csv",
    ".pdf": "pdf",
    ".html": "html",
}


def page_kind(path: str) -> str:
    """The kind of page that a file name's ending asks for."""
    from etchbook.usecases import RefusedError

    for ending, kind in ENDINGS.items():
        if path.lower().endswith(ending):
            return kind
    raise RefusedError(f"no page can be written to {path}: end its name in one of {', '.join(ENDINGS)}")
