"""The bench's scripts: their types hold, and none of them brings in anything from elsewhere."""

import re
import shutil
import subprocess
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
SCRIPTS = sorted((ROOT / "src" / "etchbook" / "web" / "static" / "js").rglob("*.js"))


@pytest.mark.skipif(shutil.which("tsc") is None, reason="the checker of types is not installed here")
def test_the_types_of_the_scripts_hold() -> None:
    answer = subprocess.run(["tsc", "-p", "jsconfig.json"], cwd=ROOT, capture_output=True, text=True, check=False)
    assert answer.returncode == 0, answer.stdout[-3000:]


@pytest.mark.parametrize("path", SCRIPTS, ids=lambda path: path.name)
def test_a_script_is_short_and_leans_on_its_neighbours_only(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    assert len(text.splitlines()) <= 350
    assert text.startswith(("//", "/**")), "it opens with what it is for"
    for where in re.findall(r"""(?:from|import)\s*\(?["']([^"']+)["']""", text):
        assert where.startswith("./") and (path.parent / where).is_file(), where
    assert not re.search(r"\beval\(|new Function|innerHTML|https?://(?!www\.w3\.org/2000/svg)", text)
