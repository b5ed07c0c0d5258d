"""Codes to scan, drawn for a page and for a terminal in the manner of the labels."""

import io


def square_svg(text: str) -> bytes:
    """A code to scan, as SVG."""
    from etchbook.report.labels import square_code

    return square_code(text)


def square_text(text: str) -> str:
    """A code to scan, in letters of a terminal."""
    import segno

    out = io.StringIO()
    segno.make(text, error="m", micro=False).terminal(out, border=2, compact=True)
    return out.getvalue()
