"""Cautions for the report."""

from etchbook.tables import cautions


def test_a_topic_brings_its_own_cautions_only() -> None:
    found = cautions("etching")
    assert [row.topic for row in found] == ["etching"]
    assert "safety data sheet" in found[0].text.lower()


def test_what_the_person_wrote_names_the_etchant() -> None:
    assert [row.topic for row in cautions("5 % Nital, 10 s")] == ["nital"]


def test_all_cautions_say_how_they_are_known() -> None:
    rows = cautions()
    assert {"etching", "nital", "grinding", "welding", "reading"} <= {row.topic for row in rows}
    assert all(row.status == "common practice" and row.text.endswith(".") for row in rows)


def test_an_unknown_topic_brings_none() -> None:
    assert cautions("knitting") == ()
