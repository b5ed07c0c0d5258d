"""The plan of cuts of a coupon: sections, cuts and the pieces they make."""

import math
import re
from dataclasses import dataclass

from etchbook.preparation.coupon import Cut, CutPlan, CutRule, CuttingError, CutWish, PlannedPiece, Section
from etchbook.preparation.cutrules import cut_rule
from etchbook.preparation.stations import TINY, stations

HALF_NOTE = "The side that faces each section is its other half: mark the piece, keep it, and do not grind that side."
TRIM_NOTE = "A section piece may be shortened across, so long as unaffected parent metal is left on both sides."
SLIVER = 5.0
"""What would be left thinner than this [mm] beside a section piece stays with it: no saw holds it."""

LETTERS = "ABCDEFGHJKLMNPRSTUVWXYZ"
"""Letters of pieces, as in the book: I, O and Q are taken for 1 and 0 on steel."""


@dataclass(frozen=True, kw_only=True, slots=True)
class _Saw:
    """A cut before its pieces have codes."""

    start: float
    end: float
    why: str


def plan_cuts(wish: CutWish) -> CutPlan:
    """Where to saw a coupon and which pieces come of it.

    Parameters
    ----------
    wish : the coupon and what is to be proven on it

    Returns
    -------
    CutPlan
        CuttingError, one sentence, where the coupon cannot be cut so.
    """
    _check(wish)
    rule = cut_rule(wish)
    places = stations(wish, rule)
    saws = _saws(wish, rule, places)
    codes = _codes(wish, len(saws) + 1)
    pieces = _pieces(wish, rule, saws, codes)
    cuts = tuple(
        Cut(
            number=n + 1,
            start=round(saw.start, 3),
            end=round(saw.end, 3),
            before=codes[n],
            after=codes[n + 1],
            why=saw.why,
        )
        for n, saw in enumerate(saws)
    )
    return CutPlan(
        wish=wish,
        rule=rule,
        sections=_sections(wish, places, pieces),
        cuts=cuts,
        pieces=pieces,
        notes=_notes(wish, rule),
    )


def _check(wish: CutWish) -> None:
    sizes = {
        "length": wish.length,
        "width": wish.width,
        "thickness_1": wish.thickness_1,
        "thickness_2": wish.thickness_2 if wish.thickness_2 is not None else wish.thickness_1,
        "kerf": wish.kerf,
    }
    for name, value in sizes.items():
        if not (math.isfinite(value) and 0 < value <= 10_000):
            raise CuttingError(f"{name} must be above 0 and at most 10000 mm, not {value:g} mm")
    for name, value in {
        "slice": wish.slice,
        "allowance": wish.allowance,
        "reserve": wish.reserve,
        "discard": wish.discard or 0.0,
    }.items():
        if not (math.isfinite(value) and 0 <= value <= 1000):
            raise CuttingError(f"{name} must be 0 to 1000 mm, not {value:g} mm")
    if wish.slice and wish.slice <= wish.allowance:
        raise CuttingError(
            f"a piece of {wish.slice:g} mm would be ground away by an allowance of {wish.allowance:g} mm"
        )
    for place in (*wish.at, *wish.start_stops):
        if not 0 < place < wish.length:
            raise CuttingError(f"a place at {place:g} mm does not lie on a coupon {wish.length:g} mm long")
    if wish.sections is not None and not 1 <= wish.sections <= 12:
        raise CuttingError(f"1 to 12 sections can be planned on one coupon, not {wish.sections}")


def _saws(wish: CutWish, rule: CutRule, places: tuple[float, ...]) -> list[_Saw]:
    """The cuts from the start: one that shows each section, one behind its piece, one at each end."""
    kerf, last = wish.kerf, wish.length - rule.discard
    if rule.place == "end_section":
        return [
            _Saw(start=rule.discard, end=rule.discard + kerf, why="section"),
            _Saw(start=last - kerf, end=last, why="discard"),
        ]
    saws = [_Saw(start=rule.discard, end=rule.discard + kerf, why="discard")] if rule.discard else []
    for n, place in enumerate(places):
        face = place - wish.allowance
        saws.append(_Saw(start=face - kerf, end=face, why="section"))
        following = places[n + 1] - wish.allowance - kerf if n + 1 < len(places) else _end_cut(wish, rule)
        back = face + wish.slice
        if wish.slice and following - (back + kerf) >= min(SLIVER, wish.reserve):
            saws.append(_Saw(start=back, end=back + kerf, why="back"))
    if rule.discard:
        saws.append(_Saw(start=last - kerf, end=last, why="discard"))
    return saws


