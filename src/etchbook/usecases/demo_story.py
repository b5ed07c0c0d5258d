"""Trial N2 of the demo told to its end: is it more than scatter, what moved, what to check, what the gas can do."""

from collections.abc import Iterator

from etchbook.evidence import Verdict
from etchbook.quantity import Absent
from etchbook.trials.planning import before_after_line
from etchbook.trials.scatter import Scatter
from etchbook.trials.sizing import beads_per_arm, blocks_per_phase
from etchbook.usecases.comparing import Comparison
from etchbook.usecases.comparing_words import moved_lines, verdict_words
from etchbook.usecases.expecting import Expected
from etchbook.usecases.next_check import NextCheck
from etchbook.usecases.parted import ROLLING, can_part
from etchbook.usecases.scatters import scatter_of

USUAL, ODD = ("N2-01", "N2-02"), ("N2-03", "N2-04")
NAMES = ("bay A", "bay B")
QUESTION = "convexity"
UNDER_QUESTION = ("convexity", "penetration_1")
CO2, FILLED_BAR, COLD_STORE_C = 0.18, 200.0, 5.0
TRUTH = (
    "In truth (the story is invented, the pictures are simulated): a longer stick-out in bay B's worn jig, and plates "
    "fetched from the cold store. The gas was the same all along."
)


def story(made: Comparison, checks: NextCheck) -> Iterator[str]:
    """The story in numbered sentences.

    Parameters
    ----------
    made : bay A's beads compared with bay B's
    checks : what log and readings say about the causes
    """
    yield "Trial N2: why do bay B's beads penetrate less and stand taller than bay A's at the same settings sheet?"
    rows = {row.dimension: row for row in made.rows}
    yield "1. More than scatter?"
    yield from (f"   {verdict_words(rows[name])}" for name in UNDER_QUESTION if name in rows)
    yield "2. More metal, or another form?"
    yield from (f"   {part.words}" for part in made.splits.values())
    yield "3. What else was not the same?"
    yield from (f"   {line}" for line in moved_lines(made))
    yield "4. What would that do to a bead, by conduction?"
    yield from (f"   {line}" for line in _effects(made))
    yield "5. What to check next?"
    yield from (f"   {line}" for line in _checks(checks))
    yield "6. And the gas?"
    yield from (f"   {line}" for line in _gas())
    yield "7. What would prove it?"
    yield from (f"   {line}" for line in _proof(scatter_of(QUESTION, None)))
    yield TRUTH


def _effects(made: Comparison) -> Iterator[str]:
    rows = made.expected
    if isinstance(rows, Absent):
        yield f"Not known: {rows.reason}."
        return
    labels = made.beside.labels
    yield from (f"{row.words}: {_told(labels, (row.width, row.height, row.depth))}{_aside(row)}" for row in rows)
    yield f"what was seen: {_told(labels, made.beside.seen)}; pool and wetting, left out above, go the same way"


def _told(labels: tuple[str, ...], values: tuple[float | None, ...]) -> str:
    return ", ".join(
        f"{label} {value:+.2f} mm" for label, value in zip(labels, values, strict=True) if value is not None
    )


def _aside(row: Expected) -> str:
    return "" if row.counted else " (the logged amps hold it already)"


def _checks(checks: NextCheck) -> Iterator[str]:
    first: Verdict = checks.weighed.verdicts[0]
    yield f"{checks.weighed.sentence}, chance {first.chance:.2f} (priors are common practice): {first.cause.remedy}."
    yield from (f"isolating check: {one.how} ({one.minutes:g} min)" for one in checks.order[:1])
    yield from (f"then: {one.test.label} ({one.effort:g} min, {one.gain:.2f} bit)" for one in checks.tests[:1])
    if "roll the cylinder" in checks.idle:
        yield "Rolling the cylinder is not worth its time as things stand."


def _gas() -> Iterator[str]:
    found = can_part(CO2, FILLED_BAR, 15.0, COLD_STORE_C)
    yield found.sentence
    yield from (f"{line.label}: {line.words}" for line in found.lines if "real gas" in line.label)
    yield ROLLING[1]


def _proof(scatter: Scatter) -> Iterator[str]:
    worth = 0.5
    beads, blocks = beads_per_arm(scatter.sd, worth), blocks_per_phase(scatter.sd, worth)
    yield (
        f"Jig at 15 mm against 22 mm, plates from one store, order drawn by lot: {beads} beads in each arm show "
        f"{worth:g} mm of convexity (scatter {scatter.sd:g} mm, {scatter.source})."
    )
    yield f"For the cylinder: {blocks} blocks of suspect and reference before rolling and as many after. " + (
        before_after_line(scatter.sd)
    )
