"""The command ``follow``."""

import typer

KINDS = (".gif", ".png", ".webp")


def follow(
    photos: list[str] = typer.Argument(..., metavar="PICTURE_A PICTURE_B", help="Two or more pictures of one face."),
    state: list[str] = typer.Option(
        [], metavar="A=STATE", help="State of a picture: A=finish:1200,etched:no,light:45 (parts may be left out)."
    ),
    scale: list[str] = typer.Option([], metavar="A=PX_PER_MM", help="Scale of a picture; carried over to the others."),
    joint: str = typer.Option("", metavar="JOINT", help="tee, lap, corner, butt or bead; proposed when left out."),
    line: list[str] = typer.Option(
        [], metavar="X1,Y1,X2,Y2", help="A line to follow, in pixels of picture A; may be given again."
    ),
    points: list[str] = typer.Option(
        [], metavar="B=FILE", help="Points matched by hand: a file, or the numbers xa,ya,xb,yb,... [px of A and of B]."
    ),
    beside: str = typer.Option("", metavar="OUT.png", help="Keep all pictures side by side as one."),
    flicker: str = typer.Option("", metavar="OUT.gif", help="Keep them flickering: .gif, .png (moving) or .webp."),
    html: str = typer.Option("", metavar="OUT.html", help="Keep one page with both, and what became of each line."),
    json: str = typer.Option("", metavar="OUT.json", help="Keep everything as JSON; - prints it."),
    answers: str = typer.Option(
        "", metavar="OUT.toml", help="Keep what follows from it for `etchbook line --answers`, for the reading of A."
    ),
) -> None:
    """Lay pictures of one face on each other and follow each dark line: present, gone, narrower, sharper, flips."""
    from pathlib import Path

    from etchbook.cli import follow_show
    from etchbook.cli.outputs import check_places
    from etchbook.usecases import RefusedError
    from etchbook.usecases.follow_states import follow_wish
    from etchbook.usecases.followed import stories
    from etchbook.usecases.following import follow as follow_them
    from etchbook.wiring.desk import FilesDesk
    from etchbook.wiring.following import following_pages
    from etchbook.wiring.library import PROGRAM

    wish = follow_wish(
        photos, states=state, scales=scale, joint=joint, lines=line, points=[_points(text) for text in points]
    )
    if flicker and Path(flicker).suffix.lower() not in KINDS:
        raise RefusedError(f"the flickering picture is a .gif, .png or .webp file, not {flicker}")
    if beside and not beside.lower().endswith(".png"):
        raise RefusedError(f"the pictures side by side are a .png file, not {beside}")
    wanted = {"beside": beside, "flicker": flicker, "html": html, "json": json, "answers": answers}
    places = {kind: path for kind, path in wanted.items() if path and path != "-"}
    check_places([places], photos)
    following = follow_them(wish, FilesDesk(), PROGRAM)
    told = stories(following)
    kinds = {kind: Path(path).suffix.lower() for kind, path in places.items()}
    if json == "-":
        kinds["json"] = ".json"
    pages = following_pages(following, told, kinds)
    FilesDesk().keep({path: pages[kind] for kind, path in places.items()})
    if json == "-":
        print(pages["json"].decode(), end="")
        return
    follow_show.following(following, told)


def _points(text: str) -> str:
    """The option with a file's text in place of its name."""
    from etchbook.wiring.desk import FilesDesk

    name, sign, rest = text.partition("=")
    numbers = set(rest) <= set("0123456789.,;+-eE ")
    return text if numbers or not sign else f"{name}={FilesDesk().text(rest.strip())}"
