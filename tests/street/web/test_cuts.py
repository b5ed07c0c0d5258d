"""Where to saw: asked on a page, drawn, entered into the book."""

import re

import pytest

ASKED = {"prove": "iso-15614-1", "joint": "tee", "length": "12 in", "width": "150 mm", "thickness_1": "8 mm"}


@pytest.fixture
def bead(bench) -> str:
    bench.send("/trial/new", code="N1", joint="tee", thickness_1="8 mm", thickness_2="6 mm")
    bench.send("/trial/N1/bead", **{"set.plate_length": "300 mm"})
    return "N1-01"


def test_what_the_book_knows_stands_in_the_form(bench, bead: str) -> None:
    page = bench.get(f"/bead/{bead}/cuts").text
    for name, value in (("length", "300 mm"), ("thickness_1", "8 mm"), ("thickness_2", "6 mm")):
        assert f'name="{name}" type="text" value="{value}"' in page
    assert f'href="/bead/{bead}/cuts"' in bench.get("/open/N1").text


def test_a_plan_is_drawn_and_told_and_its_pieces_are_entered(bench, bead: str) -> None:
    page = bench.get(f"/bead/{bead}/cuts", params=ASKED).text
    # ISO 15614-1 asks for two sections of a fillet weld and for 25 mm off each end (tables/data/cut-plans.toml).
    assert "0 to 25 mm" in page and "279.8 to 304.8 mm" in page and page.count("shows a section") == 2
    svg = bench.get(f"/bead/{bead}/cuts.svg", params=ASKED)
    assert svg.text.startswith("<svg") and "sandbox" in svg.headers["content-security-policy"]
    assert bench.get(f"/bead/{bead}/cuts.pdf", params=ASKED).content.startswith(b"%PDF")
    after = bench.send(f"/bead/{bead}/cuts", **ASKED)
    assert after.url.path == f"/labels/{bead}"
    assert "planned, not sawn yet" in bench.get(f"/open/{bead}-A").text
    assert f"{bead}-B" in bench.get(f"/open/{bead}-A").text
    again = bench.send(f"/bead/{bead}/cuts", **ASKED)
    assert again.status_code == 422 and "cut up" in again.text


@pytest.mark.parametrize(
    ("field", "typed"),
    [("kerf", "-1"), ("length", "long"), ("sections", "2.5"), ("at", "900"), ("prove", "x"), ("joint", "knee"),
     ("sections", "1")],
)  # fmt: skip
def test_what_cannot_be_cut_is_told_beside_its_field(bench, bead: str, field: str, typed: str) -> None:
    page = bench.get(f"/bead/{bead}/cuts", params={**ASKED, field: typed}).text
    assert re.search(rf'class="wrong" id="e-{field}"', page), re.findall(r'class="refusal".*?</p>', page)
    assert "Enter these pieces" not in page
