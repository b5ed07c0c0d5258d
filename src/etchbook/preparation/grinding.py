"""Grinding and polishing steps: which papers, how much each takes off, until when."""

from itertools import pairwise
from typing import Any

from etchbook.preparation.choices import known
from etchbook.preparation.grits import grit
from etchbook.preparation.records import Grit, Known, PreparationError, Step
from etchbook.tables.packaged import packaged

TURN = "Turn the piece by 90° to the scratches of the paper before; grind one way."
RINSE = "Rinse piece, hands and holder before the next paper: one stray coarse grain starts the job again."
SCRATCHES = "all scratches of the paper before are gone, then as long again"
SLANTING = "Loupe, light from the side: scratches run one way only."
_PROGRESS = Known(
    fact="turn by 90° at each paper, until all scratches are gone, rinse between, water always on",
    source="public preparation guide of a consumables maker; public metallography course pages",
    status="seen",
)
_AGAIN = Known(fact="as long again, for the damage beneath", source="common practice", status="common practice")
_RULE = Known(
    fact="each paper takes off at least k times the grit before", source="planning rule of etchbook", status="own rule"
)
_TIME = Known(fact="minutes by hand", source="common practice", status="common practice")


def papers(want: dict[str, Any], cut: dict[str, Any]) -> tuple[Grit, ...]:
    """Papers from the one that suits the cut to the finest that the purpose asks for, coarse to fine."""
    start = grit(cut["start"])
    ladder = [grit(name) for name in want["papers"]]
    return (start, *(paper for paper in ladder if paper.um < 0.95 * start.um))


def grinding_steps(
    want: dict[str, Any], cut: dict[str, Any], material: dict[str, Any], k: float | None
) -> tuple[Step, ...]:
    """The grinding steps in order.

    Parameters
    ----------
    want, cut, material : rows of preparation.toml
    k : times the grit before that each paper takes off at least; None for the usual one of the material
    """
    factor = checked_k(k, material)
    ladder = papers(want, cut)
    first = _first(ladder[0], cut, material)
    return (first, *(_next(before, paper, material, factor) for before, paper in pairwise(ladder)))


def checked_k(k: float | None, material: dict[str, Any]) -> float:
    """The factor k as given, or the usual one of a material; PreparationError outside 0.5 to 10."""
    if k is None:
        return float(material["k"])
    if not 0.5 <= k <= 10:
        raise PreparationError(f"k, the times the grit before that is taken off, must be 0.5 to 10, not {k:g}")
    return k


def polishing_steps(want: dict[str, Any], material: dict[str, Any], last: Grit, factor: float) -> tuple[Step, ...]:
    """The polishing steps after the last paper, in order; grains of soft or tough metals need a final oxide polish."""
    final = [material["final"]] if want["id"] == "grains" and "final" in material else []
    agents = [grit(name) for name in (*want["polish"], *final)]
    return tuple(_polish(before, agent, factor) for before, agent in pairwise([last, *agents]))


def _first(paper: Grit, cut: dict[str, Any], material: dict[str, Any]) -> Step:
    deepest = 1000 * cut["damage_mm"][1]
    return Step(
        id=_id("grind", paper),
        kind="grind",
        title=f"Grind flat, {_both(paper)}",
        words=f"{_capital(material['paper'])}, wet. Grind the whole face flat, one way. {RINSE}",
        grit=paper.name,
        ansi=paper.ansi,
        um=paper.um,
        minutes=float(cut["first_minutes"]),
        remove_um=deepest,
        until=f"every mark of the cut is gone and {_depth(deepest)} is off (measure with a caliper at two places)",
        look=SLANTING,
        cautions=("grinding", *_dust(material)),
        known=(
            known(cut),
            Known(fact="depth that the cut harms", source="common practice", status=cut["damage_status"]),
            _size(paper),
            _TIME,
        ),
    )


def _next(before: Grit, paper: Grit, material: dict[str, Any], factor: float) -> Step:
    depth = factor * before.um
    return Step(
        id=_id("grind", paper),
        kind="grind",
        title=f"Grind, {_both(paper)}",
        words=f"{_capital(material['paper'])}, wet. {TURN} {RINSE}",
        grit=paper.name,
        ansi=paper.ansi,
        um=paper.um,
        minutes=float(material["minutes"]),
        remove_um=depth,
        until=f"{SCRATCHES}; at least {_depth(depth)} is off",
        look=SLANTING,
        cautions=("grinding", *_dust(material)),
        known=(_PROGRESS, _AGAIN, _RULE, _size(paper), _TIME),
    )


def _polish(before: Grit, agent: Grit, factor: float) -> Step:
    rows = [row for row in packaged("preparation")["polishing"] if row["um"] == agent.um]
    if not rows:
        raise PreparationError(f"no time is known for polishing with {agent.name}")
    depth = factor * before.um
    return Step(
        id=_id("polish", agent),
        kind="polish",
        title=f"Polish, {agent.name}",
        words="A cloth for this size alone, a few drops of lubricant, light pressure, turning against the cloth. "
        "Wash piece and hands with soap before the next cloth.",
        grit=agent.name,
        um=agent.um,
        minutes=float(rows[0]["minutes"]),
        remove_um=depth,
        until="the marks of the step before are gone under the loupe",
        look="Loupe, light from the side, then from above: no scratch of the step before.",
        cautions=("grinding",),
        known=(known(rows[0]), _RULE),
    )


def _both(paper: Grit) -> str:
    return f"{paper.name} (ANSI {paper.ansi}, {paper.um:g} µm)"


def _size(paper: Grit) -> Known:
    return Known(fact=f"{paper.name} is {paper.um:g} µm", source=paper.source, status=paper.status)


def _depth(um: float) -> str:
    """A depth in words: micrometres below a tenth of a millimetre, else millimetres."""
    return f"{um:.0f} µm" if um < 95 else f"{um / 1000:.2g} mm"


def _dust(material: dict[str, Any]) -> tuple[str, ...]:
    return (f"dust_{material['id']}",) if material["dust"] else ()


def _id(verb: str, agent: Grit) -> str:
    size = agent.name.split()[0].lower().replace(".", "_")
    return f"{verb}_{size}" if verb == "grind" else f"{verb}_{size}_um"


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]
