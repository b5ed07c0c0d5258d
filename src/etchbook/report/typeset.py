"""Typesetting in a room of its own: a folder that is thrown away, our fonts, and nothing else within reach."""

from collections.abc import Mapping
from datetime import UTC, datetime
from importlib import resources
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import cast

import typst

SPARE = datetime(2000, 1, 1, tzinfo=UTC)


def fonts_folder() -> Path:
    """Where our typeface lies."""
    return Path(str(resources.files("etchbook.report") / "fonts"))


def typeset_pdf(template: str, files: Mapping[str, bytes], when: datetime) -> bytes:
    """A tagged PDF (PDF/UA-1) out of a template of ours and files of data beside it.

    The template reads what people wrote as data alone, so that no word of theirs is ever
    taken for an instruction; the typesetter sees the given files and no others.
    """
    return _compile(template, files, kind="pdf", when=when)


def svg_to_png(svg: str, size: tuple[int, int]) -> bytes:
    """An SVG picture as a PNG of exactly `size` (width, height) pixels."""
    width, height = size
    template = (
        f"#set page(width: {width}pt, height: {height}pt, margin: 0pt, fill: white)\n"
        f'#image("picture.svg", width: {width}pt, height: {height}pt, fit: "stretch")\n'
    )
    return _compile(template, {"picture.svg": svg.encode()}, kind="png", when=SPARE)


def _compile(template: str, files: Mapping[str, bytes], *, kind: str, when: datetime) -> bytes:
    with TemporaryDirectory(prefix="etchbook-") as folder:
        root = Path(folder)
        for name, content in files.items():
            (root / name).write_bytes(content)
        (root / "main.typ").write_text(template, encoding="utf-8")
        return cast(bytes, _made(root, kind, when))


def _made(root: Path, kind: str, when: datetime) -> object:
    # Packages are looked for in the empty folder alone, so nothing is ever fetched from outside.
    compiler = typst.Compiler(
        str(root / "main.typ"),
        root=str(root),
        font_paths=[str(fonts_folder())],
        ignore_system_fonts=True,
        package_path=str(root),
        package_cache_path=str(root),
    )
    if kind == "pdf":
        return compiler.compile(format="pdf", pdf_standards=["ua-1"], timestamp=when)
    return compiler.compile(format="png", ppi=72.0, timestamp=when)
