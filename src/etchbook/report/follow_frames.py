"""Pictures of one face brought into one frame: side by side, and flickering."""

from collections.abc import Sequence
from importlib import resources
from io import BytesIO

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageDraw, ImageFont

from etchbook.picture.register import moved
from etchbook.report.photos import eight_bits
from etchbook.usecases.followed import Story
from etchbook.usecases.following import Following, Frame

Points = NDArray[np.float64]
LONGEST = 1100
"""Longer side of one panel [px]."""
STRIP = 34
GAP = 8
HOLD_MS = 900
INK, PAPER = (20, 20, 20), (255, 255, 255)
MARK = PAPER


def panels(following: Following, told: Sequence[Story]) -> list[Image.Image]:
    """One panel for each picture that lies on A, all showing the same piece of the face, with what is where marked."""
    frames = [frame for frame in following.frames if frame.known]
    window = _window(frames)
    size = _size(window)
    drawn = []
    for frame in frames:
        image = _shown(frame, window, size)
        _marked(image, frame, told, window, size)
        drawn.append(_titled(image, frame))
    return drawn


def beside_png(drawn: Sequence[Image.Image]) -> bytes:
    """The panels as one picture, in the order given."""
    wide = sum(panel.width for panel in drawn) + GAP * (len(drawn) - 1)
    sheet = Image.new("RGB", (wide, max(panel.height for panel in drawn)), PAPER)
    left = 0
    for panel in drawn:
        sheet.paste(panel, (left, 0))
        left += panel.width + GAP
    return _saved(sheet, "PNG")


def flicker(drawn: Sequence[Image.Image], ending: str) -> bytes:
    """The panels one after the other, for ever: .gif, .png (moving) or .webp."""
    held = BytesIO()
    first, rest = drawn[0], list(drawn[1:])
    if ending == ".gif":
        # One palette for all: colours that jump would look like a change of the face.
        palette = _together(drawn).quantize(256, dither=Image.Dither.NONE)
        grey = [panel.quantize(palette=palette, dither=Image.Dither.FLOYDSTEINBERG) for panel in drawn]
        grey[0].save(held, "GIF", save_all=True, append_images=grey[1:], duration=HOLD_MS, loop=0, disposal=1)
    elif ending == ".webp":
        first.save(held, "WEBP", save_all=True, append_images=rest, duration=HOLD_MS, loop=0, quality=88, method=2)
    else:
        first.save(held, "PNG", save_all=True, append_images=rest, duration=HOLD_MS, loop=0)
    return held.getvalue()


def panel_jpeg(panel: Image.Image) -> bytes:
    """One panel for the page."""
    return _saved(panel, "JPEG", quality=88, subsampling=0)


def _together(drawn: Sequence[Image.Image]) -> Image.Image:
    sheet = Image.new("RGB", (max(p.width for p in drawn), sum(p.height for p in drawn)))
    top = 0
    for panel in drawn:
        sheet.paste(panel, (0, top))
        top += panel.height
    return sheet


def _window(frames: Sequence[Frame]) -> tuple[float, float, float, float]:
    """The piece of A's picture that all of them show [px of A]: left, top, right, bottom."""
    low, high = np.zeros(2), np.array([frames[0].picture.width - 1.0, frames[0].picture.height - 1.0])
    for frame in frames[1:]:
        width, height = frame.picture.width - 1.0, frame.picture.height - 1.0
        corners = np.array([[0, 0], [width, 0], [width, height], [0, height]])
        there = moved(np.asarray(np.linalg.inv(frame.matrix)), corners)
        new_low, new_high = np.maximum(low, there.min(axis=0)), np.minimum(high, there.max(axis=0))
        if (new_high - new_low > 16).all():
            low, high = new_low, new_high
    return float(low[0]), float(low[1]), float(high[0]), float(high[1])


def _size(window: tuple[float, float, float, float]) -> tuple[int, int]:
    wide, high = window[2] - window[0], window[3] - window[1]
    share = LONGEST / max(wide, high)
    return max(64, round(wide * share)), max(64, round(high * share))


