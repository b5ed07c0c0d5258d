"""What a person answers about indications: a TOML file of their own, or the text block of a second pair of eyes."""

import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from json import dumps
from typing import Any
from unicodedata import normalize
from zlib import crc32

from etchbook.evidence import Answer
from etchbook.usecases.errors import RefusedError

HEAD = "etchbook second look 1"
EVERY = "all"
UNSIGNED = "you"
LONGEST_CODE = 40


@dataclass(frozen=True, kw_only=True, slots=True)
class Words:
    """A free remark on one indication (or on "all" of them), as the person put it; it is shown, not weighed."""

    indication: str
    by: str
    text: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Said:
    """Everything that people said about the indications of one reading.

    Parameters
    ----------
    answers : by indication name; those under "all" hold for every indication
    priors : by place (gate), then by cause
    words : free remarks
    reading : start of the fingerprint of the reading that a second look was given on, "" where none was named
    """

    answers: Mapping[str, tuple[Answer, ...]] = field(default_factory=dict)
    priors: Mapping[str, Mapping[str, float]] = field(default_factory=dict)
    words: tuple[Words, ...] = ()
    reading: str = ""

    def about(self, indication: str) -> tuple[Answer, ...]:
        """The answers that bear on one indication; what was said of it comes after what was said of all."""
        return (*self.answers.get(EVERY, ()), *self.answers.get(indication, ()))

    def with_answer(self, indication: str, answer: Answer) -> "Said":
        """The same with one more answer."""
        held = (*self.answers.get(indication, ()), answer)
        return replace(self, answers={**self.answers, indication: held})


def said_in(text: str) -> Said:
    """What a file of answers says: TOML, or a text block given back by a second look.

    Parameters
    ----------
    text : ``[a]`` with ``unetched_look = "nothing"`` for indication a, ``[all]`` for all, ``by = "..."`` on top,
        ``[priors.plate]`` with ``lamination = 0.1``; or a block that begins with "etchbook second look"

    Returns
    -------
    Said
        RefusedError with one sentence where it cannot be used.
    """
    return said_in_block(text) if HEAD.rpartition(" ")[0] in text else _said_in_toml(text)


def together(several: tuple[Said, ...]) -> Said:
    """What several files say, one after the other."""
    answers: dict[str, tuple[Answer, ...]] = {}
    priors: dict[str, Mapping[str, float]] = {}
    for said in several:
        for name, held in said.answers.items():
            answers[name] = (*answers.get(name, ()), *held)
        priors |= said.priors
    words = tuple(remark for said in several for remark in said.words)
    reading = next((said.reading for said in several if said.reading), "")
    return Said(answers=answers, priors=priors, words=words, reading=reading)


def block_checksum(lines: list[str]) -> str:
    """Checksum of the lines of a second look (CRC-32 of their text joined by line breaks), as eight hex digits.

    It finds slips of copying; it is no signature.
    """
    return f"{crc32(chr(10).join(lines).encode()):08x}"


def said_in_block(text: str) -> Said:
    """What a second look gave back, its checksum held against its text."""
    lines = _block_lines(text)
    if lines[0] != HEAD:
        raise RefusedError(f'the second look is of another make: its first line should be "{HEAD}"')
    word, _, sum_given = lines[-1].partition(" ")
    if word != "checksum" or block_checksum(lines[:-1]) != sum_given.strip().lower():
        raise RefusedError("the second look's checksum does not fit its text; copy the whole block again")
    said = Said()
    by = ""
    for line in lines[1:-1]:
        word, _, rest = line.partition(" ")
        if word == "reading":
            said = replace(said, reading=rest.strip())
        elif word == "by":
            by = _code(rest)
        elif word == "answer":
            said = _block_answer(said, rest, by)
        elif word == "words":
            said = replace(said, words=_more_words(said.words, rest, by))
        else:
            raise RefusedError(f'the second look holds a line that is not known: "{line[:60]}"')
    if not by:
        raise RefusedError("the second look does not say by whom it is: a line such as: by MK7")
    return said


