"""Zip archives of a trial: written one file at a time, whole or not at all; read with an eye on what they claim."""

import os
import tempfile
import zipfile
import zlib
from collections.abc import Iterable
from pathlib import Path

from etchbook.files.errors import InputError, OutputError

LARGEST_MEMBER = 800_000_000
LARGEST_WHOLE = 20_000_000_000
MOST_MEMBERS = 200_000
# The same trial always makes the same archive: no clock, and the names in the order in which they come.
SPARE_DATE = (1980, 1, 1, 0, 0, 0)
ALREADY_SMALL = (".jpg", ".jpeg", ".png", ".heic", ".heif")


def write_archive(path: Path, members: Iterable[tuple[str, bytes]]) -> int:
    """Write named files into a zip archive; how many there were.

    The archive appears at its place whole; one that was there before is replaced.
    """
    if path.is_dir() or not path.parent.is_dir():
        raise OutputError(f"{path} cannot be written: name a file in a folder that is there")
    part: Path | None = None
    try:
        handle, name = tempfile.mkstemp(prefix=f".{path.name[:60]}.", suffix=".part", dir=path.parent)
        part, count = Path(name), 0
        with os.fdopen(handle, "w+b") as out:
            with zipfile.ZipFile(out, "w") as archive:
                for member, data in members:
                    archive.writestr(_info(member), data, compresslevel=6)
                    count += 1
            out.flush()
            os.fsync(out.fileno())
        part.chmod(0o644)
        part.replace(path)
        return count
    except OSError as error:
        raise OutputError(f"{path} could not be written ({(error.strerror or 'the disk refused').lower()})") from None
    finally:
        if part is not None:
            part.unlink(missing_ok=True)


def _info(name: str) -> zipfile.ZipInfo:
    info = zipfile.ZipInfo(name, SPARE_DATE)
    info.compress_type = zipfile.ZIP_STORED if name.lower().endswith(ALREADY_SMALL) else zipfile.ZIP_DEFLATED
    info.external_attr = 0o644 << 16
    return info


class ZipArchive:
    """The named files of a zip archive, each read when it is asked for; nothing is ever unpacked to disk."""

    def __init__(self, path: Path) -> None:
        self.path = path
        if not path.is_file():
            raise InputError(f"{path} does not exist or is no file; check the name and the folder")
        try:
            self._zip = zipfile.ZipFile(path)
            infos = self._zip.infolist()
        except (zipfile.BadZipFile, OSError, ValueError, NotImplementedError):
            raise InputError(f"{path.name} is no zip archive, or is cut short; copy it again") from None
        if len(infos) > MOST_MEMBERS or sum(info.file_size for info in infos) > LARGEST_WHOLE:
            raise InputError(f"{path.name} claims to hold more than a trial can; it was not opened")
        self._infos = {info.filename: info for info in infos}
        if len(self._infos) != len(infos):
            raise InputError(f"{path.name} holds two files of one name; it was not opened")

    def names(self) -> tuple[str, ...]:
        """The names of all files in it."""
        return tuple(self._infos)

    def read(self, name: str) -> bytes:
        """The bytes of one file in it."""
        info = self._infos.get(name)
        if info is None:
            raise InputError(f"{self.path.name} holds no {name}; it is no archive of a trial, or not a whole one")
        if info.file_size > LARGEST_MEMBER:
            raise InputError(f"{name} in {self.path.name} is larger than {LARGEST_MEMBER // 1_000_000} MB")
        try:
            return self._zip.read(info)
        except (zipfile.BadZipFile, zlib.error, OSError, ValueError, NotImplementedError, RuntimeError, EOFError):
            raise InputError(f"{name} in {self.path.name} is damaged; copy the archive again") from None
