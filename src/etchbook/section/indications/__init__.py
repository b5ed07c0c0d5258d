"""Marks on the face that are no edges of the joint: found, traced and described."""

from etchbook.section.indications.finding import find_indications

__all__ = ["find_indications"]
