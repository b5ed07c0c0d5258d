"""A little safe arithmetic for the formulas of limits: it reckons, and it prints itself with the numbers put in."""

import ast
import operator
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from etchbook.tables.records import TablesError

_STEPS: dict[type[ast.operator], tuple[Callable[[float, float], float], str, int]] = {
    ast.Add: (operator.add, "+", 1),
    ast.Sub: (operator.sub, "−", 1),
    ast.Mult: (operator.mul, "×", 2),
    ast.Div: (operator.truediv, "÷", 2),
}
_CALLS: dict[str, tuple[Callable[..., float], str]] = {
    "min": (min, "the smaller of {}"),
    "max": (max, "the larger of {}"),
    "abs": (abs, "the size of {}"),
}
_TESTS: dict[type[ast.cmpop], Callable[[float, float], float]] = {
    ast.Gt: operator.sub,
    ast.GtE: operator.sub,
    ast.Lt: lambda left, right: right - left,
    ast.LtE: lambda left, right: right - left,
}
LONGEST = 200


@dataclass(frozen=True, kw_only=True, slots=True)
class Formula:
    """Arithmetic over named numbers: + - * / min max abs; as a condition also chains of < <= > >=.

    Make it with `formula`, which refuses anything else.
    """

    text: str
    tree: ast.expr
    names: tuple[str, ...]

    def value(self, numbers: Mapping[str, float]) -> float:
        """The number it comes to."""
        try:
            return _value(self.tree, numbers)
        except ZeroDivisionError:
            raise TablesError(f'the formula "{self.text}" divides by zero') from None

    def holds(self, numbers: Mapping[str, float]) -> bool:
        """Whether the condition is true of these numbers."""
        strict = (ast.Gt, ast.Lt)
        return all(room > 0 or (room == 0 and not isinstance(test, strict)) for room, test in self._rooms(numbers))

    def room(self, numbers: Mapping[str, float]) -> tuple[float, ...]:
        """How far inside each comparison of the condition is; negative outside."""
        return tuple(room for room, _ in self._rooms(numbers))

    def printed(self, numbers: Mapping[str, float]) -> str:
        """Itself with the numbers put in: ``1 + 0.1 × 9.00``."""
        text = _printed(self.tree, numbers)[0]
        return text[1:-1] if isinstance(self.tree, ast.Call) else text

    def _rooms(self, numbers: Mapping[str, float]) -> list[tuple[float, ast.cmpop]]:
        assert isinstance(self.tree, ast.Compare)
        sides = [_value(side, numbers) for side in (self.tree.left, *self.tree.comparators)]
        pairs = zip(self.tree.ops, sides[:-1], sides[1:], strict=True)
        return [(_TESTS[type(test)](left, right), test) for test, left, right in pairs]


def formula(text: str, *, condition: bool = False) -> Formula:
    """Read a formula such as ``1 + 0.1 * b``, or a condition such as ``0.5 <= t <= 3``.

    Parameters
    ----------
    text : at most 200 characters of numbers, names, + - * / ( ), min(), max(), abs()
    condition : whether comparisons are wanted

    Returns
    -------
    Formula
        TablesError with one sentence for anything else.
    """
    if len(text) > LONGEST:
        raise TablesError(f"a formula may have {LONGEST} characters, not {len(text)}")
    try:
        tree = ast.parse(text.strip(), mode="eval").body
    except (SyntaxError, ValueError, RecursionError, MemoryError):
        raise TablesError(f'"{text}" is no formula') from None
    if condition != isinstance(tree, ast.Compare):
        raise TablesError(f'"{text}" is no {"condition" if condition else "formula for a number"}')
    names: list[str] = []
    parts = [tree.left, *tree.comparators] if isinstance(tree, ast.Compare) else [tree]
    if isinstance(tree, ast.Compare) and not all(type(test) in _TESTS for test in tree.ops):
        raise TablesError(f'"{text}" compares in a way that is not known here: use <, <=, > or >=')
    for part in parts:
        _look_over(part, text, names)
    return Formula(text=text.strip(), tree=tree, names=tuple(dict.fromkeys(names)))


def _look_over(node: ast.expr, text: str, names: list[str]) -> None:
    """Refuse what is not plain arithmetic, and note the names."""
    inner: list[ast.expr] = []
    if isinstance(node, ast.BinOp) and type(node.op) in _STEPS:
        inner = [node.left, node.right]
    elif isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.USub):
        inner = [node.operand]
    elif _is_call(node):
        assert isinstance(node, ast.Call)
        inner = node.args
    elif isinstance(node, ast.Name):
        names.append(node.id)
    elif not (isinstance(node, ast.Constant) and _is_number(node.value)):
        raise TablesError(f'"{text}" holds something other than numbers, names, + - * / ( ), min, max and abs')
    for part in inner:
        _look_over(part, text, names)


def _is_number(value: object) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool) and abs(value) < 1e9


def _is_call(node: ast.expr) -> bool:
    if not (isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and not node.keywords):
        return False
    wanted = node.func.id
    return wanted in _CALLS and (len(node.args) == 1 if wanted == "abs" else len(node.args) >= 2)


def _value(node: ast.expr, numbers: Mapping[str, float]) -> float:
    match node:
        case ast.BinOp():
            return _STEPS[type(node.op)][0](_value(node.left, numbers), _value(node.right, numbers))
        case ast.UnaryOp():
            return -_value(node.operand, numbers)
        case ast.Call(func=ast.Name(id=called)):
            return float(_CALLS[called][0](*(_value(part, numbers) for part in node.args)))
        case ast.Name():
            return float(numbers[node.id])
        case ast.Constant(value=int() | float() as number):
            return float(number)
    raise TablesError("a formula holds something unknown")


def _printed(node: ast.expr, numbers: Mapping[str, float]) -> tuple[str, int]:
    """The text and how tightly it binds (1 sums, 2 products, 3 single things)."""
    match node:
        case ast.BinOp():
            _, sign, tight = _STEPS[type(node.op)]
            left, right = _printed(node.left, numbers), _printed(node.right, numbers)
            # Right of a minus or a division a part of equal tightness needs brackets as well.
            behind = tight + isinstance(node.op, ast.Sub | ast.Div)
            return f"{_bracketed(*left, tight)} {sign} {_bracketed(*right, behind)}", tight
        case ast.UnaryOp():
            return f"−{_bracketed(*_printed(node.operand, numbers), 3)}", 1
        case ast.Call(func=ast.Name(id=called)):
            parts = [_printed(part, numbers)[0] for part in node.args]
            listed = f"{', '.join(parts[:-1])} and {parts[-1]}" if len(parts) > 1 else parts[0]
            return f"({_CALLS[called][1].format(listed)})", 3
        case ast.Name():
            return f"{numbers[node.id]:.2f}".replace("-", "−"), 3
        case ast.Constant(value=int() | float() as number):
            return f"{number:g}", 3
    raise TablesError("a formula holds something unknown")


def _bracketed(text: str, tight: int, wanted: int) -> str:
    return text if tight >= wanted else f"({text})"
