"""Is the difference between two groups of beads larger than their scatter? Three views, each with what it assumes."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from etchbook.trials.scatter import BeadResponse, Scatter, StatisticsError

MOST_EXACT = 200_000
"""Up to so many ways of dealing the beads to the groups, all are counted; beyond, as many are drawn."""


@dataclass(frozen=True, kw_only=True, slots=True)
class View:
    """One way of looking at the difference.

    Parameters
    ----------
    name : "permutation", "t interval" or "with prior"
    assumes : what has to be true for it, in a sentence
    words : what it says, in a sentence
    low, high : 95 % interval of the difference [unit of the response]; NaN where the view gives none
    p : chance of such a difference or a larger one where there is none; NaN where the view gives none
    """

    name: str
    assumes: str
    words: str
    low: float = math.nan
    high: float = math.nan
    p: float = math.nan

    @property
    def excludes_none(self) -> bool:
        """Whether the interval leaves no difference out."""
        return self.low > 0 or self.high < 0


@dataclass(frozen=True, kw_only=True, slots=True)
class Difference:
    """Group b less group a.

    Parameters
    ----------
    value : difference of the groups' means [unit]
    numbers : beads in a and in b
    least_shown : with one bead each, differences up to this (2.77 times the scatter) are what two like beads give;
        NaN where no scatter is known
    views : what can be said, and under which assumption
    inside, above, below : chance that the true difference lies within the margin, above, below it; NaN where neither
        a scatter is known nor a third bead is there
    margin : differences within it are of no practical consequence [unit]
    verdict : "a difference is shown", "practically none", or "no difference shown"
    words : the verdict in a sentence
    """

    value: float
    numbers: tuple[int, int]
    least_shown: float
    views: tuple[View, ...]
    inside: float
    above: float
    below: float
    margin: float
    verdict: str
    words: str

    @property
    def interval(self) -> tuple[float, float] | None:
        """The 95 % interval of the beads alone, else that with a scatter known beforehand; None without either."""
        held = [(view.low, view.high) for view in self.views if math.isfinite(view.low)]
        return held[0] if held else None


def difference(
    a: Sequence[BeadResponse], b: Sequence[BeadResponse], *, scatter: Scatter | None, margin: float
) -> Difference:
    """Compare two groups of beads in one response; the bead counts once, however often it was cut or read.

    Parameters
    ----------
    a, b : one or more beads each
    scatter : of beads welded alike, from the own book where there is one, else a planning value; None where nothing
        is known of it, so that the beads have to speak for themselves
    margin : differences up to this are of no practical consequence [unit of the response]

    Returns
    -------
    Difference
        One bead against one is never called more than larger or not larger than two like beads give.

    Source: research note 6b; each view names its own.
    """
    if not (math.isfinite(margin) and margin > 0):
        raise StatisticsError(f"a margin of no consequence is above 0, not {margin:g}")
    means_a, means_b = _means(a), _means(b)
    views = [_permutation(means_a, means_b), _interval(means_a, means_b)]
    views += [] if scatter is None else [_with_prior(means_a, means_b, scatter)]
    value = float(np.mean(means_b) - np.mean(means_a))
    below, inside, above = _chances(means_a, means_b, scatter, margin)
    found = [view for view in views if view is not None]
    verdict, words = _verdict(value, (len(a), len(b)), found, scatter, inside, margin)
    blur = 2 * math.hypot(*(bead.u_reading / len(group) for group in (a, b) for bead in group))
    if verdict == "a difference is shown" and abs(value) <= blur:
        # A few beads can lie close together by chance; the readings themselves are no better than their own u.
        verdict, words = (
            "no difference shown",
            (
                f"No difference shown: {value:+.2f} lies within what the readings leave open, ±{blur:.2f} (k = 2). "
                "That is not the same as no difference: read the sections more closely, or cut more."
            ),
        )
    return Difference(
        value=value,
        numbers=(len(a), len(b)),
        least_shown=math.nan if scatter is None else least_shown(scatter.sd),
        views=tuple(found),
        inside=inside,
        above=above,
        below=below,
        margin=margin,
        verdict=verdict,
        words=words,
    )


def least_shown(sd: float) -> float:
    """Two single beads welded alike differ by less than this 19 times in 20: 1.96 √2 = 2.77 times the scatter.

    Source: normal scatter of known standard deviation (ISO 5725-6 reproducibility limit 2.8 s, from memory).
    """
    return 1.959964 * math.sqrt(2) * sd


def student(means: tuple[float, float], sds: tuple[float, float], numbers: tuple[int, int]) -> tuple[float, float]:
    """Student's t of a less b and its two-sided p, from means, standard deviations and numbers.

    Source: scipy.stats.ttest_ind_from_stats, one common variance.
    """
    from scipy.stats import ttest_ind_from_stats

    answer = ttest_ind_from_stats(means[0], sds[0], numbers[0], means[1], sds[1], numbers[1])
    return float(answer.statistic), float(answer.pvalue)


def permutation_floor(first: int, second: int) -> float:
    """Smallest two-sided p that dealing the beads anew can give: 0.10 with three against three."""
    return min(1.0, 2 / math.comb(first + second, first))


def exact_permutation(a: Sequence[float], b: Sequence[float], *, seed: int = 0) -> float:
    """Share of all ways of dealing the beads that give a difference of means as large, either way.

    Source: scipy.stats.permutation_test, independent samples; exact up to MOST_EXACT ways.
    """
    from scipy.stats import permutation_test

    ways = math.comb(len(a) + len(b), len(a))
    if ways == 2:
        return 1.0
    if min(len(a), len(b)) == 1:
        return _one_among(a, b)
    answer = permutation_test(
        (np.asarray(a, float), np.asarray(b, float)),
        lambda x, y, axis: np.mean(y, axis=axis) - np.mean(x, axis=axis),
        vectorized=True,
        n_resamples=np.inf if ways <= MOST_EXACT else MOST_EXACT,
        rng=np.random.default_rng(seed),
    )
    return float(answer.pvalue)


def _one_among(a: Sequence[float], b: Sequence[float]) -> float:
    """The same where one group is a single bead, which scipy does not take: twice the smaller tail of all places."""
    every = np.array([*a, *b], float)
    alone = a[0] if len(a) == 1 else b[0]
    step = 1e-12 * max(float(np.ptp(every)), 1.0)
    below, above = (every <= alone + step).sum(), (every >= alone - step).sum()
    return float(min(1.0, 2 * min(below, above) / len(every)))


def _means(beads: Sequence[BeadResponse]) -> list[float]:
    if not beads:
        raise StatisticsError("a group needs one bead at least")
    return [bead.mean for bead in beads]


def _permutation(a: list[float], b: list[float]) -> View | None:
    floor = permutation_floor(len(a), len(b))
    if len(a) == len(b) == 1:
        return None
    p = exact_permutation(a, b)
    ways = math.comb(len(a) + len(b), len(a))
    told = f"{spoken_p(p)} over {'all ' if ways <= MOST_EXACT else ''}{min(ways, MOST_EXACT)} ways of dealing the beads"
    limit = f"; {len(a)} against {len(b)} can never give less than {floor:.3f}" if floor > 0.05 else ""
    return View(
        name="permutation",
        assumes="Beads were dealt to the two groups at random; nothing is assumed about how they scatter.",
        words=f"{told}{limit}.",
        p=p,
    )


def spoken_p(p: float) -> str:
    """A chance of error as it is printed."""
    return "p below 0.001" if p < 0.001 else f"p = {p:.3f}"


def _interval(a: list[float], b: list[float]) -> View | None:
    if len(a) + len(b) < 3:
        return None
    from scipy.stats import t, ttest_ind

    dof = len(a) + len(b) - 2
    squares = _squares(a) + _squares(b)
    value = float(np.mean(b) - np.mean(a))
    if squares == 0:
        return None
    se = math.sqrt(squares / dof * (1 / len(a) + 1 / len(b)))
    reach = float(t.ppf(0.975, dof)) * se
    p = float(2 * t.sf(abs(value) / se, dof))
    welch = ""
    if min(len(a), len(b)) > 1 and min(_squares(a), _squares(b)) > 0:
        found = ttest_ind(b, a, equal_var=False).confidence_interval(0.95)
        welch = f"; {found.low:+.2f} to {found.high:+.2f} where the two may scatter differently (Welch)"
    return View(
        name="t interval",
        assumes="Beads scatter normally, alike in both groups; the scatter is taken from these beads alone.",
        words=f"difference {value - reach:+.2f} to {value + reach:+.2f} (95 %), {spoken_p(p)}{welch}.",
        low=value - reach,
        high=value + reach,
        p=p,
    )


def _with_prior(a: list[float], b: list[float], scatter: Scatter) -> View:
    center, se, dof = _posterior(a, b, scatter)
    reach = _quantile(0.975, dof) * se
    larger = 1 - _tail(0.0, center, se, dof)
    return View(
        name="with prior",
        assumes=f"Beads scatter normally, alike in both groups; scatter {scatter.sd:.3g} from {scatter.source} counts "
        f"as {'known' if math.isinf(scatter.dof) else f'{scatter.dof:g} degrees of freedom'}; "
        "every difference was as likely beforehand.",
        words=f"difference {center - reach:+.2f} to {center + reach:+.2f} (95 %); "
        f"chance that b is larger {larger:.3f}.",
        low=center - reach,
        high=center + reach,
    )


def _chances(a: list[float], b: list[float], scatter: Scatter | None, margin: float) -> tuple[float, float, float]:
    """Chance that the difference lies below the margin, within, above."""
    if scatter is None and (len(a) + len(b) < 3 or _squares(a) + _squares(b) == 0):
        return math.nan, math.nan, math.nan
    center, se, dof = _posterior(a, b, scatter)
    below, above = _tail(-margin, center, se, dof), 1 - _tail(margin, center, se, dof)
    return below, 1 - below - above, above


def _posterior(a: list[float], b: list[float], scatter: Scatter | None) -> tuple[float, float, float]:
    """Centre, scale and degrees of freedom of the difference, Student-distributed.

    Source: normal model, scaled inverse chi-square prior on the variance, flat on the means (any Bayesian textbook).
    """
    center = float(np.mean(b) - np.mean(a))
    per_bead = 1 / len(a) + 1 / len(b)
    if scatter is not None and math.isinf(scatter.dof):
        return center, scatter.sd * math.sqrt(per_bead), math.inf
    known, before = (0.0, 0.0) if scatter is None else (scatter.dof, scatter.dof * scatter.sd**2)
    dof = known + len(a) + len(b) - 2
    variance = (before + _squares(a) + _squares(b)) / dof
    return center, math.sqrt(variance * per_bead), dof


def _squares(values: Sequence[float]) -> float:
    return float(((np.asarray(values, float) - np.mean(values)) ** 2).sum())


def _tail(at: float, center: float, se: float, dof: float) -> float:
    """Chance that the difference lies below a value."""
    from scipy.stats import norm, t

    z = (at - center) / se
    return float(norm.cdf(z) if math.isinf(dof) else t.cdf(z, dof))


def _quantile(share: float, dof: float) -> float:
    from scipy.stats import norm, t

    return float(norm.ppf(share) if math.isinf(dof) else t.ppf(share, dof))


def _verdict(
    value: float, numbers: tuple[int, int], views: list[View], scatter: Scatter | None, inside: float, margin: float
) -> tuple[str, str]:
    if numbers == (1, 1):
        return _one_against_one(value, scatter)
    intervals = [view for view in views if view.name != "permutation"]
    if intervals and all(view.excludes_none for view in intervals):
        size = "" if abs(value) > margin else f", though it lies within ±{margin:g} and so is of no consequence"
        return (
            "a difference is shown",
            f"A difference is shown: {value:+.2f}, clear of 0 in both intervals{size}.{_few(views)}",
        )
    if inside > 0.95:
        return "practically none", f"Practically none: chance {inside:.2f} that it lies within ±{margin:g}."
    chance = "" if math.isnan(inside) else f": chance {inside:.2f} that it lies within ±{margin:g}"
    words = f"No difference shown; that is not the same as no difference{chance}. More beads would tell."
    return "no difference shown", words


def _few(views: list[View]) -> str:
    """What to add where dealing the beads anew does not bear the intervals out."""
    if all(view.p <= 0.05 for view in views if view.name == "permutation"):
        return ""
    return " It rests on the beads scattering normally: dealing them anew without that does not show it."


def _one_against_one(value: float, scatter: Scatter | None) -> tuple[str, str]:
    if scatter is None:
        return "no difference shown", (
            f"One bead against one: they differ by {abs(value):.2f}, and nothing is known of how beads welded alike "
            "scatter here, so nothing is shown; that is not the same as no difference. Weld more, or give the scatter."
        )
    limit = least_shown(scatter.sd)
    known = "" if scatter.dof > 30 else f" The scatter itself rests on {scatter.dof:g} degrees of freedom."
    if abs(value) > limit:
        told = (
            f"One bead against one: they differ by {abs(value):.2f}, more than the {limit:.2f} within which two beads "
            f"welded alike stay 19 times in 20 (2.77 × {scatter.sd:.3g}, {scatter.source}). "
            "Weld more before believing it."
        )
        return "larger than two like beads", told + known
    told = (
        f"One bead against one: they differ by {abs(value):.2f}, and two beads welded alike differ by up to "
        f"{limit:.2f} (2.77 × {scatter.sd:.3g}, {scatter.source}). No difference shown; that is not the same as "
        "no difference."
    )
    return "no difference shown", told + known
