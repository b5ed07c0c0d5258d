"""How far the method itself scatters, beyond what light and grain explain; found on painted sections."""

from dataclasses import dataclass


@dataclass(frozen=True, kw_only=True, slots=True)
class Scatter:
    """Standard deviations [px]: of a boundary moved as a whole, and of its pieces."""

    common: float
    local: float = 0.0


@dataclass(frozen=True, kw_only=True, slots=True)
class MethodScatter:
    """Scatter of each kind of boundary.

    Source: tuning sections of `benchmarks/` (simulated), seeds 0 to 999.
    """

    line: Scatter
    toe: Scatter
    face: Scatter
    fusion: Scatter
    haz: Scatter


METHOD = MethodScatter(
    line=Scatter(common=0.4),
    toe=Scatter(common=1.2),
    face=Scatter(common=0.4, local=0.6),
    fusion=Scatter(common=1.0, local=2.0),
    haz=Scatter(common=3.0, local=4.0),
)
