"""The ground: the trade's vocabulary. One frozen record a word; headings, fields, docs and legends come from it."""

from etchbook.terms.dimensions import DIMENSIONS, dimensions_of
from etchbook.terms.records import FAMILIES, Family, Term
from etchbook.terms.words import WORDS

__all__ = ["DIMENSIONS", "FAMILIES", "WORDS", "Family", "Term", "dimensions_of"]
