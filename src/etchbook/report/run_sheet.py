"""The run sheet of a planned trial: for the welder with codes alone, for the helper with the arms."""

import json
from datetime import UTC, date, datetime, time
from importlib import resources
from typing import Any

from etchbook.report.typeset import typeset_pdf
from etchbook.trials.planning import Plan, Run

READ_OFF = ("start °C", "volts", "amps", "arc time s", "length mm", "remarks")


def run_sheet_pdf(made: Plan, *, today: date, with_arms: bool) -> bytes:
    """The run sheet on A4 as a tagged PDF.

    Parameters
    ----------
    made : the plan
    today : printed as the day of the sheet
    with_arms : True for the helper's sheet, which is sealed with the key; False for the welder's, with labels
    """
    template = (resources.files("etchbook.report") / "run_sheet.typ").read_text(encoding="utf-8")
    files = {"sheet.json": json.dumps(_contents(made, today, with_arms), ensure_ascii=False).encode()}
    return typeset_pdf(template, files, datetime.combine(today, time(12), tzinfo=UTC))


def _contents(made: Plan, today: date, with_arms: bool) -> dict[str, Any]:
    arms = ("arm",) if with_arms else ()
    return {
        "title": "Helper's sheet: keep it sealed" if with_arms else "Run sheet",
        "year": today.year,
        "month": today.month,
        "day": today.day,
        "question": made.wish.question,
        "facts": [{"name": name, "words": words} for name, words in _facts(made, with_arms)],
        "rule": made.rule.words,
        "headings": ["no.", "code", *arms, *READ_OFF],
        "widths": [9, 15, *([30] if with_arms else []), 17, 14, 14, 19, 19, 0],
        "rows": [_row(made, run, with_arms) for run in made.runs],
        "notes": [*made.notes, *(HELPER if with_arms else WELDER)],
        "lock": made.lock[:12],
        "seal": made.seal[:12],
        "labels": [] if with_arms else [{"code": run.code} for run in made.runs if run.code],
    }


HELPER = ("Read out the code and set the arm yourself; welder and reader must not see this sheet before all is read.",)
WELDER = (
    "Weld every bead the same; what differs is set by the helper. Write down what you read off, bead by bead.",
    "Warm-up beads have no code: they are welded, logged and thrown away.",
)


def _facts(made: Plan, with_arms: bool) -> list[tuple[str, str]]:
    wish = made.wish
    each = "beads in each arm" if wish.kind == "two arms" else "blocks in each of two phases"
    told = [
        ("measured", wish.response.replace("_", " ")),
        ("worth knowing", f"{wish.worth:g} and more; chance of showing it {made.power:.2f}"),
        ("scatter, bead to bead", f"{wish.scatter.sd:g} ({wish.scatter.source})"),
        ("size", f"{made.per_arm} {each}, {made.beads} beads and {wish.warm_up} to warm up"),
        ("sections", f"{wish.sections} to a bead, each read twice without knowing the code's meaning"),
        *(("held fast", f"{name}: {value}") for name, value in (wish.held or {}).items()),
    ]
    if with_arms:
        told.append(("arms", " · ".join(wish.arms)))
        told.append(("seed of the order", str(wish.seed)))
    return told


def _row(made: Plan, run: Run, with_arms: bool) -> list[str]:
    code = run.code or "warm-up"
    arm = [_arm(made, run)] if with_arms else []
    return [str(run.number), code, *arm, *("" for _ in READ_OFF)]


def _arm(made: Plan, run: Run) -> str:
    phase = f", phase {run.phase}" if made.wish.kind == "reference cylinder" and run.arm else ""
    return f"{run.arm}{phase}"
