"""Pages that are drawn on a photograph which lies decoded in a folder; each is called in a process apart."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from etchbook.acceptance.records import Judgement
    from etchbook.picture import NoScale, Scale
    from etchbook.section import Indication, Reading
    from etchbook.usecases.explaining import Explanation

LONGEST = 1600
"""Of a picture on a page [px]."""


def preview(folder: str) -> bytes:
    """The photograph as JPEG."""
    from etchbook.report.photos import photo_print
    from etchbook.wiring.laidout import laid_out

    return photo_print(laid_out(folder), longest=LONGEST).jpeg


def overlay(folder: str, reading: "Reading") -> bytes:
    """Outline and measured lines on it, as PNG."""
    from etchbook.report import overlay_png
    from etchbook.wiring.laidout import laid_out

    return overlay_png(reading, laid_out(folder), longest=LONGEST)


def crop(folder: str, found: "Indication", scale: "Scale | NoScale") -> bytes:
    """An indication cut out of it, with its trace beside, as SVG."""
    from etchbook.report.indication_drawings import crop_svg, crop_window
    from etchbook.wiring.laidout import laid_out

    picture = laid_out(folder)
    return crop_svg(found, picture, scale, crop_window(found, picture), traced=True).encode()


def profile(folder: str, found: "Indication", scale: "Scale | NoScale") -> bytes:
    """The grey profile across an indication as SVG; nothing for a blob or a very short line."""
    from etchbook.quantity import Absent
    from etchbook.report.indication_drawings import profile_svg
    from etchbook.usecases.profiling import profile_across
    from etchbook.wiring.laidout import laid_out

    seen = profile_across(laid_out(folder), found, scale)
    return b"" if isinstance(seen, Absent) else profile_svg(seen, found).encode()


def report(
    folder: str,
    kind: str,
    reading: "Reading",
    judgement: "Judgement | None",
    explained: "Sequence[Explanation]",
) -> bytes:
    """The report as pdf or html."""
    from etchbook.wiring.laidout import laid_out
    from etchbook.wiring.press import ReportPress

    return ReportPress().report(kind, reading, judgement, laid_out(folder), explained)
