"""Which errors are told as the person's, and which as ours."""

from pathlib import Path

import pytest

from etchbook.usecases import RefusedError
from etchbook.wiring.errors import sentence


def test_our_own_errors_are_one_line_and_code_two() -> None:
    assert sentence(RefusedError("the scale\n  must be more than 0")) == ("the scale must be more than 0", 2)


@pytest.mark.parametrize("error", [PermissionError(13, "Permission denied", "x.json"), OSError(28, "No space left")])
def test_the_system_speaks_for_itself(error: OSError) -> None:
    text, code = sentence(error)
    assert code == 2 and str(error.strerror) in text


@pytest.mark.parametrize("error", [KeyError("leg_1"), ValueError("shapes (3,) and (4,)"), ZeroDivisionError()])
def test_anything_else_is_our_fault_and_says_how_to_report_it(error: Exception) -> None:
    text, code = sentence(error)
    assert code == 1
    assert type(error).__name__ in text and "report it" in text and "\n" not in text


def test_a_picture_too_large_for_the_machine_is_no_fault() -> None:
    assert sentence(MemoryError())[1] == 2


def test_a_file_missing_from_the_installation_is_our_fault() -> None:
    import etchbook

    inside = str(Path(etchbook.__file__).with_name("tables") / "data" / "gone.toml")
    text, code = sentence(FileNotFoundError(2, "No such file or directory", inside))
    assert code == 1 and "report it" in text
