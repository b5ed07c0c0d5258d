"""Time and memory for one large photograph, cold through the command and warm through the library."""

import json
import subprocess
import sys
import tempfile
from pathlib import Path
from typing import Any

from benchmarks.work import shared_out

SIZES = {"12 MP": (4000, 3000, 110.0), "48 MP": (8000, 6000, 220.0)}
TARGETS = {"12 MP": (1.5, 600.0), "48 MP": (4.0, 1500.0)}
COLD = 3
PROBE = "benchmarks.probe"


def run_speed(first_seed: int) -> dict[str, Any]:
    """Paint a tee at each size, keep it as JPEG and read it."""
    found = {}
    with tempfile.TemporaryDirectory() as folder:
        for name, (width, height, scale) in SIZES.items():
            print(f"speed: {name}", file=sys.stderr, flush=True)
            photo = Path(folder) / f"tee_{width}.jpg"
            # Painting needs far more memory than reading, and a process hands its peak on to those it starts:
            # so the painter works, and ends, in a process of its own.
            painting = [(str(photo), first_seed, width, height, scale)]
            list(shared_out(keep_painted, painting, name="speed", minutes=None))
            found[name] = {"file_mb": photo.stat().st_size / 1e6, **_measured(photo, scale, Path(folder))}
    return found


def keep_painted(wish: tuple[str, int, int, int, float]) -> None:
    """Paint a tee and keep it as JPEG: path, seed, width, height, scale [px/mm]."""
    from PIL import Image

    from etchbook.simulate import draw_case, paint

    photo, seed, width, height, scale = wish
    case = draw_case("tee", seed, leg_1=7.0, leg_2=6.5, thickness_1=9.0, thickness_2=8.0)
    section = paint(case, width=width, height=height, seed=seed, difficulty="moderate", px_per_mm=scale)
    Image.fromarray((section.picture.rgb >> 8).astype("uint8")).save(photo, quality=92)


def _measured(photo: Path, scale: float, folder: Path) -> dict[str, Any]:
    words = [sys.executable, "-m", "etchbook", "read", str(photo), "--joint", "tee", "--scale", str(scale)]
    json_out, pdf_out = str(folder / "out.json"), str(folder / "out.pdf")
    cold = [_probed("command", *words, "--json", json_out) for _ in range(COLD)]
    report = _probed("command", *words, "--json", json_out, "--pdf", pdf_out, "--against", "iso-5817:B")
    warm = _probed("library", str(photo), str(scale))
    return {"cold": min(cold, key=lambda one: one["seconds"]), "report": report, "warm": warm}


def _probed(*words: str) -> dict[str, Any]:
    """What the probe says, run in a process of its own so that its peak memory is only what it asked for."""
    answer = subprocess.run([sys.executable, "-m", PROBE, *words], capture_output=True, text=True, check=False)
    if answer.returncode != 0:
        raise RuntimeError(f"the probe stopped: {answer.stderr.strip()[-500:]}")
    found: dict[str, Any] = json.loads(answer.stdout.splitlines()[-1])
    return found
