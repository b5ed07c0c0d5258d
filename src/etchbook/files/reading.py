"""Bytes and text from disk, read once and with a cap on their size."""

from pathlib import Path

from etchbook.files.errors import InputError

LARGEST_FILE = 800_000_000
LARGEST_TEXT = 20_000_000


def read_bytes(path: Path, largest: int = LARGEST_FILE) -> bytes:
    """The bytes of a file.

    Parameters
    ----------
    path : the file
    largest : refused above this size [bytes]
    """
    try:
        if path.is_dir():
            raise InputError(f"{path} is a folder; name a file in it")
        if not path.exists():
            raise InputError(f"{path} does not exist; check the name and the folder")
        if not path.is_file():
            raise InputError(f"{path} is not an ordinary file; copy its contents to a file first")
        if path.stat().st_size > largest:
            raise InputError(f"{path.name} is larger than {largest // 1_000_000} MB; save a smaller copy")
        return path.read_bytes()
    except PermissionError:
        raise InputError(f"{path} may not be read by you; ask its owner for the right to read it") from None
    except (OSError, ValueError) as error:
        if isinstance(error, InputError):
            raise
        raise InputError(f"{path} could not be read from its disk; copy it elsewhere and try again") from None


def read_text(path: Path, largest: int = LARGEST_TEXT) -> str:
    """A text file in UTF-8 (with or without byte order mark), at most `largest` bytes."""
    data = read_bytes(path, largest)
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise InputError(f"{path.name} is not a text file in UTF-8; save it as plain text in UTF-8") from None
    if "\x00" in text:
        raise InputError(f"{path.name} is not a text file; name the text file that was meant")
    if not text.strip():
        raise InputError(f"{path.name} is empty; there is nothing to read in it")
    return text