def _block_lines(text: str) -> list[str]:
    """The lines of the block alone: mail programs put greetings around it, and quote signs before it."""
    plain = [re.sub(r"^[>\s]+", "", line).rstrip() for line in normalize("NFC", text).splitlines()]
    start = next((place for place, line in enumerate(plain) if line.startswith(HEAD.rpartition(" ")[0])), None)
    end = next((place for place, line in enumerate(plain) if line.startswith("checksum ")), None)
    if start is None or end is None or end <= start:
        raise RefusedError('the second look is not whole: copy it from its first line to the line "checksum ..."')
    return [line for line in plain[start : end + 1] if line]


def _more_words(words: tuple[Words, ...], rest: str, by: str) -> tuple[Words, ...]:
    """A remark comes in several short lines, because mail breaks long ones."""
    name, _, text = rest.partition(" ")
    last = words[-1] if words else None
    if last is not None and (last.indication, last.by) == (name, by):
        return (*words[:-1], replace(last, text=f"{last.text} {text.strip()}"))
    return (*words, Words(indication=name, by=by, text=text.strip()))


def _block_answer(said: Said, rest: str, by: str) -> Said:
    parts = rest.split()
    if len(parts) != 3:
        raise RefusedError(f'an answer of the second look should be three words, not "{rest[:60]}"')
    indication, observation, state = parts
    return said.with_answer(indication, Answer(observation=observation, state=state, by=by))


def _said_in_toml(text: str) -> Said:
    try:
        held = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise RefusedError(f"the answers are neither TOML nor a second look: {error}") from None
    by = _code(held.pop("by", UNSIGNED))
    priors = _priors(held.pop("priors", {}))
    answers: dict[str, tuple[Answer, ...]] = {}
    words: list[Words] = []
    for name, table in held.items():
        if not isinstance(table, dict):
            raise RefusedError(f'"{name}" should be a table: [{name}] and below it one answer a line')
        remark = table.pop("words", "")
        if remark:
            words.append(Words(indication=name, by=by, text=str(remark)))
        answers[name] = tuple(_answer(name, key, value, by) for key, value in table.items())
    return Said(answers=answers, priors=priors, words=tuple(words))


def _answer(name: str, key: str, value: Any, by: str) -> Answer:
    state = {True: "yes", False: "no"}.get(value, value) if isinstance(value, bool) else value
    if not isinstance(state, str):
        raise RefusedError(f"{key} of [{name}] should be a word in quotes, or true or false, not {value}")
    return Answer(observation=key, state=state, by=by)


def _priors(held: Any) -> dict[str, dict[str, float]]:
    if not isinstance(held, dict) or not all(isinstance(part, dict) for part in held.values()):
        raise RefusedError("priors are written by place: [priors.plate] and below it lamination = 0.1")
    found: dict[str, dict[str, float]] = {}
    for place, part in held.items():
        for cause, prior in part.items():
            if isinstance(prior, bool) or not isinstance(prior, int | float) or not 0 <= prior <= 1:
                raise RefusedError(
                    f"the prior of {cause} in [priors.{place}] must be a number from 0 to 1, not {prior}"
                )
            found.setdefault(place, {})[cause] = float(prior)
    return found


def _code(given: Any) -> str:
    text = " ".join(str(given).split())
    if not isinstance(given, str) or not text or len(text) > LONGEST_CODE:
        raise RefusedError(f"by whom should be a name or a code of at most {LONGEST_CODE} letters, in quotes")
    return text


def said_as_toml(said: Said, by: str = UNSIGNED) -> str:
    """One person's answers and the changed priors as a TOML file that `said_in` reads again.

    Answers of others are left out: they stand under their own code in the files that they came in.
    """
    rows = [] if by == UNSIGNED else [f"by = {dumps(by, ensure_ascii=False)}"]
    for name, held in said.answers.items():
        own = [answer for answer in held if answer.by == by]
        rows += [f"[{name}]", *(f'{answer.observation} = "{answer.state}"' for answer in own)] if own else []
    rows += [line for place, part in said.priors.items() for line in _priors_as_toml(place, part)]
    return "\n".join(rows) + "\n"


def _priors_as_toml(place: str, part: Mapping[str, float]) -> list[str]:
    return [f"[priors.{place}]", *(f"{cause} = {prior!r}" for cause, prior in part.items())]
