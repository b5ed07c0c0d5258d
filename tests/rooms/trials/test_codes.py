"""Codes are read as people write them, and a misread one is told."""

import re

import pytest

from etchbook.trials.codes import (
    LETTERS,
    CodeError,
    bead_code,
    check_letter,
    code_kind,
    normal_code,
    parent_code,
    piece_letters,
    piece_number,
    with_check,
)

CODES = ("N1", "N1-03", "N1-03-0", "N1-03-B", "N1-03-B-2", "NM12-104-AB-11", "N1-03-B-2-P1-R1-J1", "CERT-4")


@pytest.mark.parametrize(
    ("typed", "code"),
    [
        ("n1", "N1"),
        (" N1 3 ", "N1-03"),
        ("N1-3", "N1-03"),
        ("N1-O3", "N1-03"),
        ("N1-l2", "N1-12"),
        ("n1.03.b.2", "N1-03-B-2"),
        ("N1_03_b", "N1-03-B"),
        ("N1-03-o", "N1-03-0"),
        ("n1-03-b-2-p1-r1-x3", "N1-03-B-2-P1-R1-X3"),
        ("cert-7", "CERT-7"),
        ("ETCHBOOK:N1-03", "N1-03"),
    ],
)
def test_codes_as_people_type_them(typed: str, code: str) -> None:
    assert normal_code(typed) == code


@pytest.mark.parametrize(
    "typed",
    ["", "  ", "1", "N", "3-N1", "Q1", "I2", "N1-B", "N1-00", "N1-03-BBB", "N1-03-I", "N1-03-0-1", "N1-03-B-0",
     "N1-03-B-2-R1", "N1-03-B-2-P1-J1", "N1-03-B-2-P", "CERT-x", "N1-03-B-2-P1-R1-J1-X1", "N1/", "../etc"],
)  # fmt: skip
def test_what_is_no_code_is_refused_in_one_sentence(typed: str) -> None:
    with pytest.raises(CodeError) as refused:
        normal_code(typed)
    assert "\n" not in str(refused.value)


@pytest.mark.parametrize(
    ("code", "kind", "parent"),
    [
        ("N1", "trial", ""),
        ("N1-03", "bead", "N1"),
        ("N1-03-0", "coupon", "N1-03"),
        ("N1-03-B", "piece", "N1-03"),
        ("N1-03-B-2", "face", "N1-03-B"),
        ("N1-03-B-2-P1", "picture", "N1-03-B-2"),
        ("N1-03-B-2-P1-R1", "reading", "N1-03-B-2-P1"),
        ("N1-03-B-2-P1-R1-X2", "indication", "N1-03-B-2-P1-R1"),
        ("N1-03-B-2-P1-R1-J1", "judgement", "N1-03-B-2-P1-R1"),
        ("CERT-4", "certificate", ""),
    ],
)
def test_what_a_code_names(code: str, kind: str, parent: str) -> None:
    assert normal_code(code) == code and code_kind(code) == kind and parent_code(code) == parent


def test_the_bead_of_a_code() -> None:
    assert [bead_code(code) for code in ("N1", "N1-03", "N1-03-B-2", "CERT-4")] == ["", "N1-03", "N1-03", ""]


@pytest.mark.parametrize("code", CODES)
def test_the_check_letter_is_taken_and_told(code: str) -> None:
    assert normal_code(with_check(code)) == code
    for letter in LETTERS:
        if letter != check_letter(code):
            with pytest.raises(CodeError, match="check letter"):
                normal_code(f"{code}/{letter}")


@pytest.mark.parametrize("code", ["N1-03", "N1-03-B", "N1-03-B-2", "NM12-41-AB-11"])
def test_every_single_misreading_is_found(code: str) -> None:
    for k, sign in enumerate(code):
        others = LETTERS if sign in LETTERS else "0123456789" if sign.isdigit() else ""
        for other in others:
            if other != sign:
                assert check_letter(code[:k] + other + code[k + 1 :]) != check_letter(code)


@pytest.mark.parametrize("code", ["N1-03-B-2", "NM12-41-AB-17", "N21-84-B-2"])
def test_neighbours_of_one_sort_that_changed_places_are_found(code: str) -> None:
    bare = code.replace("-", "")
    for k in range(len(bare) - 1):
        pair = bare[k : k + 2]
        if pair[0] != pair[1] and (pair.isdigit() or re.fullmatch("[A-Z]{2}", pair)):
            turned = bare[:k] + pair[::-1] + bare[k + 2 :]
            assert check_letter(turned) != check_letter(bare)


def test_a_whole_coupon_and_its_bead_have_other_letters() -> None:
    assert check_letter("N1-03") != check_letter("N1-03-0")


def test_letters_count_on() -> None:
    letters = [piece_letters(k) for k in range(60)]
    assert letters[:3] == ["A", "B", "C"] and letters[22:25] == ["Z", "AA", "AB"]
    assert len(set(letters)) == 60 and not set("".join(letters)) & set("IOQ")
    assert [piece_number(one) for one in letters] == list(range(60))
