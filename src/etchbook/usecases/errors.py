"""What a verb says when it cannot do what was asked."""


class RefusedError(ValueError):
    """A request that cannot be carried out; its text is one plain sentence for the person who asked."""
