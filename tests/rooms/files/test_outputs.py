"""Whole files or none."""

import os
from pathlib import Path

import pytest

from etchbook.files import OutputError, write_all, write_whole


def names(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


def test_a_file_is_written_and_nothing_else_left(tmp_path):
    write_whole(tmp_path / "a.json", b"first")
    write_whole(tmp_path / "a.json", b"second")
    assert (tmp_path / "a.json").read_bytes() == b"second"
    assert names(tmp_path) == ["a.json"]


def test_new_files_get_the_usual_rights(tmp_path):
    (tmp_path / "plain").write_bytes(b"")
    write_whole(tmp_path / "a", b"x")
    assert (tmp_path / "a").stat().st_mode == (tmp_path / "plain").stat().st_mode


@pytest.mark.parametrize(
    ("bad", "word"), [("missing/b", "does not exist"), ("folder", "is a folder"), ("file/b", "is not a folder")]
)
def test_one_bad_place_keeps_all_from_being_written(tmp_path, bad, word):
    (tmp_path / "folder").mkdir()
    (tmp_path / "file").write_bytes(b"old")
    with pytest.raises(OutputError, match=word):
        write_all({tmp_path / "good": b"1", tmp_path / bad: b"2"})
    assert names(tmp_path) == ["file", "folder"]
    assert (tmp_path / "file").read_bytes() == b"old"


def test_a_failure_while_moving_brings_the_old_files_back(tmp_path, monkeypatch):
    (tmp_path / "a").write_bytes(b"old")
    real = Path.replace

    def failing(self, target):
        if Path(target).name == "b":
            raise OSError(28, "No space left on device")
        return real(self, target)

    monkeypatch.setattr(Path, "replace", failing)
    with pytest.raises(OutputError, match="no space left"):
        write_all({tmp_path / "a": b"new", tmp_path / "c": b"new", tmp_path / "b": b"new"})
    assert (tmp_path / "a").read_bytes() == b"old"
    assert names(tmp_path) == ["a"]


def test_a_full_disk_leaves_nothing(tmp_path, monkeypatch):
    def full(handle):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(OutputError, match="nothing was changed"):
        write_whole(tmp_path / "a", b"x" * 1000)
    assert names(tmp_path) == []


def test_two_results_for_one_place_are_refused(tmp_path):
    with pytest.raises(OutputError, match="two results"):
        write_all(
            {tmp_path / "a": b"1", tmp_path / "." / "sub" / ".." / "a": b"2"}
            if (tmp_path / "sub").mkdir() is None
            else {}
        )


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() == 0, reason="the superuser may write everywhere")
def test_a_closed_folder_is_named(tmp_path):
    closed = tmp_path / "closed"
    closed.mkdir(mode=0o500)
    with pytest.raises(OutputError, match="nothing may be written"):
        write_whole(closed / "a", b"")
