"""Faces and their pictures."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from etchbook.trials import code_kind, normal_code
from etchbook.trials.records import Face, Facing, PictureEntry, Piece, Step
from etchbook.usecases.errors import RefusedError
from etchbook.usecases.keeping.looking import held, next_number, write_next
from etchbook.usecases.keeping.ports import BookStore, Change, Hand, Original, Write


@dataclass(frozen=True, kw_only=True, slots=True)
class Photo:
    """A photograph on its way into the book; width and height [px] as displayed."""

    data: bytes
    sha256: str
    name: str
    suffix: str
    width: int
    height: int


def prepare_face(
    store: BookStore,
    hand: Hand,
    typed: str,
    steps: Sequence[Step],
    *,
    towards: str = "",
    remarks: str = "",
    expects: int = 0,
) -> tuple[Face, bool]:
    """Make a new face of a piece, or tick off further steps on a face that is there.

    Parameters
    ----------
    typed : code of the piece (a new face) or of the face
    steps : preparation steps done, in their order
    towards : the piece that this face met across the cut; found where the piece has met only one
    expects : the edition of the face that the person looked at, where that is known; another one is refused
    """
    code = normal_code(typed)
    if code_kind(code) != "face":
        return _new_face(store, hand, code, steps, towards, remarks), True
    face, edition = held(store, code, Face, expects=expects)
    piece, _ = held(store, face.code.rpartition("-")[0], Piece)
    changed = replace(
        face,
        steps=(*face.steps, *steps),
        towards=_towards(piece, towards) if towards else face.towards,
        remarks=remarks or face.remarks,
    )
    if changed != face:
        write_next(store, hand, "prepared {}", lambda: [Write(record=changed, expects=edition)])
    return changed, False


def _new_face(store: BookStore, hand: Hand, code: str, steps: Sequence[Step], towards: str, remarks: str) -> Face:
    piece, _ = held(store, code, Piece)
    met = _towards(piece, towards)

    def make() -> Sequence[Write]:
        number = next_number(store.taken(piece.code), f"{piece.code}-")
        face = Face(code=f"{piece.code}-{number}", towards=met, steps=tuple(steps), remarks=remarks)
        return [Write(record=face, expects=0)]

    made = write_next(store, hand, "made face {}", make)[0].record
    assert isinstance(made, Face)
    return made


def _towards(piece: Piece, typed: str) -> str:
    """The piece that a face met: the one that was said, or the only one there is."""
    met: tuple[Facing, ...] = piece.facing
    if not typed:
        return met[0].other if len(met) == 1 else ""
    code = normal_code(typed)
    if code not in [facing.other for facing in met]:
        near = ", ".join(facing.other for facing in met) or "no piece"
        raise RefusedError(f"{piece.code} did not meet {code} across a cut; it met {near}")
    return code


def add_picture(
    store: BookStore, hand: Hand, typed: str, photo: Photo, said: Mapping[str, str] | None = None
) -> tuple[PictureEntry, tuple[str, ...]]:
    """Put a photograph of a face into the book; the very same photograph is not put there twice.

    Parameters
    ----------
    typed : code of the face, or of a piece that has one face or none yet
    said : finish, etched, light, lens, taken, remarks, where they were said

    Returns
    -------
    (PictureEntry, notes)
        The notes say what to know, such as that the same photograph is also kept elsewhere.
    """
    face = _face_for(store, hand, typed)
    kept = store.pictures_of(photo.sha256)
    for code in kept:
        if code.startswith(f"{face}-"):
            return held(store, code, PictureEntry)[0], (f"that photograph was in the book already, as {code}",)

    def make() -> Change:
        number = next_number(store.taken(face), f"{face}-P")
        entry = PictureEntry(
            code=f"{face}-P{number}",
            sha256=photo.sha256,
            name=photo.name,
            suffix=photo.suffix,
            size=len(photo.data),
            width=photo.width,
            height=photo.height,
            **(said or {}),
        )
        original = Original(data=photo.data, suffix=photo.suffix)
        writes = [Write(record=entry, expects=0)]
        return Change(hand=hand, words="", writes=writes, originals={photo.sha256: original})

    made = write_next(store, hand, "added picture {}", make)[0].record
    assert isinstance(made, PictureEntry)
    notes = (f"the same photograph is also kept as {', '.join(kept)}: is it on the right face?",) if kept else ()
    return made, notes


def _face_for(store: BookStore, hand: Hand, typed: str) -> str:
    code = normal_code(typed)
    if code_kind(code) == "face":
        return held(store, code, Face)[0].code
    if code_kind(code) != "piece":
        raise RefusedError(f"{code} is the code of a {code_kind(code)}; a picture belongs to a face, like N1-03-B-1")
    piece, _ = held(store, code, Piece)
    faces = [entry.code for entry in store.below(piece.code, "face")]
    if len(faces) > 1:
        raise RefusedError(f"{piece.code} has several faces; say which: {', '.join(faces)}")
    return faces[0] if faces else _new_face(store, hand, piece.code, (), "", "").code