def _shown(frame: Frame, window: tuple[float, float, float, float], size: tuple[int, int]) -> Image.Image:
    """A picture resampled into the window; nothing is sharpened, what lies outside is paper."""
    step = (window[2] - window[0]) / (size[0] - 1)
    out_to_a = np.array([[step, 0, window[0]], [0, step, window[1]], [0, 0, 1.0]])
    matrix = frame.matrix @ out_to_a
    image, shrink = Image.fromarray(eight_bits(frame.picture.rgb)), 1
    while frame.size * step / shrink > 1.6:
        shrink *= 2
    if shrink > 1:
        image = image.reduce(shrink)
        matrix = (
            np.array([[1 / shrink, 0, 0.5 / shrink - 0.5], [0, 1 / shrink, 0.5 / shrink - 0.5], [0, 0, 1]]) @ matrix
        )
    # The library counts from the corner of the first pixel, we from its centre.
    half = np.array([[1, 0, 0.5], [0, 1, 0.5], [0, 0, 1.0]])
    corner = half @ matrix @ np.linalg.inv(half)
    corner = corner / corner[2, 2]
    return image.transform(
        size,
        Image.Transform.PERSPECTIVE,
        tuple(corner.ravel()[:8]),
        Image.Resampling.BICUBIC,
        fillcolor=(236, 236, 232),
    )


def _marked(
    image: Image.Image, frame: Frame, told: Sequence[Story], window: tuple[float, float, float, float],
    size: tuple[int, int],
) -> None:  # fmt: skip
    """Pointers at both ends of each line, beside it and never over it, with its name and what became of it."""
    draw, font = ImageDraw.Draw(image), _font(17)
    share = (size[0] - 1) / (window[2] - window[0])
    for story in told:
        points = (story.track.points - [window[0], window[1]]) * share
        inside = ((points >= 4) & (points <= np.array(size) - 5)).all(axis=1)
        if inside.sum() < 2:
            continue
        points = points[inside]
        change = next((one for one in story.changes if one.picture == frame.name), None)
        words = f"{story.track.name}: {change.words[0]}" if change else story.track.name
        for end, other in ((points[0], points[-1]), (points[-1], points[0])):
            _pointer(draw, end, end - other)
        _label(draw, points[len(points) // 2], points[-1] - points[0], words, font, size)


def _pointer(draw: ImageDraw.ImageDraw, tip: Points, way: Points) -> None:
    """A small wedge that stands off the end of a line and points at it."""
    along = way / max(float(np.hypot(*way)), 1e-9)
    across = np.array([-along[1], along[0]])
    start = tip + 5 * along
    wedge = [start, start + 16 * along + 6 * across, start + 16 * along - 6 * across]
    draw.polygon([(float(x), float(y)) for x, y in wedge], fill=MARK, outline=INK)


def _label(
    draw: ImageDraw.ImageDraw, at: Points, way: Points, words: str, font: ImageFont.FreeTypeFont, size: tuple[int, int]
) -> None:
    across = np.array([-way[1], way[0]]) / max(float(np.hypot(*way)), 1e-9)
    across = across if across[1] < 0 else -across
    wide = draw.textlength(words, font=font)
    x, y = at + 30 * across - [wide / 2, 10]
    x, y = float(np.clip(x, 4, size[0] - wide - 4)), float(np.clip(y, 4, size[1] - 26))
    draw.rectangle((x - 4, y - 1, x + wide + 4, y + 22), fill=PAPER, outline=INK)
    draw.text((x, y), words, fill=INK, font=font)


def _titled(image: Image.Image, frame: Frame) -> Image.Image:
    panel = Image.new("RGB", (image.width, image.height + STRIP), PAPER)
    panel.paste(image, (0, STRIP))
    words = f"{frame.name}  {frame.state.words()}"
    ImageDraw.Draw(panel).text((4, 7), words, fill=INK, font=_font(18, bold=True))
    return panel


def _font(size: int, *, bold: bool = False) -> ImageFont.FreeTypeFont:
    name = "B612-Bold.otf" if bold else "B612-Regular.otf"
    return ImageFont.truetype(BytesIO((resources.files("etchbook.report") / "fonts" / name).read_bytes()), size)


def _saved(image: Image.Image, kind: str, **settings: int) -> bytes:
    held = BytesIO()
    image.save(held, kind, **settings)
    return held.getvalue()
