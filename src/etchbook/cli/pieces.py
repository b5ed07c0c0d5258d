"""The commands ``coupon``, ``cut``, ``piece`` and ``certificate``."""

import typer

from etchbook.cli.said import BOOK, BY

PLATE = "A plate: MEMBER:MATERIAL,THICKNESS,heat=NUMBER,cert=CERT-1, as 1:S275,8mm,heat=4711; may be repeated."


def coupon(
    code: str = typer.Argument(..., metavar="BEAD", help="The bead that the coupon is called after."),
    plate: list[str] = typer.Option([], metavar="PLATE", help=PLATE),
    bead: list[str] = typer.Option([], metavar="BEAD", help="A further bead on the same coupon; may be repeated."),
    length: str | None = typer.Option(None, metavar="LENGTH", help="Along the seam: 150mm."),
    place: str = typer.Option("", metavar="TEXT", help="Where it is kept."),
    remarks: str = typer.Option("", metavar="TEXT", help="Anything else."),
    by: str = BY,
    book: str | None = BOOK,
) -> None:
    """Say what is known of the welded piece before it is cut; with a code alone show it."""
    from etchbook.cli import said, shown
    from etchbook.cli.said import opened
    from etchbook.usecases.keeping import pieces as use
    from etchbook.usecases.keeping.looking import lookup
    from etchbook.wiring import shelf

    store = opened(book)
    known = said.given({"length": said.length(length, "the length"), "place": place, "remarks": remarks})
    if plate:
        known["plates"] = tuple(_plate(store, one) for one in plate)
    if bead:
        known["beads"] = tuple(dict.fromkeys(lookup(store, one).code for one in (code, *bead)))
    if not known:
        from etchbook.trials.codes import bead_code, normal_code

        shown.thing(store, lookup(store, f"{bead_code(normal_code(code))}-0"))
        return
    made, new = use.keep_coupon(store, shelf.hand(by), code, known)
    print(f"{'made' if new else 'changed'} coupon {made.code}")


def _plate(store: object, text: str) -> object:
    from typing import cast

    from etchbook.cli.said import length
    from etchbook.trials.records import Certificate, Plate
    from etchbook.usecases import RefusedError
    from etchbook.usecases.keeping.looking import held
    from etchbook.usecases.keeping.ports import BookStore

    member, colon, rest = text.partition(":")
    if not colon or member.strip() not in ("1", "2"):
        raise RefusedError(f'"{text}" is no plate: write it like 1:S275,8mm,heat=4711')
    plain = [part.strip() for part in rest.split(",") if part.strip() and "=" not in part]
    named = dict(part.strip().split("=", 1) for part in rest.split(",") if "=" in part)
    unknown = set(named) - {"heat", "cert"}
    if unknown or len(plain) > 2:
        raise RefusedError(f'"{text}" is no plate: write it like 1:S275,8mm,heat=4711,cert=CERT-1')
    certificate = held(cast(BookStore, store), named["cert"], Certificate)[0].code if "cert" in named else ""
    thick = length(plain[1], "the plate's thickness") if len(plain) > 1 else None
    return Plate(member=int(member), material=plain[0] if plain else "", thickness=thick,
                 heat=named.get("heat", ""), certificate=certificate)  # fmt: skip


def cut(
    code: str = typer.Argument(..., metavar="CODE", help="The bead whose coupon is cut; or a piece."),
    into: int = typer.Option(2, metavar="N", help="How many parts, where --at is not said."),
    at: str = typer.Option("", metavar="LENGTHS", help="Where the saw went along the seam: 40mm,80mm."),
    kerf: str | None = typer.Option(None, metavar="LENGTH", help="What the saw takes away: 1.5mm."),
    place: str = typer.Option("", metavar="TEXT", help="Where the parts are kept."),
    by: str = BY,
    book: str | None = BOOK,
) -> None:
    """Cut a coupon or a piece; the parts get codes and know which side met which."""
    from etchbook.cli import said, shown
    from etchbook.cli.said import opened
    from etchbook.usecases.keeping import pieces as use
    from etchbook.wiring import shelf

    store = opened(book)
    places = [said.length(one, "the place of a cut") or 0.0 for one in at.split(",") if one.strip()]
    width = said.length(kerf, "the kerf") or 0.0
    made = use.cut(store, shelf.hand(by), code, into=into, at=places, kerf=width, place=place)
    shown.rows([entry for piece in made if (entry := store.entry(piece.code))])


def piece(
    code: str = typer.Argument(..., metavar="CODE", help="Such as N1-03-B, or N1-03-0 for a coupon that is not cut."),
    place: str | None = typer.Option(None, metavar="TEXT", help="Where it is kept now."),
    lost: bool = typer.Option(False, "--lost", help="It cannot be found."),
    found: bool = typer.Option(False, "--found", help="It was found again."),
    scrapped: bool = typer.Option(False, "--scrapped", help="It was thrown away."),
    sent: bool = typer.Option(False, "--sent", help="It was sent away; say in --place to whom."),
    remarks: str | None = typer.Option(None, metavar="TEXT", help="Anything else."),
    by: str = BY,
    book: str | None = BOOK,
) -> None:
    """Say where a piece is, and where its other half is; or say that it was moved, lost or found."""
    from etchbook.cli import shown
    from etchbook.cli.said import opened
    from etchbook.trials import code_kind, normal_code
    from etchbook.usecases import RefusedError
    from etchbook.usecases.keeping import pieces as use
    from etchbook.usecases.keeping.looking import lookup
    from etchbook.wiring import shelf

    states = {"lost": lost, "kept": found, "scrapped": scrapped, "sent away": sent}
    said = [state for state, yes in states.items() if yes]
    if len(said) > 1:
        raise RefusedError("a piece is one of lost, found, scrapped or sent away, not several at once")
    store = opened(book)
    if said or place is not None or remarks is not None:
        state = said[0] if said else None
        use.keep_piece(store, shelf.hand(by), code, place=place, state=state, remarks=remarks)  # type: ignore[arg-type]
    if code_kind(normal_code(code)) == "piece" and not lookup(store, code).binned:
        shown.whereabouts(use.whereabouts(store, code))
    else:
        shown.thing(store, lookup(store, code))


def certificate(
    words: list[str] = typer.Argument(None, metavar="[ELEMENT=PERCENT]...", help="Composition, as C=0.14 Mn=1.2."),
    heat: str = typer.Option("", metavar="NUMBER", help="Heat number; left out, the certificates are listed."),
    material: str = typer.Option("", metavar="TEXT", help="Steel."),
    remarks: str = typer.Option("", metavar="TEXT", help="Anything else."),
    by: str = BY,
    book: str | None = BOOK,
) -> None:
    """Keep a material certificate; name it in a coupon's plate as cert=CERT-1."""
    from etchbook.cli import said, shown
    from etchbook.cli.said import opened
    from etchbook.usecases.keeping.certificates import keep_certificate, shares
    from etchbook.wiring import shelf

    store = opened(book)
    mixed = shares(said.pairs(words or ()))
    if not heat and not mixed:
        shown.rows(store.every("certificate", limit=1000))
        return
    made = keep_certificate(store, shelf.hand(by), heat, mixed, material=material, remarks=remarks)
    print(f"kept certificate {made.code}")
