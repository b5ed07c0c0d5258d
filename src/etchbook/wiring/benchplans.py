"""Trials planned at the bench: what codes and order are drawn from, and a plan's papers.

The key of a plan is kept nowhere. It is made anew from the bench's own secret and from a word that stands in the
plan, so that neither the book nor a copy of it tells anybody which bead is which arm.
"""

import hashlib
import hmac
import json
import secrets
from collections.abc import Mapping
from typing import Any

from etchbook.quantity import Measured
from etchbook.trials.deciding import Decision
from etchbook.trials.planning import Plan
from etchbook.usecases import RefusedError
from etchbook.usecases.book_beads import own_scatter
from etchbook.usecases.keeping.plans import Planned
from etchbook.usecases.keeping.ports import BookStore
from etchbook.usecases.planned import decided, plan_again, plan_trial, sealed_plan, wish_from
from etchbook.wiring.benchkeys import key
from etchbook.wiring.trialpages import KEY_NAME, plan_pages

SEALED = (KEY_NAME, "helper.sealed.pdf")
OPEN = ("plan.json", "run-sheet.pdf")


def planned(store: BookStore, said: Mapping[str, Any]) -> tuple[Plan, str]:
    """A plan out of what a person said, and the word with which this machine finds its key again."""
    nonce = secrets.token_hex(8)
    secret, seed = _drawn(nonce)
    wish = wish_from({**said, "seed": seed}, secret, own=own_scatter(store))
    return plan_trial(wish), nonce


def _drawn(nonce: str) -> tuple[str, int]:
    def digest(what: str) -> str:
        return hmac.new(key(), f"plan {what} {nonce}".encode(), hashlib.sha256).hexdigest()

    return digest("secret"), int(digest("seed")[:8], 16)


def opened(found: Planned) -> Plan:
    """The whole plan with its arms; refused where this machine does not hold its key."""
    return plan_again(found.document, *_drawn(found.nonce))


def paper(found: Planned, name: str) -> bytes:
    """One of a plan's papers: the open plan, the run sheet with labels, the sealed key, the helper's sheet."""
    if name not in (*SEALED, *OPEN):
        raise RefusedError(f"a plan has no paper {name}")
    made = opened(found) if name in SEALED else sealed_plan(found.document)
    return plan_pages(made, only=name)[name]


def decision(
    found: Planned, results: Mapping[str, Measured], *, key_text: str, covariate: Mapping[str, float], stopped: str
) -> Decision:
    """What the locked rule says of the results, by the key that was handed in, else by that of this machine."""
    key_used = key_text or json.dumps(opened(found).key)
    return decided(found.document, key_used, results, covariate=covariate, stopped=stopped)[1]