def _end_cut(wish: CutWish, rule: CutRule) -> float:
    """Where the last piece before the discarded end has to stop [mm]."""
    return wish.length - rule.discard - (wish.kerf if rule.discard else 0.0)


def _codes(wish: CutWish, count: int) -> tuple[str, ...]:
    if not re.fullmatch(rf"[{LETTERS}]{{1,3}}[0-9]{{1,4}}-[0-9]{{1,4}}", wish.coupon):
        raise CuttingError(f'"{wish.coupon}" is no code of a bead: write trial and bead, such as N1-03')
    first = wish.first.upper()
    if not re.fullmatch(rf"[{LETTERS}]{{1,2}}", first):
        raise CuttingError(f'"{wish.first}" is no letter for the first piece: use one of {LETTERS}')
    begin = len(LETTERS) * (LETTERS.index(first[0]) + 1 if len(first) == 2 else 0) + LETTERS.index(first[-1])
    if begin + count > len(LETTERS) * (len(LETTERS) + 1):
        raise CuttingError(f"{count} pieces from {first} on run past the letters ZZ")
    return tuple(f"{wish.coupon}-{_letters(begin + n)}" for n in range(count))


def _letters(number: int) -> str:
    """Letters of the piece of that number, from 0 on: A, B ... Z, AA, AB ..."""
    first, second = divmod(number, len(LETTERS))
    return (LETTERS[first - 1] if first else "") + LETTERS[second]


def _pieces(wish: CutWish, rule: CutRule, saws: list[_Saw], codes: tuple[str, ...]) -> tuple[PlannedPiece, ...]:
    starts = [0.0, *(saw.end for saw in saws)]
    ends = [*(saw.start for saw in saws), wish.length]
    pieces = []
    for n, code in enumerate(codes):
        before = saws[n - 1].why if n else ""
        after = saws[n].why if n < len(saws) else ""
        use, face = _use(rule, before, after, n, len(codes))
        pieces.append(
            PlannedPiece(
                code=code,
                letter=code.rpartition("-")[2],
                start=round(starts[n], 3),
                end=round(ends[n], 3),
                use=use,
                face=face,
                faces_before=codes[n - 1] if n else "",
                faces_after=codes[n + 1] if n + 1 < len(codes) else "",
            )
        )
    return tuple(pieces)


def _use(rule: CutRule, before: str, after: str, n: int, count: int) -> tuple[str, str]:
    """Use of a piece between two cuts, and which of its sides is prepared."""
    if rule.place == "end_section":
        return (("section", "stop"), ("test", ""), ("spare", ""))[n]
    if before == "section":
        return "section", "start"
    if rule.discard and n in (0, count - 1):
        return "discard", ""
    return ("reserve", "") if after == "section" else ("spare", "")


def _sections(wish: CutWish, places: tuple[float, ...], pieces: tuple[PlannedPiece, ...]) -> tuple[Section, ...]:
    faced = [piece for piece in pieces if piece.use == "section"]
    return tuple(
        Section(
            number=n + 1,
            at=round(place, 3),
            piece=piece.code,
            side=piece.face,
            other_half=piece.faces_before if piece.face == "start" else piece.faces_after,
            through_stop=any(abs(place - stop) < TINY for stop in wish.start_stops),
        )
        for n, (place, piece) in enumerate(zip(places, faced, strict=True))
    )


def _notes(wish: CutWish, rule: CutRule) -> tuple[str, ...]:
    told = [*rule.notes, *(() if rule.place == "end_section" else (HALF_NOTE,))]
    told.append(
        f"Places are measured from the start of the weld; each cut takes {wish.kerf:g} mm: measure your own blade."
    )
    told.append(f"Each section lies {wish.allowance:g} mm inside the sawn face of its piece: that is ground off.")
    return (*told, TRIM_NOTE)
