"""The first question, for people who write Python: what is that dark line?

>>> from etchbook import line
>>> found = line.follow(["before.jpg", "after.jpg"], states=["A=etched:yes", "B=etched:no"])  # doctest: +SKIP
>>> found.stories[0].changes[1].words  # doctest: +SKIP
('present', 'narrower')
"""

from collections.abc import Sequence
from dataclasses import dataclass
from os import PathLike
from pathlib import Path

from etchbook.usecases import RefusedError
from etchbook.usecases.follow_states import follow_wish
from etchbook.usecases.followed import Story, stories
from etchbook.usecases.following import Following
from etchbook.usecases.following import follow as followed
from etchbook.wiring.desk import FilesDesk
from etchbook.wiring.explaining import explain
from etchbook.wiring.following import following_pages
from etchbook.wiring.library import PROGRAM
from etchbook.wiring.second_look import second_look_page

__all__ = ["FollowedView", "explain", "follow", "second_look"]

KINDS = {".html": "html", ".json": "json", ".toml": "answers", ".gif": "flicker", ".webp": "flicker", ".png": "beside"}


@dataclass(frozen=True, slots=True)
class FollowedView:
    """Pictures laid on each other, and what became of each line.

    Parameters
    ----------
    record : the pictures, how each lies on the first, and the lines
    stories : one a line: `.changes` (one a picture, `.words` in each), `.meaning` in sentences, `.answers`
    """

    record: Following
    stories: tuple[Story, ...]

    def save(self, path: str | PathLike[str]) -> Path:
        """Keep it, by the ending: .html, .json, .toml (answers), .gif or .webp (flickering), .png (side by side)."""
        place = Path(path)
        kind = KINDS.get(place.suffix.lower())
        if kind is None:
            raise RefusedError(
                f"what was followed is kept as {', '.join(KINDS)}, not {place.suffix or 'without ending'}"
            )
        page = following_pages(self.record, self.stories, {kind: place.suffix.lower()})[kind]
        FilesDesk().keep({str(place): page})
        return place


def follow(
    pictures: Sequence[str | PathLike[str]],
    *,
    states: Sequence[str] = (),
    scales: Sequence[str] = (),
    joint: str = "",
    lines: Sequence[str] = (),
    points: Sequence[str] = (),
) -> FollowedView:
    """Lay pictures of one face on each other and follow each dark line through them.

    Parameters
    ----------
    pictures : paths of two or more; they are called A, B, C ... in this order
    states : ``"A=finish:1200,etched:no,light:45"``
    scales : ``"A=41.2"`` [px/mm]
    joint : family, proposed when left out
    lines : lines to follow, ``"x1,y1,x2,y2"`` [px of A]
    points : places matched by hand where the pictures alone do not do, ``"B=xa,ya,xb,yb,..."`` [px of A and of B]
    """
    wish = follow_wish(
        [str(path) for path in pictures], states=states, scales=scales, joint=joint, lines=lines, points=points
    )
    record = followed(wish, FilesDesk(), PROGRAM)
    return FollowedView(record, stories(record))


def second_look(
    reading: str | PathLike[str],
    path: str | PathLike[str],
    *,
    photos: Sequence[str | PathLike[str]] = (),
    answers: Sequence[str | PathLike[str]] = (),
) -> Path:
    """Keep the one file that a second pair of eyes opens.

    Parameters
    ----------
    reading : path of a reading kept as JSON
    path : of the file to write
    photos : of the photo that was read and of others of the same place
    answers : paths of what was answered so far
    """
    page = second_look_page(str(reading), [str(each) for each in photos], [str(each) for each in answers])
    FilesDesk().keep({str(path): page})
    return Path(path)
