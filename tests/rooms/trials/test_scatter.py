"""Scatter from bead to bead, section to section, reading to reading."""

import math

import numpy as np
import pytest

from etchbook.quantity import Measured
from etchbook.trials.reading_study import by_ranges, reading_study
from etchbook.trials.scatter import BeadResponse, Scatter, StatisticsError, nested, one_way, pooled


def simulated(beads: int, sections: int, readings: int, seed: int) -> list[BeadResponse]:
    draw = np.random.default_rng(seed)
    made = []
    for at in range(beads):
        bead = 2 + 0.16 * draw.normal()
        cuts = [bead + 0.10 * draw.normal() for _ in range(sections)]
        values = [tuple(Measured(value=cut + 0.05 * draw.normal(), u=0.05, unit="mm") for _ in range(readings))
                  for cut in cuts]  # fmt: skip
        made.append(BeadResponse(code=f"B{at}", sections=tuple(values), order=at))
    return made


def test_components_come_back_from_many_beads() -> None:
    found = nested(simulated(1500, 3, 2, seed=5))
    assert found.between_beads == pytest.approx(0.16, rel=0.05)
    assert found.between_sections == pytest.approx(0.10, rel=0.05)
    assert found.between_readings == pytest.approx(0.05, rel=0.05)


def test_a_level_that_was_not_repeated_has_no_scatter() -> None:
    found = nested(simulated(6, 1, 1, seed=2))
    assert math.isnan(found.between_sections) and math.isnan(found.between_readings) and found.between_beads > 0
    assert found.of_mean(3) == found.between_beads


def test_the_mean_of_a_bead_is_the_mean_of_its_sections() -> None:
    one = Measured(value=1.0, u=0.1, unit="mm")
    two = Measured(value=2.0, u=0.1, unit="mm")
    bead = BeadResponse(code="B", sections=((one, one, one), (two,)))
    assert bead.mean == pytest.approx(1.5)
    assert bead.u_reading == pytest.approx(math.sqrt(0.1**2 / 3 + 0.1**2) / 2)


def test_pooling_takes_groups_without_their_means() -> None:
    found = pooled([[1.0, 2.0], [11.0, 12.0], [5.0]])
    assert found is not None and found.sd == pytest.approx(math.sqrt(0.5)) and found.dof == 2
    assert pooled([[1.0], [2.0]]) is None and pooled([[1.0, 1.0]]) is None


def test_limits_of_a_scatter_from_six_beads() -> None:
    low, high = Scatter(sd=0.16, dof=5, source="x").limits()
    assert (low, high) == pytest.approx((0.100, 0.393), abs=1e-3)  # research note 6a
    assert Scatter(sd=0.16, dof=math.inf, source="x").limits() == (0.16, 0.16)


def test_analysis_of_variance_needs_groups() -> None:
    with pytest.raises(StatisticsError):
        one_way([[1.0, 2.0]])


def test_people_who_read_alike_have_no_reproducibility() -> None:
    draw = np.random.default_rng(8)
    table = np.arange(6)[:, None, None] + 0.02 * draw.normal(size=(6, 2, 3))
    found = reading_study(table)
    assert found.repeatability == pytest.approx(0.02, rel=0.4) and found.reproducibility < 0.02
    assert found.sections == pytest.approx(np.arange(6).std(ddof=1), rel=0.02)
    assert found.categories > 50 and found.share_of(0.2) == pytest.approx(100 * found.reading / 0.2)


def test_a_person_with_an_offset_is_found() -> None:
    draw = np.random.default_rng(9)
    table = np.arange(8)[:, None, None] + np.array([0.0, 0.5])[None, :, None] + 0.02 * draw.normal(size=(8, 2, 3))
    assert reading_study(table).reproducibility == pytest.approx(0.5 / math.sqrt(2), rel=0.05)


def test_a_person_who_reads_single_sections_otherwise_is_not_pooled() -> None:
    draw = np.random.default_rng(10)
    way = draw.normal(size=(8, 2, 1))
    found = reading_study(np.arange(8)[:, None, None] * 3 + way + 0.01 * draw.normal(size=(8, 2, 3)))
    assert not found.pooled and found.repeatability == pytest.approx(0.01, rel=0.4)


def test_one_person_makes_a_study_of_repeatability() -> None:
    draw = np.random.default_rng(12)
    found = reading_study(np.arange(5)[:, None, None] + 0.03 * draw.normal(size=(5, 1, 4)))
    assert found.reproducibility == 0 and found.repeatability == pytest.approx(0.03, rel=0.4)


def test_tables_that_are_no_study_are_refused() -> None:
    with pytest.raises(StatisticsError):
        reading_study(np.ones((1, 2, 2)))
    with pytest.raises(StatisticsError):
        reading_study(np.array([[[1.0, np.nan]], [[1.0, 2.0]]]))
    with pytest.raises(StatisticsError):
        by_ranges(np.ones((4, 5, 2)))
