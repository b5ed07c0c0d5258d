"""How pictures lie on each other and what became of a line, in words for screen and page alike."""

from etchbook.picture.register import NotRegistered, Registration
from etchbook.quantity import spoken
from etchbook.usecases.followed import Change
from etchbook.usecases.following import Frame

ORDER = "Pictures are taken to be given in the order in which they were made."
BOUND = "u of a place covers the fit of the two pictures; where light or etch shift what is seen, it does not."


def heading(frame: Frame) -> str:
    """``B, detail.jpg (finish 1200, etched)``"""
    return f"{frame.name}, {frame.picture.name or 'no name'} ({frame.state.words()})"


def placed_words(frame: Frame) -> str:
    """How a picture lies on A and what that rests on, or why it cannot be told."""
    placed = frame.placed
    if placed is None:
        return "the picture that the others are laid on"
    if isinstance(placed, NotRegistered):
        return f"not laid on A: {placed.reason}; {placed.remedy}"
    over = f" by way of {frame.through}" if frame.through else ""
    return f"laid on A{over}: {_motion(placed)}; {_rests(placed)}"


def _motion(placed: Registration) -> str:
    times = f"{placed.size:.3g} times as close" if placed.size >= 1 else f"{1 / placed.size:.3g} times further off"
    return f"{times}, turned by {placed.turn:.1f}°{', mirrored' if placed.mirror else ''}"


def _rests(placed: Registration) -> str:
    trust = placed.trust
    if placed.by_hand:
        return (
            f"by {trust.tried} points that a person matched, each within {trust.residual:.1f} px (rms) of where the "
            f"others put it; the pictures alone did not bear it out, so it rests on whoever set the points; a place is "
            f"carried over with u = {placed.u:.2f} px of the coarser picture"
        )
    return (
        f"{trust.agreeing} of {trust.tried} patches agree within {trust.residual:.2f} px, a place is carried over with "
        f"u = {placed.u:.2f} px of the coarser picture"
    )


def change_words(change: Change) -> str:
    """``present, narrower (0.061 ± 0.008 mm)``"""
    words = ", ".join(change.words)
    if change.width_mm is not None:
        words += f" ({spoken(change.width_mm)} wide)"
    elif change.width_limit_mm is not None:
        words += f" (below {change.width_limit_mm:.3f} mm wide)"
    return f"{words}: {change.why}" if change.why else words
