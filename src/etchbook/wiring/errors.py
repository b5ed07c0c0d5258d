"""Which errors are ours, told to the person in one sentence, and which are a fault of the program."""

from pathlib import Path

REPORT = (
    "This is a fault of etchbook, not yours: please report it with the command you typed "
    "(ETCHBOOK_DEBUG=1 shows where it happened)."
)


def sentence(error: BaseException) -> tuple[str, int]:
    """What to tell the person about an error, and the exit code that goes with it.

    Errors drawn in our own rooms are sentences for a person (exit code 2), and so are those
    of the operating system; any other is our fault (exit code 1).
    """
    if isinstance(error, Exception) and type(error).__module__.partition(".")[0] == "etchbook":
        return _plain(str(error)), 2
    if isinstance(error, OSError) and error.strerror and not _in_package(error.filename):
        where = f": {error.filename}" if error.filename else ""
        return f"{error.strerror}{where}", 2
    if isinstance(error, MemoryError):
        return "this machine has not enough free memory for that picture; try one of fewer pixels", 2
    return f"{type(error).__name__}: {_plain(str(error))}. {REPORT}", 1


def _in_package(name: object) -> bool:
    """Whether a file that could not be opened is one of ours: then the installation is at fault, not the person."""
    return isinstance(name, str) and Path(name).is_relative_to(Path(__file__).parents[1])


def _plain(text: str) -> str:
    return " ".join(text.split()) or "no reason was given"
