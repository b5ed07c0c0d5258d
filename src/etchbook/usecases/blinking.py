"""One picture of a face laid under another, so that a person can switch between the two in place."""

from etchbook.picture import Picture
from etchbook.picture.register import NotRegistered, Registration, register
from etchbook.usecases.errors import RefusedError
from etchbook.usecases.following import SCALES_AGREE


def laid(
    first: Picture, second: Picture, names: tuple[str, str], px_per_mm: tuple[float, float] | None = None
) -> Registration:
    """Where the points of one picture of a face lie in another.

    Parameters
    ----------
    names : by which both are called in a refusal
    px_per_mm : of both, where both are known

    Raises
    ------
    RefusedError
        In words, where it cannot be told with trust.
    """
    ratio = None
    if px_per_mm is not None:
        size = px_per_mm[1] / px_per_mm[0]
        ratio = (size * (1 - SCALES_AGREE), size * (1 + SCALES_AGREE))
    found = register(first, second, ratio=ratio)
    if isinstance(found, NotRegistered):
        raise RefusedError(f"{names[1]} cannot be laid on {names[0]} with trust: {found.reason}; {found.remedy}")
    return found


def register_words(found: Registration, names: tuple[str, str]) -> str:
    """How well the second picture lies on the first, and what was done to it."""
    done = []
    if found.mirror:
        done.append("mirrored")
    if abs(found.turn) >= 0.5:
        done.append(f"turned by {abs(found.turn):.0f}°")
    if abs(found.size - 1) >= 0.02:
        times, which = (found.size, "closer") if found.size > 1 else (1 / found.size, "farther away")
        done.append(f"taken {times:.3g} times {which}")
    held = f"{found.trust.agreeing} of {found.trust.tried} patches agree"
    what = f" ({', '.join(done)})" if done else ""
    return f"{names[1]}{what} lies on {names[0]} to within {2 * found.u:.2g} px of the coarser one (95 %): {held}"
