"""Hold a reading against limits."""

from etchbook.acceptance import judge as held_against
from etchbook.acceptance.records import Judgement
from etchbook.section import Reading
from etchbook.tables import LimitSet, limit_sets, load_limits, own_limits
from etchbook.usecases.errors import RefusedError
from etchbook.usecases.ports import Desk


def limits_for(against: str, desk: Desk) -> LimitSet:
    """The limits a person asked for.

    Parameters
    ----------
    against : name of a packaged set such as ``iso-5817:B``, or the path of a TOML file of own limits
    desk : where such a file comes from
    """
    if against.lower().endswith(".toml"):
        return own_limits(desk.text(against))
    for name in limit_sets():
        if name.lower() == against.strip().lower():
            return load_limits(name)
    raise RefusedError(f'"{against}" is no set of limits: use one of {", ".join(limit_sets())}, or a .toml file')


def accepted_risk(risk: float) -> float:
    """The risk as given, or a refusal when it is no risk to decide with."""
    if not 0 < risk <= 0.5:
        raise RefusedError(f"the risk must lie above 0 and at most at 0.5, not at {risk:g}")
    return risk


def judge(reading: Reading, limits: LimitSet, *, risk: float = 0.05) -> Judgement:
    """Hold a reading against limits.

    Parameters
    ----------
    limits : see `limits_for`
    risk : accepted probability of a wrong "met" or "not met", above 0 and at most 0.5

    Returns
    -------
    Judgement
        A reading of one section held against limits; never a certificate.
    """
    return held_against(reading, limits, risk=accepted_risk(risk))
