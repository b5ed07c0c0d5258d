"""Coupons and what a saw makes of them: pieces that know each other."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from etchbook.trials import code_kind, normal_code
from etchbook.trials.codes import bead_code, piece_letters, piece_number
from etchbook.trials.records import Bead, Coupon, Facing, Piece, PieceState
from etchbook.usecases.errors import RefusedError
from etchbook.usecases.keeping.looking import held, write_next
from etchbook.usecases.keeping.ports import BookStore, Hand, Write

MOST_PIECES = 60


def keep_coupon(store: BookStore, hand: Hand, typed: str, said: Mapping[str, Any]) -> tuple[Coupon, bool]:
    """Make the coupon of a bead, or change it.

    Parameters
    ----------
    typed : code of the bead or of the coupon
    said : fields of the coupon that were said
    """
    bead = _bead(store, typed)
    found = store.entry(f"{bead}-0")
    if found is None:
        coupon = Coupon(code=f"{bead}-0", **{"beads": (bead,), **said})
        write_next(store, hand, "made coupon {}", lambda: [Write(record=coupon, expects=0)])
        return coupon, True
    coupon, edition = held(store, f"{bead}-0", Coupon)
    changed = replace(coupon, **said)
    if changed != coupon:
        write_next(store, hand, "changed coupon {}", lambda: [Write(record=changed, expects=edition)])
    return changed, False


def _bead(store: BookStore, typed: str) -> str:
    code = normal_code(typed)
    if code_kind(code) not in ("bead", "coupon"):
        raise RefusedError(f"{code} is the code of a {code_kind(code)}; a coupon goes by its bead, like N1-03")
    return held(store, bead_code(code), Bead)[0].code


def cut(
    store: BookStore,
    hand: Hand,
    typed: str,
    *,
    into: int = 2,
    at: Sequence[float] = (),
    kerf: float = 0.0,
    place: str = "",
) -> tuple[Piece, ...]:
    """Cut a coupon or a piece; the parts know which side met which.

    Parameters
    ----------
    typed : code of the bead or coupon, or of the piece that is cut further
    into : how many parts, where `at` is not given
    at : where the saw went, along the seam of the coupon [mm]
    kerf : what the saw took away [mm]
    place : where the parts are kept
    """
    count = len(at) + 1 if at else into
    if not 2 <= count <= MOST_PIECES:
        raise RefusedError(f"a cut makes at least 2 and at most {MOST_PIECES} pieces, not {count}")
    if list(at) != sorted(set(at)) or kerf < 0:
        raise RefusedError("cuts are given in rising order along the seam, and a kerf is not negative")

    def make() -> Sequence[Write]:
        return _cut_writes(store, hand, typed, count, at, kerf, place)

    writes = write_next(store, hand, f"cut {normal_code(typed)} into {count}", make)
    return tuple(write.record for write in writes if isinstance(write.record, Piece) and write.expects == 0)


def _cut_writes(
    store: BookStore, hand: Hand, typed: str, count: int, at: Sequence[float], kerf: float, place: str
) -> list[Write]:
    old, edition = _to_cut(store, typed)
    bead = bead_code(old.code)
    taken = [code.rpartition("-")[2] for code in store.taken(bead) if code_kind(code) == "piece"]
    first = 1 + max((piece_number(letters) for letters in taken), default=-1)
    codes = [f"{bead}-{piece_letters(first + k)}" for k in range(count)]
    family = [entry.record for entry in store.tree(bead, binned=True) if isinstance(entry.record, Piece)]
    last_cut = max((facing.cut for piece in family for facing in piece.facing), default=0)
    spans = _spans(old, count, at, kerf)
    outer = old.facing if isinstance(old, Piece) else ()
    pieces = [
        Piece(
            code=code,
            parent=old.code,
            facing=_facing(codes, k, last_cut, outer),
            start=spans[k][0],
            stop=spans[k][1],
            place=place or old.place,
        )
        for k, code in enumerate(codes)
    ]
    gone = Write(record=replace(old, state="cut up"), expects=edition)
    return [*(Write(record=piece, expects=0) for piece in pieces), gone, *_neighbours(store, old, codes)]


def _to_cut(store: BookStore, typed: str) -> tuple[Coupon | Piece, int]:
    code = normal_code(typed)
    if code_kind(code) == "piece":
        old: Coupon | Piece
        old, edition = held(store, code, Piece)
    else:
        bead = _bead(store, typed)
        if store.entry(f"{bead}-0") is None:
            return Coupon(code=f"{bead}-0", beads=(bead,)), 0
        old, edition = held(store, f"{bead}-0", Coupon)
    if old.state != "kept":
        raise RefusedError(f"{old.code} cannot be cut: it is {old.state}")
    return old, edition


def _spans(
    old: Coupon | Piece, count: int, at: Sequence[float], kerf: float
) -> list[tuple[float | None, float | None]]:
    """Where each part begins and ends along the seam [mm]."""
    if not at:
        return [(None, None)] * count
    begin = old.start if isinstance(old, Piece) else 0.0
    end = old.stop if isinstance(old, Piece) else old.length
    if (begin is not None and at[0] <= begin) or (end is not None and at[-1] >= end):
        raise RefusedError(f"the cut lies outside {old.code}, which runs from {begin:g} mm to {end or 0:g} mm")
    starts = [begin, *(one + kerf / 2 for one in at)]
    stops = [*(one - kerf / 2 for one in at), end]
    return list(zip(starts, stops, strict=True))


def _facing(codes: Sequence[str], k: int, last_cut: int, outer: Sequence[Facing]) -> tuple[Facing, ...]:
    """What the part met at either end: its brothers inside, the old neighbours at the outer ends."""
    met = [facing for facing in outer if k == 0 and facing.end == "start"]
    if k > 0:
        met.append(Facing(cut=last_cut + k, other=codes[k - 1], end="start"))
    if k < len(codes) - 1:
        met.append(Facing(cut=last_cut + k + 1, other=codes[k + 1], end="stop"))
    met += [facing for facing in outer if k == len(codes) - 1 and facing.end == "stop"]
    return tuple(met)


def _neighbours(store: BookStore, old: Coupon | Piece, codes: Sequence[str]) -> list[Write]:
    """The old piece's neighbours now face the part at that end."""
    writes = []
    for facing in old.facing if isinstance(old, Piece) else ():
        entry = store.entry(facing.other)
        if entry is None or not isinstance(entry.record, Piece):
            continue
        part = codes[0] if facing.end == "start" else codes[-1]
        met = tuple(replace(one, other=part) if one.other == old.code else one for one in entry.record.facing)
        writes.append(Write(record=replace(entry.record, facing=met), expects=entry.edition, binned=entry.binned))
    return writes


