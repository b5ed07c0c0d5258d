"""The words a person types: joints and their dimensions."""

from etchbook.terms import FAMILIES, Family, Term, dimensions_of
from etchbook.usecases.errors import RefusedError


def family_named(word: str) -> Family:
    """The joint family of that name, or a refusal that lists them."""
    for family in FAMILIES:
        if word.strip().lower() == family:
            return family
    raise RefusedError(f'"{word}" is not a joint: use {", ".join(FAMILIES[:-1])} or {FAMILIES[-1]}')


def wanted_terms(joint: str) -> tuple[Term, ...]:
    """The dimensions of one joint, in the order of every table."""
    return dimensions_of(family_named(joint))
