"""Floor 3: any photo made one picture, and how many of its pixels make a millimetre."""

from etchbook.picture.door import make_picture
from etchbook.picture.quality import Blemish, look_over
from etchbook.picture.records import NoScale, Picture, Scale
from etchbook.picture.reduce import grey, reduced, sample
from etchbook.picture.scale import find_bar, find_rule, from_two_points, given

__all__ = [
    "Blemish",
    "NoScale",
    "Picture",
    "Scale",
    "find_bar",
    "find_rule",
    "from_two_points",
    "given",
    "grey",
    "look_over",
    "make_picture",
    "reduced",
    "sample",
]
