"""Taking back, the bin, and bringing back out of it. Nothing is ever lost by any of them."""

from etchbook.trials import parent_code
from etchbook.usecases.errors import RefusedError
from etchbook.usecases.keeping.errors import NotThereError
from etchbook.usecases.keeping.looking import lookup
from etchbook.usecases.keeping.ports import BookStore, Change, ChangeEntry, Entry, Hand, Write


def undo(store: BookStore, hand: Hand, number: int = 0) -> ChangeEntry:
    """Take one change back by writing what stood there before as the newest edition.

    Parameters
    ----------
    number : of the change; 0 takes the newest one that is neither taken back nor a taking back

    Returns
    -------
    ChangeEntry
        The change that was taken back.
    """
    change = store.change(number) if number else _newest(store)
    if change is None:
        what = f"there is no change {number}" if number else "there is nothing to take back"
        raise NotThereError(f"{what}; `etchbook history` lists the changes")
    writes = [_taken_back(store, hand, change, code) for code in dict(change.touched)]
    store.keep(
        Change(hand=hand, words=f"took back {change.number}: {change.words}", writes=writes, undoes=change.number)
    )
    return change


def _newest(store: BookStore) -> ChangeEntry | None:
    gone: set[int] = set()
    before = 0
    while page := store.changes(limit=50, before=before):
        for change in page:
            if change.undoes:
                gone.add(change.undoes)
            elif change.number not in gone:
                return change
            before = change.number
    return None


def _taken_back(store: BookStore, hand: Hand, change: ChangeEntry, code: str) -> Write:
    editions = [edition for one, edition in change.touched if one == code]
    written, head = store.entry(code, max(editions)), store.entry(code)
    assert written is not None and head is not None
    if (head.record, head.binned) != (written.record, written.binned):
        raise RefusedError(f"{code} was changed again since, by change {head.change}; take that back first")
    if min(editions) > 1:
        before = store.entry(code, min(editions) - 1)
        assert before is not None
        return Write(record=before.record, expects=head.edition, binned=before.binned)
    _nothing_below(store, change, head)
    return Write(record=head.record, expects=head.edition, binned=head.binned or hand.at[:10])


def _nothing_below(store: BookStore, change: ChangeEntry, head: Entry) -> None:
    touched = dict(change.touched)
    for entry in store.tree(head.code):
        if entry.code not in touched:
            raise RefusedError(
                f"{entry.code} was put below {head.code} since; take that back first, or bin {head.code}"
            )


def put_in_bin(store: BookStore, hand: Hand, typed: str) -> tuple[Entry, ...]:
    """Put a thing and everything below it into the bin, with today's date; `bring_back` undoes it."""
    top = lookup(store, typed)
    if top.binned:
        raise RefusedError(f"{top.code} lies in the bin already, since {top.binned}")
    gone = store.tree(top.code)
    writes = [Write(record=one.record, expects=one.edition, binned=hand.at[:10]) for one in gone]
    store.keep(Change(hand=hand, words=f"put {top.code} into the bin", writes=writes))
    return gone


def bring_back(store: BookStore, hand: Hand, typed: str) -> tuple[Entry, ...]:
    """Bring a thing back out of the bin, and everything below it that went there with it."""
    top = lookup(store, typed)
    if not top.binned:
        raise RefusedError(f"{top.code} is not in the bin")
    above = store.entry(parent_code(top.code)) if parent_code(top.code) else None
    if above is not None and above.binned:
        raise RefusedError(f"{top.code} belongs to {above.code}, which is in the bin; bring that back first")
    back = [one for one in store.tree(top.code, binned=True) if one.binned and one.change == top.change]
    writes = [Write(record=one.record, expects=one.edition) for one in back]
    store.keep(Change(hand=hand, words=f"brought {top.code} back from the bin", writes=writes))
    return tuple(back)
