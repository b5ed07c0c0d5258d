"""Registering two pictures: guesses from places that look alike, refined and weighed by patches."""

import numpy as np
from numpy.typing import NDArray

from etchbook.picture.records import Picture
from etchbook.picture.reduce import block_mean, grey
from etchbook.picture.register import by_hand
from etchbook.picture.register.blocks import Sheet
from etchbook.picture.register.by_hand import Pairs
from etchbook.picture.register.keypoints import Array, Keypoints
from etchbook.picture.register.matching import Guess, guesses, match
from etchbook.picture.register.motion import inverse, is_mirrored, moved, size_at, turn_at
from etchbook.picture.register.records import NotRegistered, Registration, Trust
from etchbook.picture.register.refining import Refined, refined
from etchbook.picture.register.words import describe

WORKED_ON = 2.0e6
"""Places are looked for on at most about this many pixels."""
PLACES = 1000
SMALL = 3.5e5
"""Patches are first compared on about this many pixels of the overlap."""

# What is asked before a registration is trusted: set on painted pairs of seeds below 800000, so that no two different
# sections of them were taken for one face.
AGREEING = 20
SHARE = 0.3
SPREAD = 0.3
EVIDENCE = 60.0
LIKENESS = 0.12
STRETCH = 0.08
WIDEST_U = 3.0

NOTHING = "no places were found that look alike in both pictures"
REMEDY = (
    "photograph the same face again with the weld whole in both pictures and the light from the same side, or mark "
    "three points with a punch before the next preparation"
)


def register(
    first: Picture, second: Picture, *, ratio: tuple[float, float] | None = None
) -> Registration | NotRegistered:
    """Lay two pictures of one face on each other.

    Parameters
    ----------
    first, second : pictures at any magnification 1:1 to about 1:6, any turn, mirrored or not, etched or not
    ratio : lowest and highest px of the second per px of the first, where the scales are known

    Returns
    -------
    Registration or NotRegistered
        Refused in words when the patches do not bear it out; its u covers the fit, not bending of the picture.
    """
    lights = [grey(first.rgb), grey(second.rgb)]
    places = [_described(picture) for picture in (first, second)]
    tried = guesses(match(places[0], places[1]), ratio=ratio) if min(len(p.at) for p in places) else []
    return _weighed(lights, tried)


def register_by_hand(first: Picture, second: Picture, pairs: Pairs) -> Registration | NotRegistered:
    """Lay two pictures on each other by places that a person matched, made finer by the pictures where they bear it.

    Parameters
    ----------
    pairs : (n, 2, 2) px in the first and in the second picture of each place, three or more

    Returns
    -------
    Registration or NotRegistered
        Trusted as a registration without points is; or, from four points on, by how well each point is foretold by the
        others, and then marked `by_hand`.
    """
    lights = [grey(first.rgb), grey(second.rgb)]
    guess = by_hand.guessed(pairs)
    found = _weighed(lights, [guess])
    if isinstance(found, Registration) and by_hand.agrees(found.matrix, pairs, found.size):
        return found
    return by_hand.alone(guess, pairs, overlap=_overlap(lights, guess.matrix))


def _weighed(lights: list[Array], tried: list[Guess]) -> Registration | NotRegistered:
    """The best of some guesses, once refined, if it can be trusted."""
    best: tuple[Refined, Guess] | None = None
    for guess in tried:
        found = _refined(lights, guess)
        if found is not None and (best is None or found.trust.evidence > best[0].trust.evidence):
            best = (found, guess)
        if best is not None and _doubt(best[0].trust) is None and best[0].trust.evidence > 100:
            break
    if best is None:
        return NotRegistered(reason=NOTHING, remedy=REMEDY)
    doubt = _doubt(best[0].trust)
    if doubt is None and best[0].u > WIDEST_U:
        doubt = f"places could be carried over to no better than {best[0].u:.1f} px, so nothing could be told apart"
    if doubt is not None:
        return NotRegistered(reason=doubt, remedy=REMEDY, trust=best[0].trust)
    return _registration(best[0], best[1], lights)


