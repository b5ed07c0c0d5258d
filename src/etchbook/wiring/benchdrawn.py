"""Drawings that stand in a page of the bench beside others."""

import re


def inline(svg: str, name: str) -> str:
    """A drawing with names inside it that meet no other's on the same page.

    Parameters
    ----------
    svg : a whole SVG document of our own
    name : of the drawing on its page
    """
    return re.sub(r'(id="|url\(#)(\w+)', rf"\g<1>{name}-\g<2>", svg)
