"""The commands ``trial`` and ``bead``."""

from typing import TYPE_CHECKING

import typer

from etchbook.cli.said import BOOK, BY

if TYPE_CHECKING:
    from etchbook.joint import Groove


def trial(
    code: str = typer.Argument("", metavar="CODE", help="Such as N1; left out, the trials are listed."),
    question: str = typer.Option("", metavar="TEXT", help="What the trial is to answer."),
    joint: str | None = typer.Option(None, metavar="JOINT", help="tee, lap, corner, butt or bead."),
    thickness_1: str | None = typer.Option(None, "--thickness-1", metavar="LENGTH", help="Of member 1: 8mm, 5/16in."),
    thickness_2: str | None = typer.Option(None, "--thickness-2", metavar="LENGTH", help="Of member 2."),
    throat: str | None = typer.Option(None, metavar="LENGTH", help="Nominal throat that the drawing asks for."),
    gap: str | None = typer.Option(None, metavar="LENGTH", help="Root gap of a butt joint before welding: 2±0.3mm."),
    groove_angle: str | None = typer.Option(
        None, "--groove-angle", metavar="ANGLE", help="Angle between both edges of a butt joint; 0 where square."
    ),
    root_face: str | None = typer.Option(None, "--root-face", metavar="LENGTH", help="Unbevelled part of the edges."),
    bevelled: str | None = typer.Option(None, metavar="SIDE", help="Which members are bevelled: both, 1 or 2."),
    material: str = typer.Option("", metavar="TEXT", help="Steel of the plates."),
    wire: str = typer.Option("", metavar="TEXT", help="Wire or electrode."),
    gas: str = typer.Option("", metavar="TEXT", help="Shielding gas."),
    procedure: str = typer.Option("", metavar="TEXT", help="Number or name of the welding procedure."),
    remarks: str = typer.Option("", metavar="TEXT", help="Anything else."),
    by: str = BY,
    book: str | None = BOOK,
) -> None:
    """Begin a trial or change one; with a code alone show it, with nothing list all."""
    from etchbook.cli import shown
    from etchbook.cli.said import given, opened
    from etchbook.usecases.keeping.beads import keep_trial
    from etchbook.usecases.keeping.looking import lookup
    from etchbook.wiring import shelf

    said = given({"question": question, "material": material, "wire": wire, "gas": gas, "procedure": procedure,
                  "remarks": remarks, "joint": _joint(joint, thickness_1, thickness_2, throat,
                                                       _groove(gap, groove_angle, root_face, bevelled))})  # fmt: skip
    store = opened(book)
    if not said:
        if code:
            shown.thing(store, lookup(store, code))
        else:
            shown.rows(store.every("trial", limit=1000))
        return
    made, new = keep_trial(store, shelf.hand(by), code, shelf.mark(), said)
    print(f"{'began' if new else 'changed'} trial {made.code}")
    if new:
        print(f"log its first bead with: etchbook bead {made.code} volts=... feed=... travel=...")


def _groove(gap: str | None, angle: str | None, root_face: str | None, bevelled: str | None) -> "Groove | None":
    from etchbook.usecases.grooves import groove_from
    from etchbook.wiring.units import amount

    return groove_from(gap, angle, root_face, bevelled, amount)


def _joint(
    family: str | None,
    thickness_1: str | None,
    thickness_2: str | None,
    throat: str | None,
    groove: "Groove | None",
) -> object:
    from etchbook.cli.said import length
    from etchbook.joint import Joint
    from etchbook.usecases import RefusedError
    from etchbook.usecases.grooves import fitting
    from etchbook.usecases.words import family_named

    if family is None:
        if thickness_1 or thickness_2 or throat or groove:
            raise RefusedError("thicknesses, throat and preparation belong to a joint: say --joint as well")
        return None
    named = family_named(family)
    return Joint(
        groove=fitting(groove, named),
        family=named,
        thickness_1=length(thickness_1, "the thickness of member 1"),
        thickness_2=length(thickness_2, "the thickness of member 2"),
        throat=length(throat, "the throat"),
    )


def bead(
    code: str = typer.Argument(..., metavar="CODE", help="A trial (logs its next bead) or a bead (adds to it)."),
    words: list[str] = typer.Argument(
        None, metavar="[SETTING=VALUE]...", help="What was set: volts=18.5 feed=5.6m/min."
    ),
    read: list[str] = typer.Option([], metavar="SETTING=VALUE", help="Read off an instrument; may be repeated."),
    seen: list[str] = typer.Option([], metavar="TEXT", help="What was seen, SETTING=VALUE or plain words; repeatable."),
    like: str = typer.Option("", metavar="BEAD", help="Take over what was set for that bead."),
    welded: str = typer.Option("", metavar="TIME", help="When it was welded, 2026-03-14T09:30; left out, now."),
    by: str = BY,
    book: str | None = BOOK,
) -> None:
    """Log a bead of a trial, or add to a bead; with a code alone show what is there.

    Settings are typed as volts=18.5V or --volts 18.5V, in any common unit: travel=30cm/min, feed=220in/min,
    gas_flow=30cfh, start=68F. `etchbook terms` lists them.
    """  # fmt: skip
    from etchbook.cli import said, shown
    from etchbook.cli.said import opened
    from etchbook.trials import code_kind, normal_code
    from etchbook.usecases.keeping import beads as use
    from etchbook.usecases.keeping.looking import lookup
    from etchbook.usecases.keeping.telling import setting
    from etchbook.wiring import shelf

    settings = said.settings(words or (), read, seen)
    store, when = opened(book), _time(welded)
    found = lookup(store, code)
    if not settings and not like and not when:
        shown.rows(store.below(found.code, "bead")) if found.kind == "trial" else shown.thing(store, found)
        return
    hand = shelf.hand(by)
    if code_kind(normal_code(code)) == "trial":
        made = use.log_bead(store, hand, code, settings, welded=when, like=like)
        print(f"logged bead {made.code}")
    else:
        made = use.change_bead(store, hand, code, settings, welded=when)
        print(f"changed bead {made.code}")
    print("; ".join(setting(one) for one in made.settings))


def _time(text: str) -> str:
    from datetime import datetime

    from etchbook.usecases import RefusedError

    if not text:
        return ""
    try:
        return datetime.fromisoformat(text).isoformat(timespec="minutes")
    except ValueError:
        raise RefusedError(f'"{text}" is no date and time; write it like 2026-03-14T09:30') from None
