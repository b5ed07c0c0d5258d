"""What became of each line, on the screen."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from etchbook.usecases.followed import Story
    from etchbook.usecases.following import Following


def following(found: "Following", told: "Sequence[Story]") -> None:
    """Print how the pictures lie on each other, then a table of lines by picture, then what follows."""
    from etchbook.cli import show
    from etchbook.usecases.following_words import change_words, heading, placed_words

    for frame in found.frames:
        print(f"{heading(frame)}: {placed_words(frame)}")
    for note in found.notes:
        print(note)
    if told:
        rows = [(story.track.name, *(change_words(change) for change in story.changes)) for story in told]
        show.table(("", *(frame.name for frame in found.frames)), rows)
    for story in told:
        for sentence in story.meaning:
            print(f"{story.track.name}: {sentence}")
