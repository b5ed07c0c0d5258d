"""Originals on disk: names from outside never become paths, the same bytes are never written twice."""

import hashlib
from pathlib import Path

import pytest

from etchbook.store.vault import Vault
from etchbook.usecases.keeping.errors import BookError

DATA = b"bytes"
SHA = hashlib.sha256(DATA).hexdigest()


@pytest.fixture
def vault(tmp_path: Path) -> Vault:
    made = Vault(tmp_path / "book")
    made.make()
    return made


@pytest.mark.parametrize(
    ("sha256", "suffix"),
    [
        (SHA, "/../../x"),
        (SHA, ".jpg/../../../etc"),
        ("../" * 20, ""),
        (SHA.upper(), ""),
        (SHA[:10], ".jpg"),
        (SHA, ".J\0"),
    ],
)
def test_a_name_from_outside_is_no_path(vault: Vault, sha256: str, suffix: str) -> None:
    for use in (lambda: vault.path(sha256, suffix), lambda: vault.stage(sha256, DATA, suffix)):
        with pytest.raises(BookError, match="no name of an original"):
            use()
    assert list(vault.incoming.iterdir()) == []


def test_bytes_get_to_their_place_and_stay(vault: Vault) -> None:
    staged = vault.stage(SHA, DATA, ".jpg")
    assert not vault.path(SHA, ".jpg").exists()
    vault.place(staged)
    place = vault.path(SHA, ".jpg")
    assert place.read_bytes() == DATA and place.stat().st_mode & 0o222 == 0
    assert vault.stage(SHA, DATA, ".jpg").path is None
    assert list(vault.incoming.iterdir()) == []


def test_a_sweep_takes_what_nobody_names_and_nobody_writes(vault: Vault) -> None:
    vault.place(vault.stage(SHA, DATA, ".jpg"))
    other = hashlib.sha256(b"x").hexdigest()
    vault.place(vault.stage(other, b"x", ""))
    (vault.incoming / "999999999-abc.part").write_bytes(b"half")
    under_way = vault.stage(hashlib.sha256(b"y").hexdigest(), b"y", ".png")
    assert vault.sweep(frozenset({SHA})) == 2
    assert [sha256 for sha256, _ in vault.lying()] == [SHA]
    assert under_way.path is not None and under_way.path.exists(), "a running program is still writing it"
