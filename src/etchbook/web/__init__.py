"""The bench: the book's verbs as pages and as JSON, for the shop's PC and the phone beside the machine."""

from etchbook.web.app import create_app

__all__ = ["create_app"]
