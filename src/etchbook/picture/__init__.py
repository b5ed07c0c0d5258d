"""Floor 3: any photo made one picture, and how many of its pixels make a millimetre."""

from etchbook.picture.records import NoScale, Picture, Scale

__all__ = ["NoScale", "Picture", "Scale"]
