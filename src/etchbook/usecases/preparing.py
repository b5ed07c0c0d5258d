"""Say how to prepare a face, from the words that a person typed."""

from collections.abc import Sequence

from etchbook.preparation import PreparationPlan, PrepareWish, plan_preparation
from etchbook.usecases.errors import RefusedError
from etchbook.usecases.scales import positive

YES, NO, RULE = "yes", "no", "rule"


def prepare_wish(
    want: str,
    materials: Sequence[str],
    cut: str,
    *,
    volume: str = "50",
    etchant: str = "",
    mount: str = RULE,
    resin: str = "epoxy",
    size: str = "",
    k: str = "",
) -> PrepareWish:
    """What a person typed as a wish, or a refusal that says what was wrong.

    Parameters
    ----------
    want, materials, cut : in words; see ``etchbook prepare --list``
    volume : etchant wanted [mL], with or without the unit
    etchant : another than the usual one, such as ``nital 5 %``
    mount : yes, no, or rule to leave it to the rule
    resin : epoxy, acrylic or polyester
    size : length × width of the face × thickness of the piece [mm], such as ``30x20x12``
    k : times the grit before that each paper takes off at least
    """
    if mount not in (YES, NO, RULE):
        raise RefusedError(f'mount must be {YES}, {NO} or {RULE}, not "{mount}"')
    return PrepareWish(
        want=want,
        materials=tuple(materials),
        cut=cut,
        volume_ml=positive(_bare(volume, "ml"), "the volume in mL"),
        etchant=etchant,
        mount=None if mount == RULE else mount == YES,
        resin=resin,
        size_mm=_size(size) if size else None,
        k=positive(k, "k") if k else None,
    )


def prepare(wish: PrepareWish) -> PreparationPlan:
    """The steps from the cut piece to the photographed face."""
    return plan_preparation(wish)


def _bare(text: str, unit: str) -> str:
    return text.strip().lower().removesuffix(unit).strip()


def _size(text: str) -> tuple[float, float, float]:
    parts = [_bare(part, "mm") for part in text.lower().replace("×", "x").split("x")]
    if len(parts) != 3:
        raise RefusedError(f'the size is length x width x thickness in mm, such as 30x20x12, not "{text}"')
    length, width, thick = (positive(part, "each of the three sizes") for part in parts)
    return length, width, thick
