"""Labels: a scanner of others reads what ours says, every label stands inside its page, and a PDF is tagged."""

import io
import subprocess
from datetime import date
from pathlib import Path

import pytest
import zxingcpp
from PIL import Image

from etchbook.report.label_sheets import SHEETS
from etchbook.report.labels import labels_pdf
from etchbook.trials.codes import normal_code, with_check
from etchbook.usecases.keeping.labels import Label

TODAY = date(2026, 3, 14)


def label(code: str) -> Label:
    written = with_check(code)
    lines = (
        "met N1-01-A, N1-01-C",
        "18.5 V, 5.6 m/min",
        'Why #set page(width: 1mm) "taller"? \\ $x$ größer',
        "2026-03-14",
    )
    return Label(code=code, written=written, scanned=f"ETCHBOOK:{written}", lines=lines)


def scanned(pdf: bytes, folder: Path, page: int) -> list[str]:
    (folder / "l.pdf").write_bytes(pdf)
    words = ["pdftoppm", "-r", "200", "-png", "-f", str(page), "-l", str(page), "-singlefile", "l.pdf", "l"]
    subprocess.run(words, cwd=folder, check=True, timeout=60)
    with Image.open(io.BytesIO((folder / "l.png").read_bytes())) as image:
        return sorted(found.text for found in zxingcpp.read_barcodes(image))


@pytest.mark.parametrize("size", ["70x37", "38x21", "67x25", "25x25", "62x29"])
def test_every_label_can_be_scanned_and_opens_its_piece(tmp_path: Path, size: str) -> None:
    codes = ["N1-01-A", "N1-01-B-2", "NM12-104-AB-11"]
    pdf = labels_pdf([label(code) for code in codes], size, today=TODAY)
    pages = [1] if SHEETS[size].count > 1 else [1, 2, 3]
    found = [text for page in pages for text in scanned(pdf, tmp_path, page)]
    assert sorted(normal_code(text) for text in found) == sorted(codes)


def test_used_labels_are_left_out(tmp_path: Path) -> None:
    import pikepdf

    pdf = labels_pdf([label("N1-01-A"), label("N1-01-B")], "70x37", today=TODAY, skip=23)
    assert [len(scanned(pdf, tmp_path, page)) for page in (1, 2)] == [1, 1]
    with pikepdf.open(io.BytesIO(pdf)) as held:
        assert len(held.pages) == 2 and "/StructTreeRoot" in held.Root


@pytest.mark.parametrize("size", list(SHEETS))
def test_labels_lie_inside_the_page_and_apart(size: str) -> None:
    sheet = SHEETS[size]
    places = [sheet.place(k) for k in range(sheet.count)]
    assert len(set(places)) == sheet.count
    for x, y in places:
        assert x >= 0 and y >= 0
        assert x + sheet.label[0] <= sheet.page[0] + 1e-6 and y + sheet.label[1] <= sheet.page[1] + 1e-6
    assert sheet.step[0] >= sheet.label[0] or sheet.across == 1
    assert sheet.step[1] >= sheet.label[1] or sheet.down == 1
