"""Material certificates: heat number and composition, which plates refer to."""

import re
from collections.abc import Mapping, Sequence

from etchbook.trials.records import Certificate, Coupon
from etchbook.usecases.errors import RefusedError
from etchbook.usecases.keeping.looking import next_number, write_next
from etchbook.usecases.keeping.ports import BookStore, Hand, Write
from etchbook.usecases.scales import number


def shares(pairs: Sequence[tuple[str, str]]) -> dict[str, float]:
    """Elements and their shares [% by mass] as they were typed."""
    found: dict[str, float] = {}
    for element, text in pairs:
        if not re.fullmatch("[A-Z][a-z]?", element.strip()):
            raise RefusedError(f'"{element}" is no chemical symbol; write it like C=0.14 or Mn=1.2')
        share = number(text.strip().removesuffix("%"), f"the share of {element}", least=0.0)
        if share > 100:
            raise RefusedError(f"the share of {element} is at most 100 %, not {share:g}")
        found[element.strip()] = share
    if sum(found.values()) > 100:
        raise RefusedError(f"the shares add up to {sum(found.values()):g} %, more than 100")
    return found


def keep_certificate(
    store: BookStore, hand: Hand, heat: str, composition: Mapping[str, float], *, material: str = "", remarks: str = ""
) -> Certificate:
    """Keep a certificate under the next free number."""
    if not heat.strip():
        raise RefusedError("a certificate goes by its heat number: say --heat")

    def make() -> Sequence[Write]:
        numbers = [code for code in store.taken("") if code.startswith("CERT-")]
        record = Certificate(
            code=f"CERT-{next_number(numbers, 'CERT-')}",
            heat=heat.strip(),
            material=material,
            composition=dict(composition),
            remarks=remarks,
        )
        return [Write(record=record, expects=0)]

    made = write_next(store, hand, "kept certificate {}", make)[0].record
    assert isinstance(made, Certificate)
    return made


def referring(store: BookStore) -> dict[str, tuple[str, ...]]:
    """Beads whose coupon has a plate of a certificate, by the certificate's code."""
    found: dict[str, tuple[str, ...]] = {}
    after = ""
    while batch := store.every("coupon", limit=500, after=after):
        after = batch[-1].code
        for entry in batch:
            plates = entry.record.plates if isinstance(entry.record, Coupon) else ()
            for code in dict.fromkeys(plate.certificate for plate in plates if plate.certificate):
                found[code] = (*found.get(code, ()), entry.code.rpartition("-")[0])
    return found
