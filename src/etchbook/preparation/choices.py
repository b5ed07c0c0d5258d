"""What a person may ask for, found by any of its usual names."""

import re
from typing import Any

from etchbook.preparation.records import Known, PreparationError
from etchbook.tables.packaged import packaged

ASKED = {
    "want": "nothing to look for",
    "cut": "no way of cutting",
    "material": "no material",
    "resin": "no resin",
}


def choice(kind: str, said: str) -> dict[str, Any]:
    """The row of a kind (want, cut, material, resin) that a name means; PreparationError where none does."""
    rows = packaged("preparation")[kind]
    wanted = plain(said)
    for row in rows:
        if wanted in (row["id"], *row["words"]):
            return dict(row)
    known = ", ".join(f"{row['id']} ({row['title']})" for row in rows)
    raise PreparationError(f'"{said}" is {ASKED[kind]} that is known here: use one of {known}')


def choices(kind: str) -> tuple[tuple[str, str], ...]:
    """Id and title of everything of a kind: want, cut, material, resin."""
    return tuple((row["id"], row["title"]) for row in packaged("preparation")[kind])


def known(row: dict[str, Any], fact: str = "") -> Known:
    """Where the facts of a row of preparation.toml stand."""
    source = packaged("preparation")["sources"][row["from"]]
    return Known(fact=fact or row.get("known", ""), source=source, status=row["status"])


def plain(said: str) -> str:
    """Words in lower case with single spaces and straight apostrophes."""
    return re.sub(r"\s+", " ", said.replace("’", "'")).strip().lower()
