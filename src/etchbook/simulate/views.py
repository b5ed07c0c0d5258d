"""Taking pictures of one painted face: its state, the light, the view and the camera."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageDraw
from scipy.ndimage import gaussian_filter

from etchbook.picture import Picture
from etchbook.simulate import camera, scene
from etchbook.simulate.faces import WORD, Array, Face, FaceLine, strip_cover
from etchbook.simulate.looks import draw_look
from etchbook.simulate.textures import noise

Matrix = NDArray[np.float64]
FINISHES = {"120": (260, 0.3), "240": (200, 0.22), "600": (120, 0.14), "1200": (60, 0.08), "polished": (12, 0.04)}
"""How many scratches a finish leaves on a face of 4 MP, and how strong they are."""


@dataclass(frozen=True, kw_only=True, slots=True)
class FaceState:
    """How a face was prepared and lit for one picture.

    Parameters
    ----------
    finish : one of FINISHES
    etched : whether the etch was on
    light : where the light comes from [°], None for light from all round
    inverted : etched under dark field: what was dark is bright
    scratched : number of the preparation; the same number leaves the same scratches
    """

    finish: str = "1200"
    etched: bool = True
    light: float | None = None
    inverted: bool = False
    scratched: int = 0


@dataclass(frozen=True, kw_only=True, slots=True)
class View:
    """Where the face's pixels land: `matrix` (3, 3) takes face px to picture px of a frame `width` x `height`."""

    matrix: Matrix
    width: int
    height: int

    @property
    def scale(self) -> float:
        """Picture pixels per pixel of the face at the middle of the frame."""
        back = np.asarray(np.linalg.inv(self.matrix))
        middle = np.array([self.width / 2, self.height / 2])
        step = moved(back, middle + np.array([[0, 0], [1, 0], [0, 1.0]]))
        area = abs(float(np.linalg.det(step[1:] - step[0])))
        return 1 / float(np.sqrt(area))


def moved(matrix: Matrix, points: Matrix) -> Matrix:
    """(n, 2) points through a plane projective matrix (3, 3)."""
    out = np.concatenate([np.atleast_2d(points), np.ones((len(np.atleast_2d(points)), 1))], axis=1) @ matrix.T
    return np.asarray(out[:, :2] / out[:, 2:])


def take_picture(face: Face, state: FaceState, view: View, *, seed: int, level: float = 0.3, name: str = "") -> Picture:
    """One picture of a face; the same arguments give the same bytes.

    Parameters
    ----------
    seed : of the bench, the camera and its noise
    level : 0 for a clean photo, 1 for one with every fault
    """
    rng = np.random.default_rng([face.seed, WORD, 17, seed])
    surface = _surface(face, state)
    light = np.stack([_warped(surface[..., k], view) for k in range(3)], axis=2)
    metal, gap = _warped(face.metal, view), _warped(face.gap, view)
    light *= _exposure(light, metal)
    for line in face.lines:
        light *= 1 - _line(line, state, view)[..., None]
    if view.scale > 1.5:
        # What only the closer picture resolves: grain that the face's own pixels do not hold.
        fine = noise(rng, metal.shape, float(rng.uniform(1.5, 1 + view.scale)))
        light *= (1 + np.float32(rng.uniform(0.01, 0.05)) * fine)[..., None]
    air = scene.surroundings(rng, draw_look(rng, "moderate"), metal.shape)
    light = light + air * (np.clip(1 - metal, 0, 1) * np.clip(1 - 0.9 * gap, 0, 1))[..., None]
    return _photographed(rng, np.asarray(np.clip(light, 0, 1.2), np.float32), level, name)


def _exposure(light: Array, metal: Array) -> np.float32:
    """The photographer sees to it that the metal is neither black nor burnt out."""
    seen = light.mean(axis=2)[metal > 0.9][::5]
    lighter = float(np.quantile(seen, 0.9)) if len(seen) else 0.6
    return np.float32(np.clip(0.65 / max(lighter, 1e-3), 0.6, 5.0))


def _surface(face: Face, state: FaceState) -> Array:
    """Light of the metal in the face's own pixels, in this state and light."""
    light = face.etched if state.etched else face.polished[..., None] * face.tint
    if state.etched and state.light is not None:
        light = _leaning(face, light, np.radians(state.light))
    if state.inverted:
        inner = face.metal > 0.5
        middle = np.median(light[inner][::7], axis=0)
        light = np.clip(1.05 * middle - 0.8 * (light - middle), 0.02, 1.2) * face.metal[..., None]
    return np.asarray(light * (1 + _scratches(face, state))[..., None], np.float32)


