"""What a file name's ending asks for."""

import pytest

from etchbook.usecases import RefusedError
from etchbook.wiring.view import page_kind


@pytest.mark.parametrize(
    ("path", "kind"),
    [
        ("out/r.json", "json"),
        ("r.CSV", "csv"),
        ("r.pdf", "pdf"),
        ("r.html", "html"),
        ("look.png", "overlay.png"),
        ("look.svg", "overlay.svg"),
        ("r.regions.png", "regions"),
    ],
)
def test_endings(path: str, kind: str) -> None:
    assert page_kind(path) == kind


def test_an_unknown_ending_is_refused_with_the_known_ones() -> None:
    with pytest.raises(RefusedError, match=r"\.pdf"):
        page_kind("r.docx")
