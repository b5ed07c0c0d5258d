"""Drawings that stand in a page of the bench beside others."""

import re

from etchbook.wiring.comparison import ComparisonView


def inline(svg: str, name: str) -> str:
    """A drawing with names inside it that meet no other's on the same page.

    Parameters
    ----------
    svg : a whole SVG document of our own
    name : of the drawing on its page
    """
    return re.sub(r'(id="|url\(#)(\w+)', rf"\g<1>{name}-\g<2>", svg)


def comparison_drawings(view: ComparisonView) -> dict[str, tuple[str, str]]:
    """The drawings of a comparison by name, each with what it shows."""
    from etchbook.report.compare_page import CAPTIONS

    made = {file.removesuffix(".svg"): (file, svg.decode()) for file, svg in view.drawings.items()}
    return {name: (CAPTIONS.get(file, name), inline(svg, name)) for name, (file, svg) in made.items()}
