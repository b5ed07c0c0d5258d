"""What the doors say when something cannot be read or written."""

from etchbook.usecases import RefusedError


class InputError(RefusedError):
    """Something handed in cannot be used; its text is one plain sentence: what was wrong and what would do."""


class OutputError(RefusedError):
    """A result cannot be written where it was asked for; nothing was left half-written."""
