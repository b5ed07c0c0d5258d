"""One picture under another: refused in words, or told with what was done to it and how well it lies."""

import numpy as np
import pytest

from etchbook.picture import make_picture
from etchbook.picture.register import Registration, Trust
from etchbook.usecases import RefusedError
from etchbook.usecases.blinking import laid, register_words

NAMES = ("N1-01-A-1-P1", "N1-01-A-1-P2")
TRUST = Trust(tried=36, agreeing=34, spread=0.9, residual=0.4, likeness=0.6, stretch=0.0, evidence=400.0)


def registration(**given: object) -> Registration:
    usual = {"matrix": np.eye(3), "kind": "similarity", "mirror": False, "size": 1.0, "turn": 0.0, "u": 0.4,
             "overlap": 0.8, "trust": TRUST}  # fmt: skip
    return Registration(**{**usual, **given})  # type: ignore[arg-type]


def test_two_pictures_without_anything_in_common_are_refused_by_name() -> None:
    plain = make_picture(np.full((200, 300, 3), 120, np.uint8))
    other = make_picture(np.full((200, 300, 3), 90, np.uint8))
    with pytest.raises(RefusedError, match=r"N1-01-A-1-P2 cannot be laid on N1-01-A-1-P1 with trust: .+; .+"):
        laid(plain, other, NAMES)


def test_a_picture_lies_on_its_own_shifted_self() -> None:
    """Cut out 20 px from the left and 12 px from the top of the same grain."""
    light = np.random.default_rng(2).normal(0, 1, (420, 560))
    light = sum(np.repeat(np.repeat(light[::step, ::step], step, 0), step, 1)[:420, :560] for step in (1, 4, 10, 20))
    rgb = np.repeat(np.clip(light * 20 + 120, 0, 255).astype(np.uint8)[..., None], 3, axis=2)
    found = laid(make_picture(rgb), make_picture(np.ascontiguousarray(rgb[12:, 20:])), NAMES, (40.0, 40.0))
    np.testing.assert_allclose(found.to_second(np.array([[300.0, 200.0]])), [[280.0, 188.0]], atol=0.3)


def test_the_words_tell_what_was_done_and_how_well_it_is_known() -> None:
    words = register_words(registration(size=2.1, turn=-3.2, mirror=True), NAMES)
    assert words.startswith("N1-01-A-1-P2 (mirrored, turned by 3°, taken 2.1 times closer) lies on N1-01-A-1-P1")
    assert "within 0.8 px" in words and "34 of 36 patches agree" in words


def test_what_was_not_done_is_not_told() -> None:
    assert "(" not in register_words(registration(), NAMES).split(" lies on ")[0]
    assert "2 times farther away" in register_words(registration(size=0.5), NAMES)
