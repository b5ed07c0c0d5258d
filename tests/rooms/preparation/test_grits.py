"""Papers in both systems: the trap is that 400 is not P400."""

import pytest

from etchbook.preparation import PreparationError, ansi_words, grit, nearest_fepa


def test_a_number_without_p_is_an_ansi_number() -> None:
    assert grit("P400").um == pytest.approx(35)
    assert grit("400").um == pytest.approx(22)
    assert grit("ANSI 400") == grit("400 cami") == grit("400")
    assert grit("400").name == "ANSI 400"


def test_the_paper_as_fine_as_ansi_400_is_p800() -> None:
    assert nearest_fepa(grit("400").um).name == "P800"


def test_coarse_papers_agree_in_both_systems_up_to_220() -> None:
    for number in (80, 120, 150, 180, 220):
        assert grit(f"P{number}").ansi == str(number)


def test_a_size_between_two_numbers_says_so() -> None:
    assert grit("P240").ansi == "between 220 and 240"
    assert ansi_words(500.0) == "coarser than 60"
    assert ansi_words(2.0) == "finer than 1200"


def test_polishing_agents_go_by_their_size() -> None:
    assert grit("3 µm").um == 3
    assert grit("1 μm diamond").name == "1 µm diamond"


@pytest.mark.parametrize("name", ["P401", "401", "rough", "", "P"])
def test_unknown_papers_are_refused_in_one_sentence(name: str) -> None:
    with pytest.raises(PreparationError, match="known here"):
        grit(name)


def test_finer_names_are_finer_papers() -> None:
    from etchbook.tables.packaged import packaged

    for system in ("fepa", "ansi"):
        sizes = [row["um"] for row in packaged("papers")[system]]
        assert sizes == sorted(sizes, reverse=True)
