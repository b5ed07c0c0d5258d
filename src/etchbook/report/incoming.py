"""JSON objects on their way in, every value looked at before it is believed."""

import math
from typing import Any

import numpy as np

from etchbook.report.svg import Points


class DocumentError(ValueError):
    """A document that holds no reading of ours; its text is one plain sentence."""


class Part:
    """A JSON object on its way in; it knows its name, so that an error can say where it was."""

    def __init__(self, content: object, name: str) -> None:
        if not isinstance(content, dict):
            raise DocumentError(f"{name} should be an object of named values")
        self.content: dict[str, Any] = content
        self.name = name

    def has(self, key: str) -> bool:
        """Whether there is a value of that name."""
        return self.content.get(key) is not None

    def get(self, key: str) -> Any:
        """The value, which must be there."""
        if key not in self.content:
            raise DocumentError(f'"{key}" is missing from {self.name}')
        return self.content[key]

    def part(self, key: str) -> "Part":
        """An object in it."""
        return Part(self.get(key), f'"{key}"')

    def parts(self, key: str) -> list["Part"]:
        """A list of objects in it."""
        return [Part(item, f'an entry of "{key}"') for item in self.items(key)]

    def each(self) -> list[tuple[str, "Part"]]:
        """Its values as objects, by name."""
        return [(key, self.part(key)) for key in self.content]

    def text(self, key: str) -> str:
        """A text in it."""
        value = self.get(key)
        if not isinstance(value, str):
            raise DocumentError(f'"{key}" in {self.name} should be text')
        return value

    def texts(self, key: str) -> list[str]:
        """A list of texts in it."""
        if not all(isinstance(item, str) for item in self.items(key)):
            raise DocumentError(f'"{key}" in {self.name} should be a list of texts')
        return [str(item) for item in self.items(key)]

    def number(self, key: str, least: float = -math.inf) -> float:
        """A finite number in it, at least `least`."""
        value = self.get(key)
        if isinstance(value, bool) or not isinstance(value, int | float) or not math.isfinite(value) or value < least:
            bound = "" if math.isinf(least) else f", at least {least:g}"
            raise DocumentError(f'"{key}" in {self.name} should be a number{bound}')
        return float(value)

    def maybe(self, key: str, least: float = -math.inf) -> float | None:
        """A finite number in it, or None."""
        return self.number(key, least) if self.has(key) else None

    def yes(self, key: str) -> bool:
        """A true or false in it."""
        value = self.get(key)
        if not isinstance(value, bool):
            raise DocumentError(f'"{key}" in {self.name} should be true or false')
        return value

    def array(self, key: str, *shape: int | None) -> Points:
        """Numbers in it as an array; None in `shape` stands for any length."""
        return array_of(self.get(key), f'"{key}" in {self.name}', *shape)

    def items(self, key: str) -> list[Any]:
        """A list in it."""
        value = self.get(key)
        if not isinstance(value, list):
            raise DocumentError(f'"{key}" in {self.name} should be a list')
        return value


def array_of(value: object, name: str, *shape: int | None) -> Points:
    """Nested lists of finite numbers as an array of that shape."""
    if value == [] and shape and shape[0] is None:
        return np.zeros(tuple(side or 0 for side in shape))
    try:
        found = np.asarray(value, dtype=np.float64)
    except (TypeError, ValueError):
        found = np.full((1,) * (len(shape) + 1), np.nan)
    fits = found.ndim == len(shape) and all(w is None or w == h for w, h in zip(shape, found.shape, strict=True))
    if not fits or not np.isfinite(found).all():
        wanted = " by ".join("any" if side is None else str(side) for side in shape)
        raise DocumentError(f"{name} should be {wanted} finite numbers")
    return found
