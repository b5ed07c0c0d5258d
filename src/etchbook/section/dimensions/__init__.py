"""One formula one function: from a Shape to the values of ../measures, in pixels."""

from etchbook.section.dimensions.all import values

__all__ = ["values"]