def _described(picture: Picture) -> Keypoints:
    factor = max(1, round((picture.width * picture.height / WORKED_ON) ** 0.5))
    return describe(grey(block_mean(picture.rgb, factor)), float(factor), PLACES)


def _refined(lights: list[Array], guess: Guess) -> Refined | None:
    """Refined in the coarser picture's pixels, whichever it is."""
    middle = np.array(lights[0].shape[::-1]) / 2
    size = size_at(guess.matrix, middle)
    forward = size >= 1
    matrix = guess.matrix if forward else inverse(guess.matrix)
    coarse, fine = (lights[0], lights[1]) if forward else (lights[1], lights[0])
    ratio = max(size, 1 / size)
    seen = min(coarse.size, fine.size / ratio**2)
    largest = max(1.0, (seen / SMALL) ** 0.5)
    return refined(_sheets(coarse, largest), _sheets(fine, ratio * largest), matrix, mirror=guess.mirror, ratio=ratio)


def _sheets(light: Array, largest: float) -> list[Sheet]:
    """The light at 1, 2, 4 ... px to one, as far as `largest`."""
    found = [Sheet(light=light, factor=1.0)]
    while found[-1].factor * 2 <= 1.5 * largest and min(found[-1].light.shape) > 128:
        held = found[-1].light
        height, width = held.shape[0] // 2 * 2, held.shape[1] // 2 * 2
        cut = held[:height, :width]
        small = (cut[::2, ::2] + cut[1::2, ::2] + cut[::2, 1::2] + cut[1::2, 1::2]) * np.float32(0.25)
        found.append(Sheet(light=small, factor=2 * found[-1].factor))
    return found


def _doubt(trust: Trust) -> str | None:
    """Why a registration is not to be trusted, None when it is."""
    share = trust.agreeing / max(trust.tried, 1)
    seen = f"{trust.agreeing} of {trust.tried} patches agree"
    if trust.agreeing < AGREEING:
        return f"too few patches lie where one motion would put them ({seen}, {AGREEING} are asked)"
    if trust.evidence < EVIDENCE:
        return f"the agreement could be chance ({seen}, evidence {trust.evidence:.0f}, {EVIDENCE:.0f} is asked)"
    if trust.likeness < LIKENESS:
        return f"laid on each other the pictures hardly look alike ({seen}, likeness {trust.likeness:.2f})"
    if trust.stretch > STRETCH:
        return f"one picture would have to be stretched by {100 * trust.stretch:.0f} % to lie on the other ({seen})"
    if share < SHARE:
        return f"most of the overlap disagrees ({seen}): these may be two different faces"
    if trust.spread < SPREAD:
        return f"what agrees lies in one spot of the overlap ({seen}), so turn and size are not held elsewhere"
    return None


def _registration(found: Refined, guess: Guess, lights: list[Array]) -> Registration:
    forward = size_at(guess.matrix, np.array(lights[0].shape[::-1]) / 2) >= 1
    matrix = found.matrix if forward else inverse(found.matrix)
    there = found.overlap.mean(axis=0)
    middle = there if forward else _through(found, there)
    overlap = _overlap(lights, matrix)
    return Registration(
        matrix=matrix, kind=found.kind, mirror=is_mirrored(matrix, middle), size=size_at(matrix, middle),
        turn=turn_at(matrix, middle), u=found.u, overlap=overlap, trust=found.trust,
    )  # fmt: skip


def _through(found: Refined, point: NDArray[np.float64]) -> NDArray[np.float64]:
    return np.asarray(moved(found.matrix, point)[0])


def _overlap(lights: list[Array], matrix: NDArray[np.float64]) -> float:
    """Share of the picture that covers less metal that lies inside the other one."""
    shares = []
    for one, two, way in ((0, 1, matrix), (1, 0, inverse(matrix))):
        height, width = lights[one].shape
        x, y = np.meshgrid(np.linspace(0, width - 1, 60), np.linspace(0, height - 1, 60))
        there = moved(way, np.stack([x.ravel(), y.ravel()], axis=1))
        rows, columns = lights[two].shape
        shares.append(float(((there >= 0) & (there <= [columns - 1, rows - 1])).all(axis=1).mean()))
    return max(shares)
