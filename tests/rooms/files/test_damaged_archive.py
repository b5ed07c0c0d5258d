"""An archive whose compressed bytes were damaged is told so in one sentence."""

import zipfile
from pathlib import Path

import pytest

from etchbook.files.archives import ZipArchive
from etchbook.files.errors import InputError


def test_damaged_compressed_bytes_are_named(tmp_path: Path) -> None:
    path = tmp_path / "trial.zip"
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as made:
        made.writestr("manifest.json", "trial bead coupon piece face " * 400)
    whole = bytearray(path.read_bytes())
    start = 30 + len("manifest.json")
    whole[start : start + 20] = b"\xff" * 20
    path.write_bytes(whole)
    with pytest.raises(InputError, match=r"manifest\.json in trial\.zip is damaged; copy the archive again"):
        ZipArchive(path).read("manifest.json")
