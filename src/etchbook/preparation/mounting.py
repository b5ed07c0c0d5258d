"""Whether a piece goes into resin, and how much resin that takes."""

import math

from etchbook.preparation.choices import choice, known
from etchbook.preparation.records import Known, Mounting, PreparationError, PrepareWish

MOULDS = (25.0, 30.0, 40.0, 50.0)
WALL, ABOVE, SPARE = 4.0, 5.0, 1.1
"""Resin beside the piece [mm] and above it [mm], and a tenth more than the mould takes."""

SMALL = 20.0
"""A face shorter than this [mm] is hard to hold flat by hand."""

FINE = ("line", "grains")
_PRACTICE = Known(fact="when to mount, wall and height of resin", source="common practice", status="common practice")


def mounting(wish: PrepareWish, want: str) -> Mounting:
    """Whether the piece is mounted, in what, and how much of it.

    Parameters
    ----------
    wish : with `mount` None the rule decides: mounted when it is polished finer than paper, or too small to hold
    want : id of what is to be seen
    """
    needed, why = _needed(wish, want)
    if not needed:
        return Mounting(needed=False, why=why, known=(_PRACTICE,))
    row = choice("resin", wish.resin)
    low, high = row["cure_minutes"]
    mould, height = _mould(wish) if wish.size_mm else (None, None)
    volume = None if mould is None or height is None else _resin(wish, mould, height)
    return Mounting(
        needed=True,
        why=why,
        resin=row["id"],
        mould_mm=mould,
        height_mm=height,
        resin_ml=volume,
        cure_minutes=(float(low), float(high)),
        words=_words(row["title"], row["peak"], row["shrinks"], volume, row.get("most_ml")),
        known=(known(row, f"{row['title']}: cure and peak temperature"), _PRACTICE),
    )


def _needed(wish: PrepareWish, want: str) -> tuple[bool, str]:
    if wish.mount is not None:
        return wish.mount, "as you asked"
    if _too_wide(wish):
        return False, "the piece is larger than a mould: clamp it, or cut the face smaller first"
    if want in FINE:
        return True, "a polished face needs its edges held, or they round off and the line at the edge is lost"
    if wish.size_mm and max(wish.size_mm[:2]) < SMALL:
        return True, f"a face under {SMALL:g} mm is hard to hold flat by hand"
    return (
        False,
        "a ground face of this size is held by hand or in a clamp; flat steel on both sides keeps the edges sharp",
    )


def _too_wide(wish: PrepareWish) -> bool:
    return wish.size_mm is not None and _across(wish) > MOULDS[-1]


def _across(wish: PrepareWish) -> float:
    assert wish.size_mm is not None
    return math.hypot(*wish.size_mm[:2]) + 2 * WALL


def _mould(wish: PrepareWish) -> tuple[float, float]:
    assert wish.size_mm is not None
    across = _across(wish)
    if across > MOULDS[-1]:
        raise PreparationError(
            f"a face of {wish.size_mm[0]:g} × {wish.size_mm[1]:g} mm goes into no mould up to {MOULDS[-1]:g} mm: "
            "cut it smaller, or leave mounting out"
        )
    return next(mould for mould in MOULDS if mould >= across), wish.size_mm[2] + ABOVE


def _resin(wish: PrepareWish, mould: float, height: float) -> float:
    """Resin to mix [mL]: the mould less the piece, and a tenth more."""
    assert wish.size_mm is not None
    free = math.pi / 4 * mould**2 * height - math.prod(wish.size_mm)
    return SPARE * free / 1000


def _words(title: str, peak: str, shrinks: str, volume: float | None, most: float | None) -> str:
    amount = "the amount for your mould" if volume is None else f"about {volume:.0f} mL"
    told = (
        f"Clean and dry the piece, face down in the mould. Mix {amount} of {title} by mass as its maker says, stir "
        f"slowly (no bubbles), pour at one side. It peaks at {peak}; it {shrinks}. A gummy mount: 32–38 °C for 1–2 h."
    )
    if most and volume and volume > most:
        told += f" More than {most:g} mL of {title} at once grows hot: pour in layers, each hard before the next."
    return told
