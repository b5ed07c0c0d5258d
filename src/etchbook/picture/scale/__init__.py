"""Where the scale comes from: given, two points, the graduations of a rule, a scale bar."""

from etchbook.picture.scale.bar import find_bar
from etchbook.picture.scale.rule import find_rule
from etchbook.picture.scale.stated import from_two_points, given

__all__ = ["find_bar", "find_rule", "from_two_points", "given"]
