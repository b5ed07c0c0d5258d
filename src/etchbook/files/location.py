"""Takes the place out of a photograph before a copy of it leaves the book; the pixels stay as they are.

Works on the bytes and keeps their number, so no picture is ever coded anew: EXIF location tables are emptied, XMP
packets and IPTC entries that name a place are blanked. Source for where they stand: EXIF 2.3, 4.6.3 (from memory).
"""

import io
import re
import struct
import zlib

from etchbook.files.errors import OutputError

GPS_TABLE = 0x8825
SIZES = {1: 1, 2: 1, 3: 2, 4: 4, 5: 8, 6: 1, 7: 1, 8: 2, 9: 4, 10: 8, 11: 4, 12: 8, 13: 4}
_HEADS = re.compile(rb"II\*\x00|MM\x00\*")
_XMP = re.compile(rb"<x:xmpmeta.*?</x:xmpmeta>", re.DOTALL)
_PLACE_WORDS = re.compile(
    rb"GPS|:City|:State|:Country|:Location|:Sublocation|LocationCreated|LocationShown|photoshop:", re.IGNORECASE
)
_IPTC_PLACES = frozenset({26, 27, 90, 92, 95, 100, 101})
_PNG = b"\x89PNG\r\n\x1a\n"
# Text chunks may hold a packed copy of the EXIF or XMP data; what a program wrote there is no part of the picture.
_PNG_TEXTS = (b"tEXt", b"zTXt", b"iTXt")


def without_location(data: bytes, name: str) -> bytes:
    """The same photograph without the place where it was taken.

    Parameters
    ----------
    data : the bytes of a JPEG, PNG, TIFF or HEIC file
    name : for the sentence that refuses

    Returns
    -------
    bytes
        The very same bytes where they named no place.
    """
    held = bytearray(_png_without_texts(data) if data.startswith(_PNG) else data)
    changed = len(held) != len(data)
    changed |= _empty_tables(held) | _blank_packets(held) | _blank_iptc(held)
    if not changed:
        return data
    made = _png_sums(bytes(held)) if data.startswith(_PNG) else bytes(held)
    if names_place(made):
        raise OutputError(f"the place could not be taken out of {name}; save it anew as JPEG without location data")
    return made


def names_place(data: bytes) -> bool:
    """Whether the imaging library still finds a location table in the file."""
    from PIL import Image, UnidentifiedImageError

    try:
        with Image.open(io.BytesIO(data)) as image:
            return bool(image.getexif().get_ifd(GPS_TABLE))
    except (UnidentifiedImageError, OSError, SyntaxError, ValueError, Image.DecompressionBombError):
        return False  # HEIC and what the library does not know: the tables were looked for by their bytes


def _empty_tables(held: bytearray) -> bool:
    """Empty the location table of every EXIF block; a block is known by its head and a sound first table."""
    changed = False
    for head in list(_HEADS.finditer(held)):
        base = head.start()
        order = "<" if head.group()[:1] == b"I" else ">"
        first = _number(held, base + 4, 4, order)
        at_front = base == 0 or held[base - 6 : base] == b"Exif\x00\x00"
        if first is None or not (first == 8 or at_front):
            continue
        changed |= _empty_table_of(held, base, base + first, order)
    return changed


def _number(held: bytearray, at: int, size: int, order: str) -> int | None:
    if at < 0 or at + size > len(held):
        return None
    return int(struct.unpack_from(order + {1: "B", 2: "H", 4: "I"}[size], held, at)[0])


def _entries(held: bytearray, table: int, order: str) -> list[int]:
    """Where the entries of a table stand; none where it is no table."""
    count = _number(held, table, 2, order)
    if count is None or not 0 < count < 500 or table + 2 + 12 * count > len(held):
        return []
    places = [table + 2 + 12 * k for k in range(count)]
    kinds = [_number(held, place + 2, 2, order) for place in places]
    return places if all(kind in SIZES for kind in kinds) else []


def _empty_table_of(held: bytearray, base: int, table: int, order: str) -> bool:
    places = _entries(held, table, order)
    for place in places:
        if _number(held, place, 2, order) != GPS_TABLE:
            continue
        start = _number(held, place + 8, 4, order)
        if start is not None:
            _empty(held, base, base + start, order)
        # The entry goes too: those behind it move up, with the link to the next table behind them.
        end = places[-1] + 12 + 4
        held[place : end - 12] = held[place + 12 : end]
        held[end - 12 : end] = bytes(12)
        struct.pack_into(order + "H", held, table, len(places) - 1)
        return True
    return False


def _empty(held: bytearray, base: int, table: int, order: str) -> None:
    for place in _entries(held, table, order):
        size = SIZES[_number(held, place + 2, 2, order) or 1] * (_number(held, place + 4, 4, order) or 0)
        where = _number(held, place + 8, 4, order)
        if size > 4 and where is not None and base + where + size <= len(held):
            held[base + where : base + where + size] = bytes(size)
        held[place : place + 12] = bytes(12)
    held[table : table + 2] = bytes(2)


def _blank_packets(held: bytearray) -> bool:
    changed = False
    for packet in list(_XMP.finditer(held)):
        if _PLACE_WORDS.search(packet.group()):
            held[packet.start() : packet.end()] = b" " * len(packet.group())
            changed = True
    return changed


def _blank_iptc(held: bytearray) -> bool:
    """Blank the entries that name a place in the press agencies' block (8BIM 0x0404)."""
    changed, start = False, 0
    while (found := held.find(b"8BIM\x04\x04", start)) >= 0:
        start = found + 6
        name = _number(held, start, 1, ">") or 0
        at = start + 1 + name + (1 - name % 2)
        size = _number(held, at, 4, ">")
        changed |= size is not None and _blank_entries(held, at + 4, min(at + 4 + size, len(held)))
    return changed


def _blank_entries(held: bytearray, at: int, end: int) -> bool:
    changed = False
    while at + 5 <= end and held[at] == 0x1C:
        size = _number(held, at + 3, 2, ">") or 0
        if held[at + 1] == 2 and held[at + 2] in _IPTC_PLACES and at + 5 + size <= end:
            held[at + 5 : at + 5 + size] = b" " * size
            changed = True
        at += 5 + size
    return changed


def _png_chunks(data: bytes) -> list[tuple[bytes, bytes]]:
    chunks, at = [], len(_PNG)
    while at + 12 <= len(data):
        size = int.from_bytes(data[at : at + 4], "big")
        chunks.append((data[at + 4 : at + 8], data[at + 8 : at + 8 + size]))
        at += 12 + size
    return chunks


def _png_without_texts(data: bytes) -> bytes:
    chunks = _png_chunks(data)
    if not any(kind in _PNG_TEXTS and _may_hold_place(body) for kind, body in chunks):
        return data
    return _PNG + b"".join(_png_chunk(kind, body) for kind, body in chunks if kind not in _PNG_TEXTS)


def _may_hold_place(body: bytes) -> bool:
    keyword = body.partition(b"\x00")[0].lower()
    return keyword.startswith((b"raw profile", b"xml:com.adobe.xmp", b"location", b"gps"))


def _png_sums(data: bytes) -> bytes:
    return _PNG + b"".join(_png_chunk(kind, body) for kind, body in _png_chunks(data))


def _png_chunk(kind: bytes, body: bytes) -> bytes:
    return struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))
