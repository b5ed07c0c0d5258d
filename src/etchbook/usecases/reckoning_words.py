"""Words for processes, materials and gases as people write them; "" or None where they are not plain."""

import re

_PROCESSES = (
    (r"135|mag|gmaw", "135"),
    (r"131|mig", "131"),
    (r"136|fcaw|fcaw-g|flux[- ]?cored?", "136"),
    (r"138|mcaw|metal[- ]?cored?", "138"),
    (r"114|fcaw-s(?:s)?", "114"),
    (r"111|mma|smaw|stick", "111"),
    (r"121|saw|submerged arc", "121"),
    (r"141|tig|gtaw", "141"),
    (r"15|paw|plasma", "15"),
)
_MATERIALS = (
    (r"stainless|austenit|\b1\.4[0-9]{3}\b|\b(304|316|321|347)l?\b", "stainless steel"),
    (r"alumin|\ben aw\b|\balmg|\balsi", "aluminium"),
    (r"\bs\s?[2-4][0-9]{2}|carbon|mild|structural|c-mn|\bp2[0-9]{2}|\ba36\b|\bsteel\b", "carbon steel"),
)


def process_named(word: str) -> str:
    """The ISO 4063 number that a word for a process means, the word itself where none is known."""
    text = word.strip().lower()
    for pattern, number in _PROCESSES:
        if re.fullmatch(pattern, text):
            return number
    found = re.match(r"(\d{2,3})\b", text)
    return found[1] if found else word.strip()


def material_named(word: str) -> str:
    """carbon steel, stainless steel or aluminium for a name of a material; "" where it is none of these."""
    text = word.strip().lower()
    return next((name for pattern, name in _MATERIALS if re.search(pattern, text)), "")


def carbon_dioxide(gas: str) -> float | None:
    """CO2 in an argon mixture [%] from its name, such as ``Ar + 18 % CO2``; None where the name does not say."""
    text = gas.strip().lower().replace("co₂", "co2").replace(",", ".")
    if text in ("co2", "c1", "pure co2", "100 % co2", "100% co2"):
        return 100.0
    if text in ("ar", "argon", "i1", "pure argon"):
        return 0.0
    found = re.search(r"(\d+(?:\.\d+)?)\s*%?\s*co2", text) or re.search(r"co2\s*(\d+(?:\.\d+)?)\s*%?", text)
    other = re.search(r"o2|he|n2|h2", text.replace("co2", ""))
    # A third gas changes what the tables are for, so that such a name is not understood.
    return float(found[1]) if found and not other and float(found[1]) <= 100 else None
