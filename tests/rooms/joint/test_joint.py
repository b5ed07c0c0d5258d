"""What is known of a joint."""

import pytest

from etchbook.joint import Joint
from etchbook.terms import FAMILIES, Family


@pytest.mark.parametrize("family", FAMILIES)
def test_a_bead_has_one_member_and_every_joint_two(family: Family) -> None:
    assert Joint(family=family).members == (1 if family == "bead" else 2)


def test_nothing_is_assumed() -> None:
    joint = Joint(family="tee")
    assert (joint.thickness_1, joint.thickness_2, joint.throat, joint.groove) == (None, None, None, None)
