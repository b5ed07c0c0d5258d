"""The street: the command ``etchbook``. It reads words, calls verbs and prints; it does no arithmetic."""

from etchbook.cli.door import main

__all__ = ["main"]
