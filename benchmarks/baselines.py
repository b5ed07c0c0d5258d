"""General-library ways of finding regions, on the same pictures as ours."""

import itertools
import time
import warnings
from collections.abc import Callable
from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy import ndimage
from scipy.cluster.vq import kmeans2, vq
from skimage.color import rgb2lab
from skimage.filters import sobel, threshold_multiotsu
from skimage.segmentation import random_walker, watershed

from benchmarks.pictures import Task, painted, tasks_of
from benchmarks.scores import HAZ, WELD, overlap
from benchmarks.work import shared_out
from etchbook.joint import Joint
from etchbook.picture import Scale, reduced
from etchbook.section import read_section, region_labels

Labels = NDArray[np.intp]
Light = NDArray[np.float32]
MEGAPIXELS = 0.5
"""Of the picture that the baselines work on: at the reader's own size the random walker takes minutes a picture."""
SEEDS = 5


def multi_otsu(light: Light) -> Labels:
    """Four classes of grey."""
    grey = light.mean(axis=2)
    return np.asarray(np.digitize(grey, threshold_multiotsu(grey, 4)))


def k_means(light: Light) -> Labels:
    """Five clusters of softened colour and local restlessness."""
    lab = rgb2lab(light)
    soft = [ndimage.gaussian_filter(lab[..., k], 2.0) for k in range(3)]
    fine = lab[..., 0] - soft[0]
    restless = [np.sqrt(ndimage.gaussian_filter(fine**2, size)) for size in (2.0, 6.0)]
    table = np.stack([*soft, *restless], axis=2).reshape(-1, 5)
    table = (table - table.mean(axis=0)) / (table.std(axis=0) + 1e-9)
    some = table[np.random.default_rng(0).choice(len(table), 20_000, replace=False)]
    centres, _ = kmeans2(some, 5, minit="++", seed=0, missing="warn")
    return np.asarray(vq(table, centres)[0].reshape(light.shape[:2]))


def walked(light: Light, seeds: Labels) -> Labels:
    """Seeded random walker."""
    return np.asarray(random_walker(light, seeds, mode="cg_j", channel_axis=2)) - 1


def flooded(light: Light, seeds: Labels) -> Labels:
    """Marker watershed on the steepest colour gradient."""
    soft = [ndimage.gaussian_filter(light[..., k], 1.0) for k in range(3)]
    return np.asarray(watershed(np.max([sobel(channel) for channel in soft], axis=0), seeds)) - 1


def best_naming(clusters: Labels, true: NDArray[np.uint8]) -> Labels:
    """Clusters named weld, HAZ or neither in the way that scores best by the truth: a favour no user could do them."""
    count = int(clusters.max()) + 1
    table = np.stack([np.bincount(clusters[true == c], minlength=count) for c in range(4)], axis=1)

    def worth(names: tuple[int, ...]) -> float:
        total = 0.0
        for label in (HAZ, WELD):
            chosen = np.array(names) == label
            both = table[chosen, label].sum()
            total += both / max(table[chosen].sum() + table[:, label].sum() - both, 1)
        return total

    names = max(itertools.product((0, HAZ, WELD), repeat=count), key=worth)
    return np.asarray(np.array(names)[clusters])


def seeds_from(true: NDArray[np.uint8]) -> Labels:
    """Small discs of each class from the truth, deep inside it and far from one another."""
    found = np.zeros(true.shape, np.intp)
    y, x = np.mgrid[: true.shape[0], : true.shape[1]]
    for label in np.unique(true):
        room = ndimage.distance_transform_edt(np.pad(true == label, 1))[1:-1, 1:-1]
        for _ in range(SEEDS):
            row, column = np.unravel_index(int(room.argmax()), room.shape)
            far = np.hypot(y - row, x - column)
            found[(far <= np.clip(0.5 * room[row, column], 1, 6)) & (true == label)] = label + 1
            room = np.minimum(room, far)
    return found


def compared(task: Task) -> dict[str, Any] | None:
    """Every way on one picture: name to weld IoU, HAZ IoU and seconds."""
    section = painted(task)
    if section is None:
        return None
    small, factor = reduced(section.picture, MEGAPIXELS)
    step = int(factor)
    true = section.labels[step // 2 :: step, step // 2 :: step]
    light = small[: true.shape[0], : true.shape[1]]
    seeds = seeds_from(true)
    ways: dict[str, Callable[[], Labels]] = {
        "multi-Otsu, 4 classes, named by the truth": lambda: multi_otsu(light),
        "k-means on colour and texture, named by the truth": lambda: k_means(light),
        "random walker, seeded by the truth": lambda: walked(light, seeds),
        "marker watershed, seeded by the truth": lambda: flooded(light, seeds),
    }
    found: dict[str, Any] = {}
    for name, way in ways.items():
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # a solver's or a cluster's complaints do not stop the comparison
            begun = time.perf_counter()
            labels = way()
            seconds = time.perf_counter() - begun
        labels = best_naming(labels, true) if "named" in name else labels
        found[name] = (overlap(labels, true, WELD), overlap(labels, true, HAZ), seconds)
    found["ours, from the whole picture and no seeds"] = _ours(task, section, step)
    return found


def _ours(task: Task, section: Any, step: int) -> tuple[float | None, float | None, float]:
    scale = Scale(px_per_mm=section.truth.px_per_mm, u=0.0, origin="given")
    begun = time.perf_counter()
    labels = region_labels(read_section(section.picture, Joint(family=task.family), scale))
    seconds = time.perf_counter() - begun
    ours = labels[step // 2 :: step, step // 2 :: step]
    true = section.labels[step // 2 :: step, step // 2 :: step]
    return overlap(ours, true, WELD), overlap(ours, true, HAZ), seconds


def run_baselines(count: int, first_seed: int, minutes: float | None) -> dict[str, Any]:
    """Compare on so many sections of each joint, the first of the accuracy block."""
    tasks, _ = tasks_of(count, first_seed, "moderate")
    found = [one for one in shared_out(compared, tasks, name="baselines", minutes=minutes) if one is not None]
    return {"asked": count, "pictures": found}
