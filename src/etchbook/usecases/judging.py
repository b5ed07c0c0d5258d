"""Hold a reading against limits."""

from etchbook.acceptance import judge as held_against
from etchbook.acceptance.records import Judgement
from etchbook.section import Reading
from etchbook.tables import limit_sets, load_limits, own_limits
from etchbook.usecases.errors import RefusedError
from etchbook.usecases.ports import Desk


def judge(reading: Reading, against: str, desk: Desk, *, risk: float = 0.05) -> Judgement:
    """Hold a reading against a packaged set of limits or a person's own.

    Parameters
    ----------
    against : name of a packaged set such as ``iso-5817:B``, or the path of a TOML file
    desk : where a file of own limits comes from
    risk : accepted probability of a wrong "met" or "not met", 0 to 0.5

    Returns
    -------
    Judgement
        A reading of one section held against limits; never a certificate.
    """
    if not 0 < risk <= 0.5:
        raise RefusedError(f"the risk must lie above 0 and at most at 0.5, not at {risk:g}")
    if against.lower().endswith(".toml"):
        return held_against(reading, own_limits(desk.text(against)), risk=risk)
    return held_against(reading, load_limits(_known(against)), risk=risk)


def _known(against: str) -> str:
    for name in limit_sets():
        if name.lower() == against.strip().lower():
            return name
    raise RefusedError(f'"{against}" is no set of limits: use one of {", ".join(limit_sets())}, or a .toml file')
