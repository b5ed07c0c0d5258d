"""The steps at the bench with the etchant: clean, mix, etch, stop, look, picture, waste."""

from typing import Any

from etchbook.preparation.records import Known, Recipe, Step

_PRACTICE = Known(fact="cleaning, rinsing, looking", source="public course and vendor pages", status="seen")
_LIGHT = Known(
    fact="light turned by 90°, polish again and etch again", source="common practice", status="common practice"
)
RULER = (
    "Lay a ruler in the plane of the face (1 mm above or below it at 25 mm distance is 4 % wrong), camera square "
    "to the face, even light."
)
_RULER = Known(fact="error of a ruler out of plane", source="reckoned from the distances named", status="own rule")


def clean_step(material: dict[str, Any]) -> Step:
    """Washing before the etchant: nearly every etch that fails is a film of grease."""
    dry = "warm air" if "no alcohol" in material["rinse"] else "alcohol, warm air"
    return Step(
        id="clean",
        kind="clean",
        title="Clean",
        words=f"Wash the face with washing-up liquid and cotton, rinse in cold water, {dry}. "
        "Do not touch it with fingers.",
        minutes=1.0,
        until="water runs off in one film, without drops",
        known=(_PRACTICE,),
    )


def unetched_step(want: dict[str, Any]) -> Step:
    """The look at the bare face, before the etchant."""
    return Step(
        id="look_unetched",
        kind="look",
        title="Look and photograph before etching",
        words="Note what shows on the bare face: an opening shows now, dark and sharp; segregation shows only when "
        f"etched. Turn the light by 90° and look again. {RULER}",
        look=want["magnification"],
        until="a picture of the unetched face is kept, with its scale",
        known=(_LIGHT, _RULER),
    )


def mix_step(recipe: Recipe, tail: str = "") -> Step:
    """Mixing, in the order of the recipe."""
    order = "; ".join(f"{n}. {part_words(part)}" for n, part in enumerate(recipe.parts, start=1))
    told = f"{order}."
    if recipe.after:
        second = "; ".join(f"{n}. {part_words(part)}" for n, part in enumerate(recipe.after.parts, start=1))
        told += f" {recipe.after.title}: {second}."
    return Step(
        id=f"mix{tail}",
        kind="mix",
        title=f"Mix {recipe.title}, {recipe.volume_ml:g} mL",
        words=f"In this order. {told} Label the vessel: what, strength, date, name.",
        etchant=recipe.id,
        cautions=recipe.boxes,
        known=recipe.known,
    )


def part_words(part: Any) -> str:
    """One part of a recipe in words."""
    told = f"{amount_words(part.amount)} {part.unit} {part.substance}"
    return f"{told} ({part.how})" if part.how else told


def amount_words(amount: float) -> str:
    """An amount as one would measure it: two places below 1, one below 10, else whole or one place."""
    places = 2 if amount < 1 else 1
    return f"{amount:.{places}f}".rstrip("0").rstrip(".")


def etch_steps(recipe: Recipe, want: dict[str, Any], last_paper: str, tail: str = "") -> tuple[Step, ...]:
    """Etch, stop and look, for one etchant."""
    span = span_words(*recipe.seconds)
    warm = f", {recipe.temperature}" if recipe.temperature else ""
    etch = Step(
        id=f"etch{tail}",
        kind="etch",
        title=f"Etch, {recipe.title}, {span}{warm}",
        words=f"{recipe.method} Start with the shortest time; note the seconds.",
        seconds=recipe.seconds,
        until=recipe.until,
        etchant=recipe.id,
        cautions=recipe.boxes,
        known=recipe.known,
    )
    stop = Step(
        id=f"stop{tail}",
        kind="stop",
        title="Stop and rinse",
        words=recipe.stop,
        etchant=recipe.id,
        cautions=recipe.boxes,
        known=(_PRACTICE,),
    )
    look = Step(
        id=f"look_etched{tail}",
        kind="look",
        title="Look",
        words=f"Too faint: etch again, a few seconds. Too dark or stained: back to {last_paper} and etch anew. "
        "A heavier etch makes the HAZ look wider.",
        look=want["magnification"],
        until="what you want to see stands out",
        known=(_PRACTICE,),
    )
    return etch, stop, look


def span_words(low: float, high: float) -> str:
    """Shortest and longest time [s] in words, in minutes from three minutes on."""
    if low >= 180:
        low, high, unit = low / 60, high / 60, "min"
    else:
        unit = "s"
    return f"{low:g} to {high:g} {unit}" if low < high else f"{low:g} {unit}"


def doubt_steps(recipe: Recipe, last: str) -> tuple[Step, ...]:
    """The test that parts a scratch, a stain and segregation: polish off, look, etch again."""
    again = Step(
        id="repolish",
        kind="polish",
        title=f"Polish again, {last}",
        words=f"Take the etch off, direction turned by 90°, and look unetched. "
        f"Then etch again with {recipe.title}; photograph each stage.",
        grit=last,
        minutes=2.0,
        until="the etch is off",
        look="Gone and not back after the new etch: scratch or stain. Gone unetched, back at the same place: "
        "segregation. "
        "There all along, dark and sharp: an opening.",
        cautions=("grinding", *recipe.boxes),
        known=(_LIGHT,),
    )
    return (again,)


def photograph_step() -> Step:
    """The picture that will be read."""
    return Step(
        id="photograph",
        kind="photograph",
        title="Photograph",
        words=f"{RULER} Write down etchant, strength and seconds with the picture.",
        until="the picture is sharp at both toes and the ruler",
        known=(_RULER,),
    )


def waste_step(recipe: Recipe, tail: str = "") -> Step:
    """What becomes of the rest."""
    return Step(
        id=f"waste{tail}",
        kind="waste",
        title=f"Put away: {recipe.title}",
        words=f"{recipe.keep} Waste: {recipe.waste}",
        etchant=recipe.id,
        cautions=recipe.boxes,
        known=recipe.known,
    )
