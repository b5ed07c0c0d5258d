"""Margins, their u, and the probabilities of conforming."""

import numpy as np
import pytest

from etchbook.acceptance import conformity, guarded_limit, run_risks
from etchbook.acceptance.margins import Input, chance_inside, margin, shared_covariance
from etchbook.quantity import Measured


def length(name: str, value: float, u: float, key: str = "") -> Input:
    return Input(name=name, key=key or name, measured=Measured(value=value, u=u, unit="mm"))


def test_independent_parts_add_in_squares() -> None:
    inputs = (length("x", 5.0, 0.3), length("b", 9.0, 0.4))
    assert margin(lambda at: at["b"] - at["x"], inputs, 0.0) == pytest.approx((4.0, 0.5))


def test_one_quantity_under_two_names_moves_as_one() -> None:
    inputs = (length("x", 5.0, 0.3, "leg_1"), length("b", 5.0, 0.3, "leg_1"))
    assert margin(lambda at: at["b"] - at["x"], inputs, 0.0) == pytest.approx((0.0, 0.0))


def test_the_scale_never_gives_more_than_the_whole_u() -> None:
    shared = shared_covariance((length("x", 10.0, 0.05), length("b", 10.0, 0.0)), 0.01)
    assert shared == pytest.approx(np.array([[0.0025, 0.0], [0.0, 0.0]]))


def test_an_angle_owes_nothing_to_the_scale() -> None:
    angle = Input(name="q", key="q", measured=Measured(value=100.0, u=2.0, unit="°"))
    assert shared_covariance((length("x", 10.0, 0.2), angle), 0.02)[0, 1] == 0.0


def test_a_corner_keeps_its_u() -> None:
    # |x| at 0: one u either way moves it by one u; central differences would say 0
    assert margin(lambda at: 1 - abs(at["x"]), (length("x", 0.0, 0.2),), 0.0) == pytest.approx((1.0, 0.2))


def test_a_cap_halves_the_variance_it_cuts_off() -> None:
    # min(x, 3) at 3: one u up moves nothing, one u down moves one u; the mean square of both is u²/2
    value, u = margin(lambda at: min(at["x"], 3.0), (length("x", 3.0, 0.2),), 0.0)
    assert (value, u) == pytest.approx((3.0, 0.2 / 2**0.5))


def test_at_the_limit() -> None:
    assert chance_inside(0.0, 0.0) == 1.0
    assert chance_inside(-1e-12, 0.0) == 0.0
    assert chance_inside(0.0, 0.1) == pytest.approx(0.5)


def test_both_limits() -> None:
    # one u inside either limit: 68.27 % (normal distribution)
    assert conformity(Measured(value=0.0, u=1.0, unit=""), least=-1, most=1) == pytest.approx(0.6827, abs=5e-5)


def test_guard_bands_point_inwards() -> None:
    assert guarded_limit(6.0, 0.1) == pytest.approx(6.16449, abs=1e-5)
    assert guarded_limit(6.0, 0.1, upper=True) == pytest.approx(5.83551, abs=1e-5)


def test_risks_of_a_run_against_random_pieces() -> None:
    generator = np.random.default_rng(5)
    pieces = generator.normal(0, 0.12, 400_000)
    seen = pieces + generator.normal(0, 0.04, 400_000)
    outside, taken = abs(pieces) > 0.2, abs(seen) <= 0.18
    consumer, producer = run_risks(spread=0.12, u=0.04, tolerance=0.2, accept=0.18)
    assert consumer == pytest.approx(float((outside & taken).mean()), abs=6e-4)
    assert producer == pytest.approx(float((~outside & ~taken).mean()), abs=1.6e-3)
