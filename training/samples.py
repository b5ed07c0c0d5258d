"""Painted pictures as the net wants them, made by as many processes as there are."""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from torch.utils.data import IterableDataset, get_worker_info

from etchbook.simulate import paint_section

FAMILIES = ("tee", "lap", "corner", "butt", "bead")
SHARES = (0.28, 0.18, 0.16, 0.20, 0.18)
SHAPES = ((384, 512), (512, 384), (448, 448))
PEAK = 3.0
"""Standard deviation of a landmark's heat [px]."""


@dataclass(frozen=True, slots=True)
class Sample:
    """One painted picture.

    `labels` (h, w): 0 surroundings, 1 and 2 plate of member 1 and 2, 3 and 4 their HAZ, 5 weld metal;
    `heat` (4, h, w) uint8: toe 1, toe 2, joint root, pores.
    """

    picture: NDArray[np.uint8]
    labels: NDArray[np.uint8]
    heat: NDArray[np.uint8]
    family: int


def make_sample(seed: int) -> Sample:
    generator = np.random.default_rng(seed)
    index = int(generator.choice(len(FAMILIES), p=SHARES))
    rows, columns = SHAPES[int(generator.integers(len(SHAPES)))]
    painted = paint_section(FAMILIES[index], seed, width=columns, height=rows, difficulty="any")
    labels = six_classes(painted.labels, painted.members)
    rgb = (painted.picture.rgb >> 8).astype(np.uint8)
    heat = heat_of(painted, rows, columns)
    return Sample(picture=rgb, labels=labels, heat=heat, family=index)


def six_classes(labels: NDArray[np.uint8], members: NDArray[np.uint8]) -> NDArray[np.uint8]:
    second = members == 2
    out = np.zeros_like(labels)
    out[labels == 1] = 1
    out[labels == 2] = 3
    out[(labels == 1) & second] = 2
    out[(labels == 2) & second] = 4
    out[labels == 3] = 5
    return out


def heat_of(painted: object, rows: int, columns: int) -> NDArray[np.uint8]:
    y, x = np.mgrid[0:rows, 0:columns].astype(np.float32)
    heat = np.zeros((4, rows, columns), np.float32)
    for k, name in enumerate(("toe_1", "toe_2", "joint_root")):
        place = painted.truth.landmarks.get(name)
        if place is not None:
            heat[k] = np.exp(-((x - place[0]) ** 2 + (y - place[1]) ** 2) / (2 * PEAK**2))
    for cx, cy, radius in painted.truth.pores:
        heat[3] = np.maximum(heat[3], np.clip(radius + 0.5 - np.hypot(x - cx, y - cy), 0, 1))
    return np.round(255 * heat).astype(np.uint8)


class Stream(IterableDataset):
    """Endless samples; every worker has seeds of its own."""

    def __init__(self, first_seed: int) -> None:
        self.first_seed = first_seed

    def __iter__(self) -> Iterator[Sample]:
        info = get_worker_info()
        worker, workers = (0, 1) if info is None else (info.id, info.num_workers)
        seed = self.first_seed + worker
        while True:
            yield make_sample(seed)
            seed += workers
