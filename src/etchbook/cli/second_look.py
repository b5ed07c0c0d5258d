"""The command ``second-look``."""

import typer


def second_look(
    reading: str = typer.Argument(..., metavar="READING.json", help="A reading kept by `etchbook read --json`."),
    photo: list[str] = typer.Option(
        [], metavar="PHOTO", help="The photo that was read, where it no longer lies beside the reading; then others."
    ),
    answers: list[str] = typer.Option([], metavar="FILE", help="What was answered so far (TOML or a block of text)."),
    out: str = typer.Option("second_look.html", metavar="OUT.html", help="The file to send."),
) -> None:
    """Write one HTML file for a second pair of eyes: pictures, figures, boxes to tick, a block of text to send back."""
    from etchbook.wiring.second_look import second_look_page

    page = second_look_page(reading, photo, answers)
    from etchbook.wiring.desk import FilesDesk

    FilesDesk().keep({out: page})
    print(f"{out} is {len(page) / 1e6:.1f} MB. Weigh what comes back with: etchbook line {reading} --answers BLOCK.txt")