def keep_piece(
    store: BookStore, hand: Hand, typed: str, *, place: str | None = None, state: PieceState | None = None,
    remarks: str | None = None, expects: int = 0,
) -> Piece | Coupon:  # fmt: skip
    """Say where a piece or a coupon is kept, or that it is lost, found, scrapped or sent away.

    `expects` is the edition that the person looked at, where that is known; another one is refused.
    """
    kind = Coupon if code_kind(normal_code(typed)) in ("coupon", "bead") else Piece
    code = f"{bead_code(normal_code(typed))}-0" if kind is Coupon else typed
    old: Piece | Coupon
    old, edition = held(store, code, kind, expects=expects)
    if state is not None and old.state == "cut up":
        raise RefusedError(f"{old.code} is cut up: say it of the parts it was cut into")
    changed = replace(
        old,
        place=old.place if place is None else place,
        state=state or old.state,
        remarks=old.remarks if remarks is None else remarks,
    )
    if changed != old:
        said = {"kept": "found" if old.state != "kept" else "moved"}.get(changed.state, changed.state)
        write_next(store, hand, f"{{}} {said}", lambda: [Write(record=changed, expects=edition)])
    return changed


@dataclass(frozen=True, kw_only=True, slots=True)
class Whereabouts:
    """A piece, the pieces it met across its cuts, and every other piece of the same coupon."""

    piece: Piece
    facing: tuple[tuple[Facing, Piece], ...]
    others: tuple[Piece, ...]


def whereabouts(store: BookStore, typed: str) -> Whereabouts:
    """Where a piece is, where its other half is, and where the rest of the coupon is."""
    piece, _ = held(store, typed, Piece)
    family = {
        entry.code: entry.record
        for entry in store.below(bead_code(piece.code), "piece")
        if isinstance(entry.record, Piece) and entry.code != piece.code
    }
    met = tuple((facing, family[facing.other]) for facing in piece.facing if facing.other in family)
    near = {facing.other for facing, _ in met}
    return Whereabouts(piece=piece, facing=met, others=tuple(one for code, one in family.items() if code not in near))
