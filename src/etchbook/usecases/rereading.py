"""A study of reading: the same sections read again by one person or by several."""

import csv
import io
import math
from collections.abc import Iterator

import numpy as np

from etchbook.trials.reading_study import ReadingStudy, reading_study
from etchbook.trials.scatter import StatisticsError
from etchbook.usecases.errors import RefusedError

COLUMNS = ("section", "person", "value")


def study_from(text: str) -> ReadingStudy:
    """A study out of a CSV table with the columns section, person and value, a line for each reading.

    Every person must have read every section equally often, two times at least.
    """
    rows = list(csv.DictReader(io.StringIO(text)))
    lacking = [name for name in COLUMNS if not rows or name not in rows[0]]
    if lacking:
        raise RefusedError(f"the table has no column {lacking[0]}; it needs {', '.join(COLUMNS)}")
    cells: dict[tuple[str, str], list[float]] = {}
    for at, row in enumerate(rows, start=1):
        try:
            cells.setdefault((row["section"], row["person"]), []).append(float(row["value"]))
        except (TypeError, ValueError):
            raise RefusedError(f"line {at} of the table has no number as its value") from None
    sections, people = (list(dict.fromkeys(key[side] for key in cells)) for side in (0, 1))
    sizes = {len(cells.get((section, person), [])) for section in sections for person in people}
    if len(sizes) != 1:
        raise RefusedError("every person must have read every section equally often")
    try:
        return reading_study(np.array([[cells[section, person] for person in people] for section in sections]))
    except StatisticsError as error:
        raise RefusedError(str(error)) from None


def lines(found: ReadingStudy, worth: float | None, unit: str = "mm") -> Iterator[str]:
    """The study in words.

    Parameters
    ----------
    worth : the difference that is sought, None where none was said
    """
    yield f"one person, the same section again (repeatability): {found.repeatability:.3g} {unit}"
    yield f"from person to person (reproducibility): {found.reproducibility:.3g} {unit}"
    yield f"a single reading by anybody: {found.reading:.3g} {unit}"
    yield f"from section to section: {found.sections:.3g} {unit}"
    yield f"kinds of section that the reading tells apart: {found.categories} (5 or more wanted)"
    if not math.isnan(found.apart):
        word = "more than" if found.apart > found.apart_by_chance else "no more than"
        yield (
            f"people's means lie up to {found.apart:.3g} {unit} apart, {word} chance alone gives "
            f"({found.apart_by_chance:.3g} {unit}, 95 %, Tukey)"
        )
    if found.pooled and found.mean_squares[2] > 0:
        yield "the people read single sections alike, so that part was counted as repeatability (p above 0.25)"
    if worth is not None:
        share = found.share_of(worth)
        word = "good enough" if share <= 30 else "too coarse: read each section more often, or prepare it better"
        told = f"a reading's scatter is {share:.0f} % of the difference sought, {worth:g} {unit}"
        yield f"{told}: {word} (30 %, common practice)"
