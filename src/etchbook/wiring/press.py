"""Reports, drawings and tables as the verbs' press."""

import json
from collections.abc import Mapping, Sequence
from datetime import date
from typing import TYPE_CHECKING, Any

from etchbook import report
from etchbook.acceptance.records import Judgement
from etchbook.picture import Picture
from etchbook.section import Reading, region_labels
from etchbook.usecases import RefusedError
from etchbook.usecases.explaining import Explanation, explain

if TYPE_CHECKING:
    from etchbook.simulate import PaintedSection

KINDS = ("json", "csv", "regions", "overlay.png", "overlay.svg", "pdf", "html")


class ReportPress:
    """Makes the pages; `today` is printed on reports, so that a page can be made again to the letter."""

    def __init__(self, today: date | None = None) -> None:
        self.today = today or date.today()

    def page(self, kind: str, reading: Reading, judgement: Judgement | None, picture: Picture | None) -> bytes:
        """One page of a kind out of KINDS."""
        if kind == "json":
            return json_bytes(report.reading_document(reading, judgement))
        if kind == "csv":
            return report.dimensions_csv(reading, judgement).encode()
        if kind == "regions":
            return report.regions_png(region_labels(reading))
        if picture is None:
            raise TypeError(f"a page of kind {kind} needs the picture")
        if kind == "overlay.png":
            return report.overlay_png(reading, picture)
        if kind == "overlay.svg":
            return report.overlay_svg(reading, picture).encode()
        if kind in ("pdf", "html"):
            return self.report(kind, reading, judgement, picture, explain(reading))
        raise TypeError(f"no page of kind {kind}")

    def report(
        self,
        kind: str,
        reading: Reading,
        judgement: Judgement | None,
        picture: Picture,
        explained: Sequence[Explanation],
    ) -> bytes:
        """The whole report as pdf or html, with a page for each indication as it was explained."""
        if kind == "pdf":
            return report.pdf(reading, picture, judgement, today=self.today, explained=explained)
        return report.page(reading, picture, judgement, today=self.today, explained=explained).encode()

    def reading(self, document: str) -> Reading:
        """The reading that a JSON document holds."""
        try:
            held = json.loads(document)
        except (json.JSONDecodeError, RecursionError) as error:
            raise RefusedError(f"the reading is not JSON: {error}") from None
        return report.reading_from_document(held)

    def example(self, reading: Reading, original: bytes, suffix: str) -> Mapping[str, bytes]:
        """A corrected reading as a labelled example: photo, regions, marks, reading."""
        regions = report.regions_png(region_labels(reading))
        return report.labelled_example(reading, original, suffix, regions)

    def painted(self, section: "PaintedSection", name: str) -> Mapping[str, bytes]:
        """A painted section by file name: the picture, its true regions (PNG) and its truth (JSON)."""
        from etchbook.simulate import truth_document  # readers of photographs need no painter

        return {
            f"{name}.png": report.picture_png(section.picture),
            f"{name}.truth.png": report.regions_png(section.labels),
            f"{name}.truth.json": json_bytes(truth_document(section)),
        }


def json_bytes(document: Mapping[str, Any]) -> bytes:
    """A document as JSON text, readable by people, ending in a line break."""
    return (json.dumps(document, ensure_ascii=False, indent=1, allow_nan=False) + "\n").encode()
