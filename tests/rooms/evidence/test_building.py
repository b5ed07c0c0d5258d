import pytest

from etchbook.evidence import EvidenceError
from rooms.evidence.small import small_table

SEEN = {"id": "seen", "ratios": "++ - 0"}


def _with(**changes):
    return [{"id": "first", "label": "f", "group": "g", "state": [SEEN]} | changes]


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"observation": _with(group="z")}, '"z"'),
        ({"observation": _with(state=[{"id": "seen", "ratios": "++ -"}])}, "each of 3 causes"),
        ({"observation": _with(state=[{"id": "seen", "ratios": {"a": 0.0}}])}, "above 0"),
        ({"observation": _with(no=True)}, 'reckoned "no"'),
        ({"observation": _with(colour="red")}, 'knows no "colour"'),
        ({"test": [{"id": "t", "label": "t", "answers": ["first"], "minutes": 0}]}, '"t"'),
        ({"gate": [{"id": "here", "label": "h", "priors": {"z": 1.0}}]}, '"z"'),
    ],
)
def test_tables_whose_parts_do_not_fit_are_refused(changes, says):
    base = {"test": [], "context": [], "cap": []}
    with pytest.raises(EvidenceError, match=says):
        small_table(**(base | changes))


def test_no_is_reckoned_so_that_yes_and_no_make_one():
    yes, no = small_table().observation("third").states
    assert (no.id, no.base) == ("no", 0.9)
    for cause, ratio in yes.weighs.ratios.items():
        assert yes.base * ratio + no.base * no.weighs.ratios[cause] == pytest.approx(1)
