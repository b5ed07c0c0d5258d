"""One row of limits beside one dimension: the numbers put in, the bound, the probabilities."""

from collections.abc import Mapping
from dataclasses import dataclass

from etchbook.acceptance.facts import Facts
from etchbook.acceptance.margins import Input, chance_inside, margin
from etchbook.quantity import Absent, Measured
from etchbook.tables import Formula, Limit, formula


@dataclass(frozen=True, kw_only=True, slots=True)
class Case:
    """A row with the numbers that its formulas need.

    Parameters
    ----------
    limit : the row
    dimension : id
    inputs : the numbers, the dimension itself as ``x``
    relative : relative u of the scale
    """

    limit: Limit
    dimension: str
    inputs: tuple[Input, ...]
    relative: float

    @property
    def numbers(self) -> dict[str, float]:
        """Best estimates by name."""
        return {item.name: item.measured.value for item in self.inputs}

    def held(self) -> tuple[float, float]:
        """What is held against the limit, and its u."""
        return margin(formula(self.limit.of).value, self.inputs, self.relative)

    def chance(self, *, loosened: bool = False) -> float:
        """Probability that the limit is met, or the looser one for short imperfections."""
        least, most = self.limit.least, self.limit.most
        if loosened:
            least, most = (self.limit.if_short, most) if least else (least, self.limit.if_short)
        below = 1 - self._inside(least, low=True) if least else 0.0
        above = 1 - self._inside(most, low=False) if most else 0.0
        return max(0.0, 1 - below - above)

    def _inside(self, text: str, *, low: bool) -> float:
        bound, held, cap = formula(text), formula(self.limit.of), self.limit.cap

        def room(numbers: Mapping[str, float]) -> float:
            if low:
                return held.value(numbers) - bound.value(numbers)
            return capped(bound, cap, numbers) - held.value(numbers)

        return chance_inside(*margin(room, self.inputs, self.relative))


def capped(bound: Formula, cap: str, numbers: Mapping[str, float]) -> float:
    """What the formula comes to, and never more than the cap."""
    reckoned = bound.value(numbers)
    return min(reckoned, float(cap)) if cap else reckoned


def bound_of(limit: Limit, numbers: Mapping[str, float]) -> float:
    """The limit's number, in the unit of the dimension: the most where there is one, else the least."""
    return capped(formula(limit.most), limit.cap, numbers) if limit.most else formula(limit.least).value(numbers)


def gather(limit: Limit, dimension: str, facts: Facts, texts: tuple[str, ...]) -> tuple[Input, ...] | Absent:
    """The numbers that these formulas need, or why one of them is missing."""
    stands_for = dict(limit.names)
    found: list[Input] = []
    for name in dict.fromkeys(name for text in texts if text for name in _names(text)):
        key = dimension if name == "x" else facts.key(stands_for.get(name, name), dimension)
        quantity = facts.dimensions.get(key) if name == "x" else facts.look_up(key)
        if quantity is None:
            return Absent(reason=f"{dimension.replace('_', ' ')} was not read")
        if isinstance(quantity, Absent):
            return quantity
        found.append(Input(name=name, key=key, measured=quantity))
    return tuple(found)


def case_of(limit: Limit, dimension: str, facts: Facts) -> Case | Absent:
    """The row with its numbers put in, or the reason why it cannot be reckoned."""
    inputs = gather(limit, dimension, facts, ("x", limit.of, limit.least, limit.most, limit.if_short))
    if isinstance(inputs, Absent):
        return inputs
    return Case(limit=limit, dimension=dimension, inputs=inputs, relative=facts.relative)


def band_chance(limit: Limit, dimension: str, facts: Facts) -> float | Absent:
    """Probability that the row's condition (its thickness band) holds for this section."""
    if not limit.when:
        return 1.0
    condition = formula(limit.when, condition=True)
    inputs = gather(limit, dimension, facts, (limit.when,))
    if isinstance(inputs, Absent):
        return inputs
    if all(item.measured.u == 0 for item in inputs):
        return float(condition.holds({item.name: item.measured.value for item in inputs}))
    outside = 0.0
    for side in range(len(condition.room({item.name: item.measured.value for item in inputs}))):
        value, u = margin(lambda numbers, side=side: condition.room(numbers)[side], inputs, facts.relative)  # type: ignore[misc]
        outside += 1 - chance_inside(value, u)
    return max(0.0, 1 - outside)


def _names(text: str) -> tuple[str, ...]:
    return formula(text, condition=any(sign in text for sign in "<>")).names


def value_of(case: Case) -> Measured:
    """The dimension itself."""
    return next(item.measured for item in case.inputs if item.name == "x")
