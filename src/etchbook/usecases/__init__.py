"""Floor 6: the verbs. Each is short, pure, and says in its ports what it needs from outside.

Import the verb's own module (``usecases.reading``, ``usecases.judging`` ...): a command that only
lists words should not load the reader of pictures.
"""

from etchbook.usecases.errors import RefusedError

__all__ = ["RefusedError"]
