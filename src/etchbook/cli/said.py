"""Words that several commands of the book share: which book, who, and settings as they are typed."""

from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING, Any

import typer

if TYPE_CHECKING:
    from etchbook.store import SqlStore
    from etchbook.trials.records import Setting

BOOK = typer.Option(None, metavar="FOLDER", help="The book; left out, the one you stand in or opened last.")
BY = typer.Option("", metavar="WHO", help="Who does this; left out, ETCHBOOK_BY or the name you are logged in with.")
AS_JSON = typer.Option(False, "--json", help="Print JSON.")


def opened(book: str | None) -> "SqlStore":
    """The book that is meant, opened until the command is done."""
    import click

    from etchbook.wiring.shelf import meant

    store = meant(book)
    command = click.get_current_context(silent=True)
    if command is not None:
        command.call_on_close(store.close)
    return store


def given(options: Mapping[str, Any]) -> dict[str, Any]:
    """The options that were said."""
    return {name: value for name, value in options.items() if value not in (None, "", ())}


def settings(words: Iterable[str], read: Iterable[str] = (), seen: Iterable[str] = ()) -> "list[Setting]":
    """Settings as they were typed: what was set, what was read off an instrument, what was seen."""
    from etchbook.trials.records import Setting
    from etchbook.usecases.keeping.settings import pair, setting_of
    from etchbook.wiring.units import amount

    made = [setting_of(name, value, "set", amount) for name, value in pairs(words)]
    made += [setting_of(*pair(one), "read", amount) for one in read]
    for one in seen:
        if "=" in one:
            made.append(setting_of(*pair(one), "seen", amount))
        else:
            made.append(Setting(name="remarks", origin="seen", text=one.strip()))
    return made


def pairs(words: Iterable[str]) -> list[tuple[str, str]]:
    """``volts=18.5`` and ``--volts 18.5`` as names and values."""
    from etchbook.usecases import RefusedError
    from etchbook.usecases.keeping.settings import pair

    found, waiting = [], ""
    for word in words:
        if waiting:
            found.append((waiting, word))
            waiting = ""
        elif word.startswith("--") and "=" not in word:
            waiting = word[2:]
        else:
            found.append(pair(word))
    if waiting:
        raise RefusedError(f"--{waiting} was given with nothing behind it")
    return found


def length(text: str | None, what: str) -> float | None:
    """A length as it was typed, in mm."""
    from etchbook.usecases import RefusedError
    from etchbook.wiring.units import amount

    if text is None:
        return None
    value = amount(text, "mm", what).value
    if value <= 0:
        raise RefusedError(f"{what} must be more than 0 mm, not {text}")
    return value


def seconds(text: str | None, what: str) -> float | None:
    """A time as it was typed, in s."""
    from etchbook.usecases import RefusedError
    from etchbook.wiring.units import amount

    if text is None:
        return None
    value = amount(text, "s", what).value
    if value < 0:
        raise RefusedError(f"{what} must not be negative, not {text}")
    return value
