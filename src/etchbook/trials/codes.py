"""Short codes that a person can say, type, and write on steel with a felt-tip.

``N1`` is a trial, ``N1-03`` its third bead, ``N1-03-0`` the coupon of that bead before it was cut, ``N1-03-B`` a piece
cut of it, ``N1-03-B-2`` the second face of that piece; below it stand pictures (``P1``), readings (``R1``), indications
(``X1``) and judgements (``J1``). ``CERT-4`` is a material certificate.

The letters I, O and Q are never used: on steel they are taken for 1 and 0. After ``/`` may follow a check letter, which
tells a misread letter or digit, or two neighbours that changed places.
"""

import re

LETTERS = "ABCDEFGHJKLMNPRSTUVWXYZ"
"""The letters of codes; their number, 23, is a prime, and the check stands on that."""

_TRIAL = re.compile(rf"[{LETTERS}]{{1,3}}[0-9]{{1,4}}")
_PIECE = re.compile(rf"[{LETTERS}]{{1,2}}")
_LOWER = {"P": "picture", "R": "reading", "X": "indication", "J": "judgement"}
_BELOW = {"face": "P", "picture": "R", "reading": "XJ"}
_DIGITS = str.maketrans("OQIL", "0011")
PREFIX = "ETCHBOOK:"
FORM = "a code looks like N1 (trial), N1-03 (bead), N1-03-B (piece) or N1-03-B-2 (face)"


class CodeError(ValueError):
    """A code that is none; its text is one plain sentence."""


def normal_code(typed: str) -> str:
    """The code that was typed or scanned, as the book writes it.

    Parameters
    ----------
    typed : in any case, with hyphens, dots, blanks or underscores between its parts, with or without check letter

    Returns
    -------
    str
        Such as ``N1-03-B-2``. A check letter that does not fit is refused.
    """
    bare = typed.strip().upper().removeprefix(PREFIX)
    text, slash, check = bare.partition("/")
    parts = [part for part in re.split(r"[-\s._]+", text) if part]
    code = "-".join(_parts(parts, typed))
    if slash and check.strip() != check_letter(code):
        raise CodeError(
            f'the check letter of "{typed.strip()}" does not fit: a sign was misread; look at the piece again'
        )
    return code


def _parts(parts: list[str], typed: str) -> list[str]:
    if len(parts) == 2 and parts[0] == "CERT":
        return ["CERT", str(_count(parts[1], typed))]
    if not parts or not _TRIAL.fullmatch(parts[0]):
        raise CodeError(f'"{typed.strip()}" is no code: {FORM}{_misread(parts)}')
    made = [parts[0]]
    if len(parts) > 1:
        made.append(f"{_count(parts[1], typed):02d}")
    if len(parts) > 2:
        made.append(_piece(parts[2], typed))
    if len(parts) > 3:
        if made[2] == "0":
            raise CodeError(f'"{typed.strip()}" is no code: a coupon has no faces before it is cut')
        made.append(str(_count(parts[3], typed)))
    kind = "face"
    for part in parts[4:]:
        if part[0] not in _BELOW.get(kind, ""):
            raise CodeError(f'"{typed.strip()}" is no code: "{part}" cannot stand below a {kind}')
        made.append(f"{part[0]}{_count(part[1:], typed)}")
        kind = _LOWER[part[0]]
    return made


def _misread(parts: list[str]) -> str:
    if parts and re.search("[IOQ]", parts[0]) and parts[0][-1].isdigit():
        return "; the letters I, O and Q are not used, they are misread on steel"
    return ""


def _count(part: str, typed: str) -> int:
    digits = part.translate(_DIGITS)
    if not re.fullmatch("[0-9]{1,4}", digits) or int(digits) == 0:
        raise CodeError(f'"{typed.strip()}" is no code: "{part}" should be a number from 1 on; {FORM}')
    return int(digits)


def _piece(part: str, typed: str) -> str:
    if part in ("0", "O"):  # the letter O is never a piece
        return "0"
    if not _PIECE.fullmatch(part):
        raise CodeError(f'"{typed.strip()}" is no code: "{part}" should be the letter of a piece; {FORM}')
    return part


def code_kind(code: str) -> str:
    """What a code in normal form names: trial, bead, coupon, piece, face, picture, reading and so on."""
    parts = code.split("-")
    if parts[0] == "CERT":
        return "certificate"
    if len(parts) > 4:
        return _LOWER[parts[-1][0]]
    if len(parts) == 3:
        return "coupon" if parts[2] == "0" else "piece"
    return {1: "trial", 2: "bead", 4: "face"}[len(parts)]


def parent_code(code: str) -> str:
    """The code one step up, ``""`` above a trial or a certificate."""
    return "" if code.startswith("CERT-") else code.rpartition("-")[0]


def bead_code(code: str) -> str:
    """The bead that a code belongs to, ``""`` for a trial or a certificate."""
    parts = code.split("-")
    return "-".join(parts[:2]) if len(parts) > 1 and parts[0] != "CERT" else ""


def family_of_codes(code: str) -> tuple[str, str]:
    """Bounds of all codes below one: at least the first, less than the second."""
    return f"{code}-", f"{code}."  # the full stop follows the hyphen in ASCII


def piece_letters(number: int) -> str:
    """Letters of the piece of that number, from 0 on: A, B ... Z, AA, AB ..."""
    if number < len(LETTERS):
        return LETTERS[number]
    first, second = divmod(number - len(LETTERS), len(LETTERS))
    return LETTERS[first] + LETTERS[second]


def piece_number(letters: str) -> int:
    """The number of a piece from its letters; turns `piece_letters` round."""
    if len(letters) == 1:
        return LETTERS.index(letters)
    return len(LETTERS) * (1 + LETTERS.index(letters[0])) + LETTERS.index(letters[1])


def check_letter(code: str) -> str:
    """The letter that tells a misread code: the count of signs and their values weighted by powers of 5, modulo 23.

    Any one letter taken for another, any one digit taken for another, and any two unlike neighbours of
    one sort that changed places give another letter, since 23 is a prime and 5 a primitive root of it.
    """
    values = [int(sign) if sign.isdigit() else LETTERS.index(sign) for sign in code.replace("-", "") if sign in _SIGNS]
    return LETTERS[(len(values) + sum(value * pow(5, k + 1, 23) for k, value in enumerate(values))) % 23]


_SIGNS = frozenset(LETTERS + "0123456789")


def with_check(code: str) -> str:
    """The code with its check letter, as it is written on steel: ``N1-03-B-2/K``."""
    return f"{code}/{check_letter(code)}"
