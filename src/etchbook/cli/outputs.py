"""Where pages go: a file for one photograph; a folder or a name with {name} in it for several."""

from collections.abc import Mapping, Sequence
from pathlib import Path

from etchbook.usecases import RefusedError

ENDINGS = {
    "json": ".reading.json",
    "regions": ".regions.png",
    "overlay": ".overlay.png",
    "pdf": ".pdf",
    "html": ".html",
    "csv": ".csv",
}


def targets(options: Mapping[str, str | None], photo: str, *, several: bool) -> dict[str, str]:
    """Path of each page that was asked for, by kind of page.

    Parameters
    ----------
    options : what was typed for each of ENDINGS; None where the page is not wanted
    photo : the photograph that the pages belong to
    several : whether more than one photograph is read in this call
    """
    pages = {}
    for option, where in options.items():
        if where and where != "-":
            path = _path(where, Path(photo).stem, ENDINGS[option], several)
            pages[_kind(option, path)] = path
    return pages


def folders_to_make(options: Mapping[str, str | None]) -> tuple[str, ...]:
    """Folders named with a slash at their end: they are made when they are not there."""
    return tuple(where for where in options.values() if where and where.endswith(("/", "\\")))


def check_places(planned: Sequence[Mapping[str, str]], inputs: Sequence[str], making: Sequence[str] = ()) -> None:
    """Refuse, before anything is read, pages that would fall on each other, on a photograph, or into no folder."""
    seen = {str(Path(photo).resolve()) for photo in inputs}
    made = {Path(folder).resolve() for folder in making}
    for pages in planned:
        for path in pages.values():
            folder = Path(path).resolve().parent
            if not folder.is_dir() and folder not in made:
                raise RefusedError(f"the folder of {path} does not exist; make it first or choose another place")
            place = str(Path(path).resolve())
            if place in seen:
                raise RefusedError(f"two files would be written to {path}, or a photograph be overwritten; rename one")
            seen.add(place)


def _path(where: str, stem: str, ending: str, several: bool) -> str:
    if "{name}" in where:
        return where.replace("{name}", stem)
    if where.endswith(("/", "\\")) or Path(where).is_dir():
        return str(Path(where) / f"{stem}{ending}")
    if several:
        raise RefusedError(
            f"several photos cannot share the file {where}: give a folder, or a name with {{name}} in it"
        )
    return where


def _kind(option: str, path: str) -> str:
    if option != "overlay":
        return option
    if not path.lower().endswith((".png", ".svg")):
        raise RefusedError(f"an overlay is a .png or a .svg file, not {path}")
    return f"overlay{path[-4:].lower()}"
