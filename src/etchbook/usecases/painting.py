"""Paint sections whose truth is known."""

from collections.abc import Iterator
from typing import Literal, get_args

from etchbook.simulate import LINE_KINDS, LineKind, PaintedSection, paint_section
from etchbook.terms import Family
from etchbook.usecases.errors import RefusedError

LARGEST = 48_000_000
SMALLEST_SIDE = 128
Difficulty = Literal["any", "plain", "moderate", "hard"]
DIFFICULTIES: dict[str, Difficulty] = {name: name for name in get_args(Difficulty)}


def picture_size(text: str) -> tuple[int, int]:
    """Width and height [px] out of ``1600x1200``, or a refusal that says what was wrong."""
    width, _, height = text.lower().replace("×", "x").partition("x")
    if not (width.strip().isdecimal() and height.strip().isdecimal()):
        raise RefusedError(f'"{text}" is not a size: write width x height in pixels, like 1600x1200')
    size = int(width), int(height)
    if min(size) < SMALLEST_SIDE or size[0] * size[1] > LARGEST:
        raise RefusedError(f"a painted picture has sides of at least {SMALLEST_SIDE} px and at most 48 MP, not {text}")
    return size


def paint(
    family: Family, seed: int, size: tuple[int, int], *, count: int = 1, difficulty: str = "any", lines: str = ""
) -> Iterator[tuple[str, PaintedSection]]:
    """Painted sections one after the other, each with a name; the same seed paints the same section.

    Parameters
    ----------
    family : joint family
    seed : of the first section; each further one adds 1
    size : width and height [px]
    count : how many
    difficulty : any, plain, moderate or hard
    lines : kinds of indications to paint in, with commas between; "" for none
    """
    if count < 1:
        raise RefusedError(f"at least one section must be painted, not {count}")
    if seed < 0:
        raise RefusedError(f"a seed is a whole number from 0 on, not {seed}")
    looks = DIFFICULTIES.get(difficulty)
    if looks is None:
        raise RefusedError(f'"{difficulty}" is no difficulty: use {", ".join(DIFFICULTIES)}')
    return _each(family, range(seed, seed + count), size, looks, line_kinds(lines))


def line_kinds(text: str) -> tuple[LineKind, ...]:
    """Kinds of indications out of ``segregation,scratches``, or a refusal that lists them."""
    known: dict[str, LineKind] = {name: name for name in LINE_KINDS}
    asked = [part.strip() for part in text.split(",") if part.strip()]
    for name in asked:
        if name not in known:
            raise RefusedError(f'"{name}" is no kind of line: use {", ".join(LINE_KINDS)}')
    return tuple(known[name] for name in asked)


def _each(
    family: Family, seeds: range, size: tuple[int, int], looks: Difficulty, lines: tuple[LineKind, ...]
) -> Iterator[tuple[str, PaintedSection]]:
    width, height = size
    for seed in seeds:
        painted = paint_section(family, seed, width=width, height=height, difficulty=looks, lines=lines)
        yield f"{family}_{seed:05d}", painted