def _leaning(face: Face, light: Array, azimuth: float) -> Array:
    """Grains brighten and darken as they lean towards or away from the light; edges in relief throw a shade."""
    reach = 0.4 * face.px_per_mm
    weight = gaussian_filter(face.metal, reach) + np.float32(1e-3)
    broad = np.stack([gaussian_filter(light[..., k], reach) for k in range(3)], axis=2) / weight[..., None]
    broad *= face.metal[..., None]
    flash = np.float32(0.5) + np.float32(0.8) * np.cos(np.float32(azimuth) - face.facet)
    relief = gaussian_filter(light.mean(axis=2), 1.5)
    slope = np.gradient(relief)
    shade = np.float32(1.5) * (np.float32(np.cos(azimuth)) * slope[1] - np.float32(np.sin(azimuth)) * slope[0])
    shade *= gaussian_filter(face.metal, 2.0) > 0.98
    return np.asarray(np.clip(broad + flash[..., None] * (light - broad) + shade[..., None], 0, 1.2), np.float32)


def _scratches(face: Face, state: FaceState) -> Array:
    """Scratches of this preparation; light along a scratch does not show it."""
    rng = np.random.default_rng([face.seed, WORD, 19, state.scratched, *state.finish.encode()])
    count, strength = FINISHES[state.finish]
    height, width = face.metal.shape
    shrink = max(1.0, float(np.sqrt(width * height / 4e6)))
    size = (int(width / shrink), int(height / shrink))
    image = Image.new("L", size, 128)
    draw = ImageDraw.Draw(image)
    for _ in range(int(rng.integers(1, 3))):
        way = rng.uniform(0, np.pi)
        for _ in range(count):
            angle, length = way + rng.normal(0, 0.03), rng.uniform(0.1, 1.0) * max(size)
            x, y, tone = rng.uniform(0, size[0]), rng.uniform(0, size[1]), rng.choice([-1, 1]) * rng.uniform(20, 120)
            seen = 1.0 if state.light is None else abs(float(np.sin(angle + np.radians(state.light))))
            dx, dy = np.cos(angle) * length / 2, np.sin(angle) * length / 2
            draw.line((x - dx, y - dy, x + dx, y + dy), fill=int(128 + seen * tone), width=1)
    field = np.asarray(image.resize((width, height)), np.float32) / 128 - 1
    return np.asarray(np.float32(2 * strength) * gaussian_filter(field, 0.6) * face.metal, np.float32)


def true_width(line: FaceLine, state: FaceState, view: View) -> float:
    """Width of a line in a picture [px]: the etch opens an opening, coarse grinding smears it shut a little."""
    opened = 1.35 if state.etched and line.real else 1.0
    return line.width * view.scale * opened * (0.8 if line.real and state.finish in ("120", "240") else 1.0)


def shows(line: FaceLine, state: FaceState) -> bool:
    """Whether a line is there to be seen in this state."""
    return line.real or state.etched


def _line(line: FaceLine, state: FaceState, view: View) -> Array:
    if not shows(line, state):
        return np.zeros((view.height, view.width), np.float32)
    strip = strip_cover(moved(view.matrix, line.points), true_width(line, state, view), view.width, view.height)
    return np.asarray(line.contrast * strip, np.float32)


def _warped(field: Array, view: View) -> Array:
    """A layer of the face in the view, brought down without aliasing; nothing beyond the face's frame."""
    scale = view.scale
    if scale < 1:
        field = gaussian_filter(field, 0.5 * np.sqrt(1 / scale**2 - 1))
    half = np.array([[1, 0, 0.5], [0, 1, 0.5], [0, 0, 1.0]])
    # The library counts from the corner of the first pixel, we from its centre.
    back = half @ np.linalg.inv(view.matrix) @ np.linalg.inv(half)
    back = back / back[2, 2]
    image = Image.fromarray(field).transform(
        (view.width, view.height), Image.Transform.PERSPECTIVE, tuple(back.ravel()[:8]), Image.Resampling.BICUBIC
    )
    return np.asarray(image, np.float32)


def _photographed(rng: np.random.Generator, light: Array, level: float, name: str) -> Picture:
    longest = max(light.shape[:2])
    sigma = float(rng.uniform(0.4, 0.7 + 0.5 * level) * max(1.0, (longest / 1600) ** 0.5))
    pixels = camera.sensed(rng, camera.blurred(rng, camera.lit(rng, light, level), min(sigma, 3.0), 0.0), level)
    pixels = camera.compressed(pixels, int(rng.uniform(80, 97)))
    rgb = pixels.astype(np.uint16) * np.uint16(257)
    return Picture(rgb=rgb, name=name, notes=("simulated picture",))
