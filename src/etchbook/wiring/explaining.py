"""The verb `etchbook.explain`, for people who write Python."""

from collections.abc import Sequence
from os import PathLike
from pathlib import Path

from etchbook.section import Reading
from etchbook.usecases import explaining
from etchbook.usecases.answering import Said, said_in, together
from etchbook.usecases.explaining import Explanation
from etchbook.wiring.desk import FilesDesk
from etchbook.wiring.press import ReportPress
from etchbook.wiring.view import ReadingView


def explain(
    read_before: ReadingView | Reading | str | PathLike[str],
    answers: Said | str | PathLike[str] | Sequence[str | PathLike[str]] = (),
) -> tuple[Explanation, ...]:
    """Explain every indication of a reading.

    Parameters
    ----------
    read_before : what `read` gave, or the path of a reading kept as JSON
    answers : paths of answers (TOML, or the block of a second look), or what `said_in` gave

    Returns
    -------
    tuple of Explanation
        `.weighed.sentence` in words, `.weighed.verdicts` with the evidence for and against, `.tests` with the cheapest
        next test first; a weighing of what was seen, never a finding.
    """
    desk = FilesDesk()
    if isinstance(read_before, ReadingView):
        record = read_before.record
    elif isinstance(read_before, Reading):
        record = read_before
    else:
        record = ReportPress().reading(desk.text(str(Path(read_before))))
    return explaining.explain(record, _said(answers, desk))


def _said(answers: Said | str | PathLike[str] | Sequence[str | PathLike[str]], desk: FilesDesk) -> Said:
    if isinstance(answers, Said):
        return answers
    paths = (answers,) if isinstance(answers, str | PathLike) else answers
    return together(tuple(said_in(desk.text(str(Path(path)))) for path in paths))
