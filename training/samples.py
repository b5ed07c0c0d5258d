"""Painted pictures as the net wants them, made by as many processes as there are."""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from torch.utils.data import IterableDataset, get_worker_info

from etchbook.simulate import LINE_KINDS, Truth, paint_section

FAMILIES = ("tee", "lap", "corner", "butt", "bead")
SHARES = (0.28, 0.18, 0.16, 0.20, 0.18)
SHAPES = ((384, 512), (512, 384), (448, 448))


@dataclass(frozen=True, slots=True)
class Sample:
    """One painted picture.

    `labels` (h, w): 0 surroundings, 1 and 2 plate of member 1 and 2, 3 and 4 their HAZ, 5 weld metal;
    `places` (3, 2): x and y of toe 1, toe 2 and the joint root [px], far outside where there is none;
    `pores` (h, w) uint8: how much of each pixel a pore covers.
    """

    picture: NDArray[np.uint8]
    labels: NDArray[np.uint8]
    places: NDArray[np.float32]
    pores: NDArray[np.uint8]
    family: int


def make_sample(seed: int) -> Sample:
    generator = np.random.default_rng(seed)
    index = int(generator.choice(len(FAMILIES), p=SHARES))
    rows, columns = SHAPES[int(generator.integers(len(SHAPES)))]
    # A fifth of the plates carry lines, which the net must not take for a face of the plate.
    lines = generator.choice(LINE_KINDS, size=generator.integers(1, 3)) if generator.random() < 0.2 else ()
    painted = paint_section(FAMILIES[index], seed, width=columns, height=rows, difficulty="any", lines=lines)
    labels = six_classes(painted.labels, painted.members)
    rgb = (painted.picture.rgb >> 8).astype(np.uint8)
    places, pores = places_of(painted.truth), pores_of(painted.truth, rows, columns)
    return Sample(picture=rgb, labels=labels, places=places, pores=pores, family=index)


def six_classes(labels: NDArray[np.uint8], members: NDArray[np.uint8]) -> NDArray[np.uint8]:
    second = members == 2
    out = np.zeros_like(labels)
    out[labels == 1] = 1
    out[labels == 2] = 3
    out[(labels == 1) & second] = 2
    out[(labels == 2) & second] = 4
    out[labels == 3] = 5
    return out


def places_of(truth: Truth) -> NDArray[np.float32]:
    names = ("toe_1", "toe_2", "joint_root")
    return np.array([truth.landmarks.get(name, (-1e4, -1e4)) for name in names], np.float32)


def pores_of(truth: Truth, rows: int, columns: int) -> NDArray[np.uint8]:
    cover = np.zeros((rows, columns), np.float32)
    for cx, cy, radius in truth.pores:
        left, right = max(0, int(cx - radius) - 1), max(0, int(cx + radius) + 3)
        top, bottom = max(0, int(cy - radius) - 1), max(0, int(cy + radius) + 3)
        window = cover[top:bottom, left:right]
        y, x = np.mgrid[top : top + window.shape[0], left : left + window.shape[1]]
        np.maximum(window, np.clip(radius + 0.5 - np.hypot(x - cx, y - cy), 0, 1), out=window)
    return np.round(255 * cover).astype(np.uint8)


class Stream(IterableDataset):
    """Endless samples; every worker has seeds of its own."""

    def __init__(self, first_seed: int) -> None:
        self.first_seed = first_seed

    def __iter__(self) -> Iterator[Sample]:
        info = get_worker_info()
        worker, workers = (0, 1) if info is None else (info.id, info.num_workers)
        seed = self.first_seed + worker
        while True:
            # One painting that fails must not end a training of hundreds of thousands; it is said and left out.
            try:
                yield make_sample(seed)
            except (ArithmeticError, IndexError, LookupError, ValueError) as error:
                print(f"seed {seed}: {type(error).__name__}: {error}", flush=True)
            seed += workers
