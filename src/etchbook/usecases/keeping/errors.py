"""What the book's verbs say when they cannot do what was asked."""

from etchbook.usecases.errors import RefusedError


class NotThereError(RefusedError):
    """There is nothing of that code in the book."""


class ChangedMeanwhileError(RefusedError):
    """Somebody else changed it since it was looked at; nothing was written."""


class BookError(RefusedError):
    """The book cannot be opened, read or written; nothing was half-written."""
