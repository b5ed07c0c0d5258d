"""Etchants, scaled to the wanted volume; the gate that keeps dangerous ones out."""

import re
from collections.abc import Sequence
from typing import Any

from etchbook.preparation.choices import plain
from etchbook.preparation.records import Bath, Box, Known, Part, PreparationError, Recipe
from etchbook.tables import cautions
from etchbook.tables.packaged import packaged

MOST_NITRIC = 10.0
"""Most nitric acid in alcohol [% by volume]; above it such mixtures can explode."""

MOST_KEPT = 3.0
"""Most nitric acid in alcohol that is stored [% by volume]."""

LEAST_ML, MOST_ML = 5.0, 1000.0
LEAST_MEASURED = 0.2
"""Smallest amount [mL or g] that a bench pipette or scale takes well."""

SHEET_FIRST = "Verify the recipe against ASTM E407, ASTM E340 or ISO/TR 16060 and the safety data sheet before use."


def etchants() -> tuple[tuple[str, str, str], ...]:
    """Id, title and what it shows of every etchant that is told here."""
    return tuple((row["id"], row["title"], row["shows"]) for row in packaged("etchants")["etchant"])


def scale_recipe(etchant: str, volume_ml: float, *, want: str = "outline", percent: float | None = None) -> Recipe:
    """An etchant scaled to a volume.

    Parameters
    ----------
    etchant : its name, with its strength where it has one: ``nital 5 %``
    volume_ml : liquid wanted [mL]
    want : what it is for, which sets the usual strength: outline, haz, line or grains
    percent : nitric acid in the alcohol [% by volume], where the name does not say it

    Returns
    -------
    Recipe
        PreparationError for anything with hydrofluoric acid, for nitric acid in alcohol above 10 %, and for
        volumes that are not mixed in a workshop.
    """
    row, told = _row(etchant)
    strength = _strength(row, told if told is not None else percent, want)
    _check_volume(row, volume_ml)
    parts = _parts(row["part"], row["batch_ml"], volume_ml, strength)
    check_nitric(parts, row["title"])
    after = [_bath(bath, volume_ml) for bath in row.get("after", ())]
    seconds, note = _seconds(row, strength)
    may_keep = strength is None or strength <= row["keep_most_percent"]
    usual = packaged("etchants")["defaults"]
    return Recipe(
        id=row["id"],
        title=row["title"] if strength is None else f"{row['title']} {strength:g} %",
        percent=strength,
        volume_ml=volume_ml,
        parts=parts,
        seconds=seconds,
        temperature=row.get("temperature", ""),
        method=row["method"],
        until=row["until"],
        stop=row.get("stop", usual["stop"]),
        keep=row["keep"] if may_keep else row["keep_above"],
        may_keep=may_keep,
        waste=row.get("waste", usual["waste"]),
        shows=row["shows"],
        warnings=_warnings(row, strength, parts),
        boxes=_box_ids(row),
        after=after[0] if after else None,
        known=_known(row, note),
    )


def recipe_boxes(recipe: Recipe) -> tuple[Box, ...]:
    """The safety boxes of an etchant: the usual ones of the tables, and its own hazards."""
    row = _row(recipe.id)[0]
    told = [Box(id=c.topic, title=c.title, text=c.text, status=c.status) for c in _usual(row)]
    how = row.get("hazards_status", "from memory")
    own = Box(id=row["id"] + "_hazards", title=f"{recipe.title}: what it does", text=row["hazards"], status=how)
    return (*told, own)


def check_nitric(parts: Sequence[Part], name: str) -> None:
    """Refuse more than 10 % nitric acid by volume in a mixture that holds alcohol."""
    if not any(part.kind == "alcohol" for part in parts):
        return
    liquid = sum(part.amount for part in parts if part.unit == "mL")
    share = 100 * sum(part.amount for part in parts if part.kind == "nitric") / liquid
    if share > MOST_NITRIC * (1 + 1e-9):
        raise PreparationError(_too_strong(name, share))


def _too_strong(name: str, share: float) -> str:
    return (
        f"{name} with {share:g} % nitric acid in alcohol is not told here: above {MOST_NITRIC:g} % such mixtures can "
        "explode; use nital of at most 10 %, nitric_water or persulfate"
    )


def _row(said: str) -> tuple[dict[str, Any], float | None]:
    """The etchant that a name means, and the strength it says."""
    _never(plain(said), said)
    for wanted, percent in _ways_to_read(plain(said)):
        for row in packaged("etchants")["etchant"]:
            if wanted in (row["id"], *row["words"]):
                return row, percent
    names = ", ".join(row["id"] for row in packaged("etchants")["etchant"])
    raise PreparationError(f'"{said}" is no etchant that is told here: use one of {names}')


