"""A reading as it shows itself in a notebook."""

from html import escape

from etchbook.quantity import spoken
from etchbook.report.drawing import drawing_svg
from etchbook.report.facts import scale_words
from etchbook.report.svg import printable
from etchbook.report.wording import JOINTS
from etchbook.section import Reading
from etchbook.terms import DIMENSIONS


def reading_html(reading: Reading) -> str:
    """The line drawing and the dimensions as a piece of HTML, without scripts and without outside files."""
    name = escape(printable(reading.picture.name or "a picture"))
    rows = "".join(
        f'<tr><th scope="row" style="text-align:left;font-weight:400">{escape(_label(id_))}</th>'
        f'<td style="text-align:left">{escape(printable(spoken(value)))}</td><td><code>{escape(id_)}</code></td></tr>'
        for id_, value in reading.dimensions.items()
    )
    scale = escape(printable(scale_words(reading)))
    head = f"<p><b>{escape(JOINTS[reading.joint.family])}</b>, {name}<br>scale: {scale}</p>"
    doubts = "".join(
        f"<li>{escape(printable(f'{each.part}: {each.reason} {each.remedy}'))}</li>" for each in reading.doubts
    )
    look = f"<p>Look again:</p><ul>{doubts}</ul>" if doubts else ""
    return f'<div style="max-width:48rem">{head}{drawing_svg(reading)}{look}<table><tbody>{rows}</tbody></table></div>'


def _label(name: str) -> str:
    return DIMENSIONS[name].label if name in DIMENSIONS else name
