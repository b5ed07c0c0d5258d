"""Words that a person types for the bench, and what is wrong with them."""

import pytest

from etchbook.usecases import RefusedError
from etchbook.usecases.preparing import prepare, prepare_wish


def test_sizes_and_volumes_are_read_with_and_without_units() -> None:
    wish = prepare_wish("haz", ["steel"], "saw", volume="80 mL", size="30 x 20mm × 12", k="2", mount="no")
    assert (wish.volume_ml, wish.size_mm, wish.k, wish.mount) == (80.0, (30.0, 20.0, 12.0), 2.0, False)
    assert prepare_wish("haz", ["steel"], "saw").mount is None
    assert prepare(wish).want == "haz"


@pytest.mark.parametrize(
    ("given", "told"),
    [
        ({"volume": "much"}, "the volume in mL must be a number"),
        ({"volume": "-3"}, "must be more than 0"),
        ({"size": "30x20"}, "length x width x thickness"),
        ({"size": "30x20x0"}, "more than 0"),
        ({"mount": "perhaps"}, "mount must be yes, no or rule"),
        ({"k": "x"}, "k must be a number"),
    ],
)
def test_slips_are_told_in_one_sentence(given: dict[str, str], told: str) -> None:
    with pytest.raises(RefusedError, match=told):
        prepare_wish("haz", ["steel"], "saw", **given)  # type: ignore[arg-type]