def _ways_to_read(said: str) -> tuple[tuple[str, float | None], ...]:
    """Name and strength: as a whole name first, then with a percentage anywhere or a bare number at the end."""
    ways: list[tuple[str, float | None]] = [(said, None)]
    for pattern in (r"(-?\d+(?:[.,]\d+)?) ?(?:%|per ?cent)", r"(-?\d+(?:[.,]\d+)?)$"):
        if found := re.search(pattern, said):
            ways.append((plain(said.replace(found[0], " ")).strip(" ,"), float(found[1].replace(",", "."))))
    return tuple(ways)


def _never(wanted: str, said: str) -> None:
    for row in packaged("etchants")["never"]:
        if any(re.search(rf"(?<![a-z]){re.escape(word)}(?![a-z])", wanted) for word in row["words"]):
            raise PreparationError(f'"{said}" is not told here: it {row["why"]}')


def _strength(row: dict[str, Any], percent: float | None, want: str) -> float | None:
    if not row.get("variable"):
        if percent is not None and f"{percent:g} %" not in row["title"]:
            raise PreparationError(f"{row['title']} comes in one strength; leave the {percent:g} % out")
        return None
    strength = float(row["percent"][want]) if percent is None else percent
    if strength > row["most_percent"]:
        raise PreparationError(_too_strong(row["id"], strength))
    if not strength >= 0.5:
        raise PreparationError(f"{row['id']} needs 0.5 to {row['most_percent']:g} % nitric acid, not {strength:g} %")
    return strength


def _check_volume(row: dict[str, Any], volume_ml: float) -> None:
    most = float(row.get("most_ml", MOST_ML))
    if not LEAST_ML <= volume_ml <= most:
        raise PreparationError(
            f"the volume of {row['id']} must be {LEAST_ML:g} to {most:g} mL, not {volume_ml:g} mL"
            + ("; mix small amounts and use them up" if volume_ml > most else "")
        )


def _parts(rows: list[dict[str, Any]], batch: float, volume: float, percent: float | None) -> tuple[Part, ...]:
    return tuple(
        Part(
            substance=row["substance"],
            kind=row["kind"],
            amount=_amount(row, batch, percent) * volume / batch,
            unit=row["unit"],
            how=row.get("how", ""),
        )
        for row in rows
    )


def _amount(row: dict[str, Any], batch: float, percent: float | None) -> float:
    """Amount for one batch as published; the acid of an etchant in strengths, and the alcohol that makes it up."""
    if percent is None or "amount" in row:
        return float(row["amount"])
    acid = batch * percent / 100
    return batch - acid if row.get("rest") else acid


def _bath(row: dict[str, Any], volume_ml: float) -> Bath:
    parts = _parts(row["part"], row["batch_ml"], volume_ml, None)
    return Bath(title=row["title"], volume_ml=volume_ml, parts=parts)


def _seconds(row: dict[str, Any], percent: float | None) -> tuple[tuple[float, float], str]:
    for time in row["time"]:
        if percent is None or percent <= time["up_to"]:
            low, high = time["seconds"]
            return (float(low), float(high)), time.get("note", "")
    raise PreparationError(f"no time is known for {row['id']} of {percent:g} %")


def _warnings(row: dict[str, Any], percent: float | None, parts: Sequence[Part]) -> tuple[str, ...]:
    told = []
    if any(part.amount < LEAST_MEASURED for part in parts):
        told.append("Some amounts are too small to measure well: mix more, or let a laboratory make it up.")
    if percent is not None and percent > MOST_KEPT:
        told.append(
            f"{row['title']} of {percent:g} % is never stored: above {MOST_KEPT:g} % it gives off gas in the bottle."
        )
    if note := row.get("note"):
        told.append(note)
    return (*told, SHEET_FIRST)


def _usual(row: dict[str, Any]) -> list[Any]:
    topics = ("etching", row["caution"]) if row["caution"] else ("etching",)
    return [caution for topic in topics for caution in cautions(topic)]


def _box_ids(row: dict[str, Any]) -> tuple[str, ...]:
    return (*(caution.topic for caution in _usual(row)), row["id"] + "_hazards")


def _known(row: dict[str, Any], note: str) -> tuple[Known, ...]:
    source = packaged("etchants")["sources"][row["from"]]
    told = Known(fact=f"{row['title']}: composition, use and time", source=source, status=row["status"])
    order = Known(fact="order of mixing", source="common practice", status="common practice")
    times = (Known(fact=f"time: {note}", source=source, status=row["status"]),) if note else ()
    return (told, *times, order)
