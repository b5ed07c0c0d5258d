"""Findings in words."""

from collections.abc import Mapping

from etchbook.acceptance.cases import Case, value_of
from etchbook.acceptance.records import Verdict
from etchbook.quantity import Measured, normal_quantile, spoken
from etchbook.tables import Limit, formula
from etchbook.terms import DIMENSIONS

_MEANS = {
    "thickness": "the thickness of the member",
    "thickness_1": "the thickness of member 1",
    "thickness_2": "the thickness of member 2",
    "thinner": "the thickness of the thinner member",
    "throat_asked": "the throat asked for",
    "throat_meant": "the nominal throat",
    "nominal_throat": "the nominal throat",
    "face_width": "the width of the weld face",
    "root_width": "the width of the root bead",
    "longest_leg": "the longer leg",
    "leg_asked": "the leg asked for",
}


def cited(limit: Limit) -> str:
    """Where the figure stands and how it is known."""
    band = f", for {limit.when}" if limit.when and limit.when != "t >= 0.5" else ""
    return f"{limit.source} ({limit.edition}), {limit.clause}{band}, {limit.status}"


def limit_text(limit: Limit, numbers: Mapping[str, float], unit: str) -> str:
    """The limit's formula with the numbers in it: ``1 + 0.1 × 9.00 = 1.90 mm, at most 3 mm``."""
    if limit.rule == "not permitted":
        return f"not permitted: 0{_gap(unit)}" if limit.dimensions else limit.rule
    parts = []
    if limit.least:
        parts.append("at least " + _reckoned(limit.least, numbers, unit))
    if limit.most:
        cap = f", at most {float(limit.cap):g}{_gap(unit)}" if limit.cap else ""
        parts.append(("at most " if limit.least else "") + _reckoned(limit.most, numbers, unit) + cap)
    return "; ".join(parts)


def raw_text(limit: Limit) -> str:
    """The limit as it stands, where the numbers cannot be put in."""
    if limit.rule:
        return limit.rule
    plain = " ".join(part for part in (limit.least, limit.most) if part).replace("*", "×")
    return f"{plain}, at most {float(limit.cap):g}" if limit.cap else plain


def sentence(case: Case, verdict: Verdict, chance: float, risk: float) -> str:
    """One plain sentence on a case, with value ± U, the limit, the probability and the source."""
    limit, unit = case.limit, unit_of(case.dimension)
    head = f"{label_of(case.dimension)}: {spoken(value_of(case))}"
    if limit.of != "x":
        value, _ = case.held()
        head += f" ({formula(limit.of).printed(case.numbers)} = {_number(value)}{_gap(unit)})"
    sense = "must be" if limit.least else "must not exceed"
    if limit.rule == "not permitted":
        text = f"{head}; {limit.title} is not permitted: {_answer(case, verdict, risk)}"
    else:
        text = f"{head}; {sense} {limit_text(limit, case.numbers, unit)}{_legend(case)}: "
        text += f"{_answer(case, verdict, risk)} (probability of meeting it {percent(chance)})"
    return f"{text}. {_remark(limit)}{cited(limit)}."


def percent(chance: float) -> str:
    """A probability for print; never 0 % or 100 %, which nothing measured is."""
    if chance < 0.001:
        return "below 0.1 %"
    if chance > 0.999:
        return "above 99.9 %"
    return f"{chance * 100:.1f} %"


def label_of(dimension: str) -> str:
    """The words a person reads for a dimension."""
    return DIMENSIONS[dimension].label if dimension in DIMENSIONS else dimension.replace("_", " ")


def unit_of(dimension: str) -> str:
    """The unit of a dimension; mm where it is not one of ours."""
    return DIMENSIONS[dimension].unit if dimension in DIMENSIONS else "mm"


def _answer(case: Case, verdict: Verdict, risk: float) -> str:
    limit = case.limit
    if verdict is Verdict.ONLY_IF_SHORT:
        return f"{verdict}: allowed for a short imperfection{_looser(case)}, and one section does not show its length"
    if verdict is Verdict.MET and (limit.short or limit.rule):
        value, u = case.held()
        reach = value + normal_quantile(1 - risk) * u
        found = f"nothing above {reach:.2f} mm" if reach >= 0.005 else "nothing of it"
        return f"{verdict} on this section: {found}; elsewhere along the weld is not known"
    return str(verdict)


def _looser(case: Case) -> str:
    if not case.limit.if_short:
        return ""
    way = "down to" if case.limit.least else "up to"
    return f" {way} {_reckoned(case.limit.if_short, case.numbers, unit_of(case.dimension))}"


def _legend(case: Case) -> str:
    words = [
        f"{item.name}: {_MEANS.get(item.key, label_of(item.key))}, {_given(item.measured)}"
        for item in case.inputs
        if item.name != "x"
    ]
    return f" [{'; '.join(words)}]" if words else ""


def _given(measured: Measured) -> str:
    return spoken(measured) if measured.u else f"{measured.value:.2f} mm, taken as exact"


def _remark(limit: Limit) -> str:
    return f"Note: {limit.remark}. " if limit.remark else ""


def _reckoned(text: str, numbers: Mapping[str, float], unit: str) -> str:
    reckoned = formula(text)
    if not reckoned.names:
        return f"{reckoned.value(numbers):g}{_gap(unit)}"
    printed, value = reckoned.printed(numbers), _number(reckoned.value(numbers))
    return f"{value}{_gap(unit)}" if printed == value else f"{printed} = {value}{_gap(unit)}"


def _number(value: float) -> str:
    return f"{value + 0.0:.2f}".replace("-", "−")


def _gap(unit: str) -> str:
    return unit if unit in ("", "°") else f" {unit}"
