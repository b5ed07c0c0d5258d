"""Forms with many fields: what was typed is kept, and what cannot be taken is told beside its field."""

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, TypeVar

from etchbook.usecases import RefusedError
from etchbook.wiring.errors import sentence
from etchbook.wiring.units import amount, sane

T = TypeVar("T")
LONGEST, LONGEST_TABLE = 400, 1_000_000


@dataclass(frozen=True, kw_only=True, slots=True)
class Field:
    """One field of a form.

    Parameters
    ----------
    name, label : in the form, and for people
    kind : amount (a number with its unit), number, whole, numbers (a list), words, long, choice, or own
    unit : that an amount is turned into
    usual : what stands in it at first; what is measured stands empty, so that nobody takes over a number unseen
    options : of a choice: value and words
    needed : whether it may be left empty
    own : how a field of kind own is read: from its name and what was typed
    told : words by which a sentence of refusal is known to be about this field; its label where none are given
    """

    name: str
    label: str
    kind: str = "amount"
    unit: str = ""
    hint: str = ""
    usual: str = ""
    like: str = ""
    options: tuple[tuple[str, str], ...] = ()
    needed: bool = True
    own: Callable[[str, str], Any] | None = None
    told: tuple[str, ...] = ()


@dataclass(slots=True)
class Asked:
    """A form as it stands: what was typed, what it means, and what cannot be taken.

    Parameters
    ----------
    sent : whether somebody sent it; a fresh form is not complained about
    typed : as the person wrote it, by name
    values : what the fields that could be read hold
    troubles : one sentence a field
    trouble : a sentence that belongs to no single field
    """

    fields: Sequence[Field]
    sent: bool
    typed: dict[str, str]
    values: dict[str, Any] = field(default_factory=dict)
    troubles: dict[str, str] = field(default_factory=dict)
    trouble: str = ""

    @property
    def good(self) -> bool:
        """Whether everything could be taken."""
        return not (self.troubles or self.trouble)

    @property
    def mostly_needed(self) -> bool:
        """Whether it is worth saying of a field that it may stay empty."""
        return sum(one.needed for one in self.fields) * 2 > len(self.fields)

    @property
    def status(self) -> int:
        """The status of the page that shows it."""
        return 200 if self.good else 422

    def ask(self, verb: Callable[[], T]) -> T | None:
        """The verb's answer; None where the form is fresh or cannot be taken, with the sentence beside its field."""
        if not (self.sent and self.good):
            return None
        try:
            return verb()
        except ValueError as error:
            told, code = sentence(error)
            if code != 2:
                raise
            self._place(told)
            return None

    def _place(self, told: str) -> None:
        at = next((one for one in self.fields if re.search(rf"--{_flag(one)}\b", told)), None)
        at = at or next((one for one in self.fields if _about(one, told)), None)
        for one in self.fields:  # the same sentence names an option of a command to those who typed one
            told = re.sub(rf"--{_flag(one)}\b", lowered(one.label), told)
        if at is None:
            self.trouble = told
        else:
            self.troubles[at.name] = told


def _flag(one: Field) -> str:
    return re.escape(one.name.replace("_", "-"))


def _about(one: Field, told: str) -> bool:
    return any(re.search(rf"\b{re.escape(word)}", told, re.IGNORECASE) for word in one.told or (one.label,))


def asked(fields: Sequence[Field], given: Mapping[str, Any], *, sent: bool | None = None) -> Asked:
    """A form as it was sent, or fresh with its usual values.

    Parameters
    ----------
    fields : of the form
    given : the query or the form of the request
    sent : whether it was sent; where None, it was if any of its fields is there
    """
    there = any(one.name in given for one in fields) if sent is None else sent
    typed = {one.name: _text(given, one) if there else one.usual for one in fields}
    form = Asked(fields=fields, sent=there, typed=typed)
    if there:
        for one in fields:
            _take(one, form)
    return form


def _text(given: Mapping[str, Any], one: Field) -> str:
    value = given.get(one.name, "")
    most = LONGEST_TABLE if one.kind == "long" else LONGEST
    return value.strip()[:most] if isinstance(value, str) else ""


def _take(one: Field, form: Asked) -> None:
    text = form.typed[one.name]
    if not text and one.needed:
        form.troubles[one.name] = f"{one.label} is needed{f', such as {one.like}' if one.like else ''}."
        return
    try:
        form.values[one.name] = _READERS[one.kind](one, text) if text else None
    except ValueError as error:
        form.troubles[one.name] = sentence(error)[0]


def _amount(one: Field, text: str) -> float:
    return amount(text, one.unit, lowered(one.label)).value


def lowered(label: str) -> str:
    """A label in the middle of a sentence."""
    return label if label[1:2].isupper() else label[:1].lower() + label[1:]


def _number(one: Field, text: str) -> float:
    if not re.fullmatch(r"[-+]?(\d+([.,]\d*)?|[.,]\d+)(e[-+]?\d{1,2})?", text, re.IGNORECASE):
        raise RefusedError(f'{one.label} is a plain number, not "{text}"')
    value = float(text.replace(",", "."))
    sane(value, one.label, text)
    return value


def _whole(one: Field, text: str) -> int:
    if not re.fullmatch(r"\d{1,9}", text):
        raise RefusedError(f'{one.label} is a whole number, not "{text}"')
    return int(text)


def _numbers(one: Field, text: str) -> tuple[float, ...]:
    parts = [part.strip() for part in re.split(r"[;\s]+|,\s*(?!\d{3}\b)", text) if part.strip()]
    return tuple(_number(one, part) for part in parts)


def _choice(one: Field, text: str) -> str:
    if text not in [value for value, _ in one.options]:
        raise RefusedError(f'{one.label} is one of {", ".join(words for _, words in one.options)}, not "{text}"')
    return text


def _own(one: Field, text: str) -> Any:
    assert one.own is not None
    return one.own(one.name, text)


_READERS: Mapping[str, Callable[[Field, str], Any]] = {
    "amount": _amount,
    "number": _number,
    "whole": _whole,
    "numbers": _numbers,
    "words": lambda _, text: text,
    "long": lambda _, text: text,
    "choice": _choice,
    "own": _own,
}
