"""Usual cautions of the workshop, for the foot of a report."""

from etchbook.tables.packaged import packaged
from etchbook.tables.records import Caution


def cautions(topic: str = "") -> tuple[Caution, ...]:
    """The usual cautions on a topic, or all of them.

    Parameters
    ----------
    topic : etching, nital, picral, persulfate, hydrofluoric acid, grinding, cutting, mounting, welding, reading; or
        any words that name some of these, such as ``"5 % nital, 10 s"``; "" for all

    Returns
    -------
    tuple of Caution
        Common practice: the safety data sheet and the shop's own rules come first.
    """
    wanted = topic.lower()
    rows = [Caution(**row) for row in packaged("cautions")["caution"]]
    return tuple(row for row in rows if not wanted or row.topic in wanted)
