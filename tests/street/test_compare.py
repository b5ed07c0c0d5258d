"""`etchbook compare` on kept readings."""

import json
import sys
from dataclasses import replace
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "rooms" / "report"))
import example

from etchbook.quantity import Measured
from etchbook.report import reading_document

from .conftest import Ask

LOG = """
under_test = "cylinder"
[[a]]
cylinder = "old"
start_temperature = "20°C"
order = 1
[[a]]
cylinder = "old"
start_temperature = 25
order = 3
[[b]]
cylinder = "new"
start_temperature = "140°F"
order = 2
[[b]]
cylinder = "new"
start_temperature = 62
order = 4
"""


@pytest.fixture
def readings(tmp_path: Path) -> list[Path]:
    """Two usual beads and two with 0.5 mm more convexity."""
    paths = []
    for at, convexity in enumerate((0.40, 0.48, 0.92, 0.97)):
        base = example.reading()
        changed = {"convexity": Measured(value=convexity, u=0.03, unit="mm")}
        record = replace(base, dimensions={**base.dimensions, **changed})
        path = tmp_path / f"r{at}.json"
        path.write_text(json.dumps(reading_document(record)), encoding="utf-8")
        paths.append(path)
    return paths


def groups(readings: list[Path]) -> tuple[object, ...]:
    return "--a", readings[0], "--a", readings[1], "--b", readings[2], "--b", readings[3]


def test_groups_are_compared_and_what_moved_along_is_named(ask: Ask, readings: list[Path], tmp_path: Path) -> None:
    (tmp_path / "log.toml").write_text(LOG, encoding="utf-8")
    answer = ask("compare", *groups(readings), "--settings", tmp_path / "log.toml", "--welding", "mechanised")
    assert answer.code == 0, answer.err
    assert "2 against 2 can never give less than 0.333" in answer.out
    assert "beside it: Start temperature moved with it: 22.5 against 61" in answer.out
    assert "Not logged for any bead" in answer.out and "stick-out" in answer.out


def test_one_against_one_says_what_it_can(ask: Ask, readings: list[Path]) -> None:
    answer = ask("compare", "--a", readings[0], "--b", readings[1], "--scatter", "0.16")
    assert "two beads welded alike differ by up to 0.44" in answer.out and "significant" not in answer.out


def test_two_sections_make_one_bead(ask: Ask, readings: list[Path]) -> None:
    pair = f"{readings[0]}+{readings[1]}"
    told = json.loads(ask("compare", "--a", pair, "--b", readings[2], "--json").out)
    row = next(row for row in told["rows"] if row["dimension"] == "convexity")
    assert row["a"]["value"] == pytest.approx(0.44) and row["difference"]["numbers"] == [1, 1]


def test_drawings_are_kept(ask: Ask, readings: list[Path], tmp_path: Path) -> None:
    (tmp_path / "log.toml").write_text(LOG, encoding="utf-8")
    out = tmp_path / "plots"
    answer = ask("compare", *groups(readings), "--settings", tmp_path / "log.toml", "--plots", out)
    assert answer.code == 0
    assert {path.name for path in out.iterdir()} == {
        "strips.svg", "outlines.svg", "order.svg", "start-temperature.svg",
    }  # fmt: skip
    strips = (out / "strips.svg").read_text(encoding="utf-8")
    assert "a above, b below" in strips and "convexity, mm" in strips
    assert (out / "order.svg").read_text(encoding="utf-8").count("<circle") == 4


@pytest.mark.parametrize(
    ("extra", "told"),
    [
        (("--on", "weld_width"), "read on no bead"),
        (("--names", "same, same"), "different names"),
        (("--scatter", "-1"), "above 0"),
        (("--scatter-dof", "4", "--scatter", "0"), "above 0"),
        (("--welding", "robot"), "mechanised"),
    ],
)
def test_refusals_are_one_sentence(ask: Ask, readings: list[Path], extra: tuple[str, ...], told: str) -> None:
    answer = ask("compare", *groups(readings), *extra)
    assert answer.code == 2 and told in answer.err and answer.err.count("\n") == 1


def test_logs_that_do_not_fit_are_refused(ask: Ask, readings: list[Path], tmp_path: Path) -> None:
    log = tmp_path / "log.toml"
    for text, told in (
        ("[[a]]\nvolts = 19\n", "settings for 1"),
        ("odd = 1", 'knows no "odd"'),
        ("[[a]", "not TOML"),
        ("[[a]]\nvlots = 19\n[[a]]\n", "no setting"),
    ):
        log.write_text(text, encoding="utf-8")
        answer = ask("compare", *groups(readings), "--settings", log)
        assert answer.code == 2 and told in answer.err, answer.err


def test_one_page_holds_everything(ask: Ask, readings: list[Path], tmp_path: Path) -> None:
    out = tmp_path / "page.html"
    answer = ask("compare", *groups(readings), "--html", out, "--names", "<b>x, y", "--welding", "mechanised")
    page = out.read_text(encoding="utf-8")
    assert answer.code == 0 and page.startswith("<!DOCTYPE html>")
    assert "<b>x" not in page and "&lt;b&gt;x" in page and "http-equiv" in page and "<script" not in page
    assert page.count("<figure") == 2 and "Three views" in page
    assert len(set(__import__("re").findall(r'id="field\d*"', page))) == page.count('id="field')


def test_the_same_on_paper(ask: Ask, readings: list[Path], tmp_path: Path) -> None:
    import pikepdf

    out = tmp_path / "page.pdf"
    answer = ask("compare", *groups(readings), "--pdf", out, "--names", "#strong[x], y")
    assert answer.code == 0, answer.err
    with pikepdf.open(out) as paper:
        assert len(paper.pages) >= 3 and "/StructTreeRoot" in paper.Root
        assert str(paper.docinfo["/Title"]) == "#strong[x] and y compared"


def test_every_difference_stands_with_its_interval(ask: Ask, readings: list[Path]) -> None:
    answer = ask("compare", *groups(readings))
    line = next(line for line in answer.out.splitlines() if line.endswith("\tconvexity"))
    # (0.92 + 0.97 − 0.40 − 0.48) / 2; t(0.975, 2) = 4.303 times the pooled standard error, by hand.
    assert "+0.51 (+0.30 to +0.71)" in line
