"""Where pages go."""

from pathlib import Path

import pytest

from etchbook.cli.outputs import check_places, folders_to_make, targets
from etchbook.usecases import RefusedError


def test_one_photo_takes_the_name_as_typed() -> None:
    assert targets({"pdf": "a.pdf", "json": None}, "in/n1.jpg", several=False) == {"pdf": "a.pdf"}


def test_a_dash_is_no_file() -> None:
    assert targets({"json": "-"}, "n1.jpg", several=False) == {}


def test_a_folder_gets_the_name_of_the_photo(tmp_path: Path) -> None:
    pages = targets({"pdf": str(tmp_path), "json": "new/"}, "in/n1.jpg", several=True)
    assert pages == {"pdf": str(tmp_path / "n1.pdf"), "json": str(Path("new/n1.reading.json"))}


def test_a_pattern_gets_the_name_of_the_photo() -> None:
    assert targets({"csv": "out/{name}-dims.csv"}, "in/n1.jpg", several=True) == {"csv": "out/n1-dims.csv"}


def test_the_kind_of_overlay_is_told_by_its_ending() -> None:
    assert targets({"overlay": "a.SVG"}, "n1.jpg", several=False) == {"overlay.svg": "a.SVG"}
    assert targets({"overlay": "a.png"}, "n1.jpg", several=False) == {"overlay.png": "a.png"}
    with pytest.raises(RefusedError, match=r"\.png or a \.svg"):
        targets({"overlay": "a.jpg"}, "n1.jpg", several=False)


def test_several_photos_do_not_share_a_file() -> None:
    with pytest.raises(RefusedError, match="name"):
        targets({"pdf": "all.pdf"}, "n1.jpg", several=True)


def test_photos_of_one_name_in_two_folders_do_not_overwrite_each_other() -> None:
    planned = [targets({"pdf": "out/{name}.pdf"}, photo, several=True) for photo in ("a/n1.jpg", "b/n1.jpg")]
    with pytest.raises(RefusedError, match="two files"):
        check_places(planned, ["a/n1.jpg", "b/n1.jpg"], ["out/"])


def test_a_page_never_lands_on_a_photograph() -> None:
    with pytest.raises(RefusedError, match="overwritten"):
        check_places([{"overlay.png": "./n1.png"}], ["n1.png"])


def test_a_folder_that_is_not_there_is_refused_before_anything_is_read(tmp_path: Path) -> None:
    pages = {"pdf": str(tmp_path / "new" / "n1.pdf")}
    with pytest.raises(RefusedError, match="does not exist"):
        check_places([pages], ["n1.jpg"])
    check_places([pages], ["n1.jpg"], [f"{tmp_path}/new/"])


def test_a_folder_with_a_slash_at_its_end_is_made() -> None:
    assert folders_to_make({"pdf": "out/", "json": "a.json", "csv": None}) == ("out/",)
