"""The house keeps its own rules: imports, names, sizes, sentences, pages."""

import ast
import re
import subprocess
import sys
from pathlib import Path

import pytest

import etchbook

ROOT = Path(__file__).resolve().parents[2]
SOURCES = sorted((ROOT / "src" / "etchbook").rglob("*.py"))
ROOMS = sorted(path.parent for path in (ROOT / "src" / "etchbook").glob("*/__init__.py"))


def called(*words: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(words, cwd=ROOT, capture_output=True, text=True, check=False, timeout=120)


def name(path: Path) -> str:
    return str(path.relative_to(ROOT))


def test_imports_run_one_way_and_the_core_is_pure() -> None:
    tool = Path(sys.executable).with_name("lint-imports")
    answer = called(str(tool), "--no-cache")
    assert answer.returncode == 0, answer.stdout[-3000:]
    kept = re.search(r"Contracts: (\d+) kept, 0 broken", answer.stdout)
    assert kept is not None and int(kept[1]) >= 5


def test_public_names_are_one_sorted_list_and_all_there() -> None:
    assert etchbook.__all__ == sorted(etchbook.__all__)
    for public in etchbook.__all__:
        assert getattr(etchbook, public) is not None


def test_a_name_that_is_not_there_is_said_to_be_not_there() -> None:
    with pytest.raises(AttributeError, match="nonsense"):
        etchbook.nonsense  # noqa: B018


def test_importing_the_package_loads_nothing_heavy() -> None:
    code = "import etchbook, sys; print([m for m in ('numpy', 'scipy', 'skimage', 'PIL', 'typst') if m in sys.modules])"
    assert called(sys.executable, "-c", code).stdout.strip() == "[]"


@pytest.mark.parametrize("path", SOURCES, ids=name)
def test_no_file_is_long(path: Path) -> None:
    assert len(path.read_text(encoding="utf-8").splitlines()) <= 350


@pytest.mark.parametrize("path", SOURCES, ids=name)
def test_every_public_function_says_what_it_does(path: Path) -> None:
    tree = ast.parse(path.read_text(encoding="utf-8"))
    shown = [cls for cls in tree.body if isinstance(cls, ast.ClassDef) and not cls.name.startswith("_")]
    silent = [
        node.name
        for node in [*tree.body, *(inner for cls in shown for inner in cls.body)]
        if isinstance(node, ast.FunctionDef | ast.ClassDef)
        and not node.name.startswith("_")
        and ast.get_docstring(node) is None
    ]
    assert not silent
    assert path.stat().st_size == 0 or ast.get_docstring(tree), "a module opens with a sentence"


@pytest.mark.parametrize("room", ROOMS, ids=lambda room: room.name)
def test_a_room_says_what_it_is_and_shows_few_names(room: Path) -> None:
    tree = ast.parse((room / "__init__.py").read_text(encoding="utf-8"))
    assert len(ast.get_docstring(tree) or "") > 10
    shown = [
        ast.literal_eval(node.value)
        for node in tree.body
        if isinstance(node, ast.Assign) and getattr(node.targets[0], "id", "") == "__all__"
    ]
    for names in shown:
        assert len(names) <= 24, "a room that shows everything hides nothing"


def test_generated_pages_are_up_to_date() -> None:
    answer = called(sys.executable, "tools/make_docs.py", "--check")
    assert answer.returncode == 0, answer.stdout + answer.stderr


def test_every_dimension_is_documented() -> None:
    from etchbook.terms import DIMENSIONS

    page = (ROOT / "docs" / "terms.md").read_text(encoding="utf-8")
    for term in DIMENSIONS.values():
        assert f"| `{term.id}` |" in page and term.definition in page


def test_every_row_of_limits_is_sourced() -> None:
    from etchbook.tables import limit_sets, load_limits

    assert len(limit_sets()) >= 5
    for held in limit_sets():
        for row in load_limits(held).limits:
            assert row.source and row.status in ("seen", "from memory"), f"{held} {row.id}"
            assert row.edition or row.clause, f"{held} {row.id}"


def test_links_in_the_pages_lead_somewhere() -> None:
    for page in [ROOT / "README.md", ROOT / "CONTRIBUTING.md", *(ROOT / "docs").rglob("*.md")]:
        for target in re.findall(r"\]\(([^)#:]+)(?:#[^)]*)?\)", page.read_text(encoding="utf-8")):
            assert (page.parent / target).exists(), f"{name(page)} links to {target}"


def test_pins_are_versions_and_nothing_else() -> None:
    lines = (ROOT / "requirements.txt").read_text(encoding="utf-8").splitlines()
    assert lines
    for line in lines:
        assert re.fullmatch(r"[a-z0-9-]+==[0-9][0-9a-z.]*", line), line


def test_no_dependency_has_an_upper_bound() -> None:
    import tomllib

    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    for need in [*project["dependencies"], *project["optional-dependencies"]["dev"]]:
        assert re.fullmatch(r"[a-z0-9-]+(\[[a-z]+\])?>=[0-9.]+", need), need


def test_versions_agree() -> None:
    import tomllib

    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    assert project["version"] == etchbook.__version__
    assert f"## {etchbook.__version__}" in (ROOT / "CHANGELOG.md").read_text(encoding="utf-8")


def test_examples_of_own_limits_in_the_pages_can_be_used() -> None:
    from etchbook.tables import own_limits

    page = (ROOT / "docs" / "howto.md").read_text(encoding="utf-8")
    examples = [block for block in re.findall(r"```toml\n(.*?)```", page, re.S) if "least" in block]
    assert examples
    for block in examples:
        assert len(own_limits(block).limits) >= 3


def test_examples_of_marks_in_the_pages_can_be_used() -> None:
    from etchbook.files import marks_from

    text = (ROOT / "docs" / "start.md").read_text(encoding="utf-8")
    text += (ROOT / "docs" / "howto.md").read_text(encoding="utf-8")
    blocks = [block for block in re.findall(r"```(?:toml|json)\n(.*?)```", text, re.S) if "toe_1" in block]
    assert len(blocks) == 2
    for block in blocks:
        assert len(marks_from(block, "the page")) == 3
