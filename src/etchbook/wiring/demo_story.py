"""The demo's trial N2 compared out of its book: pages to keep, and the story to print."""

from collections.abc import Mapping

from etchbook.usecases.demo_story import NAMES, ODD, QUESTION, USUAL, story
from etchbook.usecases.keeping.ports import BookStore
from etchbook.usecases.next_check import next_check
from etchbook.wiring.compared import groups_in
from etchbook.wiring.comparison import Wish, compared


def told(store: BookStore) -> tuple[tuple[str, ...], Mapping[str, bytes]]:
    """The story in lines, and the pages of the comparison by file name."""
    groups, own = groups_in(store, USUAL, ODD)
    view = compared(groups[0], groups[1], Wish(names=NAMES, on=QUESTION), own)
    lines = tuple(story(view.made, next_check(view.made.answers)))
    pages = {f"N2.compared.{kind}": view.page(kind) for kind in ("html", "pdf")}
    return lines, pages | {"N2.story.txt": ("\n".join(lines) + "\n").encode()}
