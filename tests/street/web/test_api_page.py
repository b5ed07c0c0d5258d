"""The examples of docs/api.md do what the page says, in their order, on an empty book."""

import re
import shutil
import subprocess
from pathlib import Path

import pytest

from etchbook.wiring import shelf
from street.web.serving import serving

PAGE = Path(__file__).resolve().parents[3] / "docs" / "api.md"
BLOCKS = re.findall(r"```(sh|python)\n(.*?)```", PAGE.read_text(encoding="utf-8"), re.S)


@pytest.mark.skipif(shutil.which("curl") is None, reason="curl is not installed here")
def test_the_examples_of_the_page_run(tmp_path: Path) -> None:
    from PIL import Image

    from etchbook.simulate import draw_case, paint

    painted = {
        name: paint(
            draw_case("tee", seed, thickness_1=8.0, thickness_2=6.0),
            width=640,
            height=480,
            seed=seed,
            difficulty="plain",
        )
        for name, seed in (("weld.jpg", 5), ("weld2.jpg", 9))
    }
    for name, made in painted.items():
        Image.fromarray((made.picture.rgb >> 8).astype("uint8")).save(tmp_path / name, quality=95)
    section = painted["weld.jpg"]
    shelf.begin(tmp_path / "book", "Bay B").close()
    with serving(tmp_path / "book") as served:
        assert [kind for kind, _ in BLOCKS] == [
            *("sh", "sh", "sh", "python", "python", "sh", "sh", "python"),
            *("sh", "python", "python", "python", "sh", "python"),
        ]
        held: dict[str, object] = {"BENCH": served.address}
        for kind, text in BLOCKS[1:]:
            if kind == "python":
                exec(compile(text, "docs/api.md", "exec"), held)
                continue
            made = subprocess.run(["sh", "-ec", text], cwd=tmp_path, capture_output=True, text=True, check=False,
                                  env={"BENCH": served.address, "PATH": "/usr/bin:/bin"})  # fmt: skip
            assert made.returncode == 0, made.stderr + made.stdout
            if "/pictures" in text:
                _wait(served.address)
    leg = held["reading"]["dimensions"]["leg_1"]  # type: ignore[index]
    assert abs(leg["value"] - section.truth.dimensions["leg_1"]) < 4 * leg["u"]
    assert held["met"]["beside"].startswith("/reading/N1-01-A-1-P1-R1/beside/")  # type: ignore[index]
    told = held["told"]
    assert told["question"] == "convexity" and len(told["rows"]) > 5  # type: ignore[index]
    assert held["why"]["known"]["amps_differ"] == "yes"  # type: ignore[index]
    assert (tmp_path / "report.pdf").read_bytes().startswith(b"%PDF")


def _wait(address: str) -> None:
    import httpx

    from street.web.serving import wait_for

    with httpx.Client(base_url=address) as client:
        job = client.get("/api/jobs").json()["items"][0]["id"]
        told = wait_for(client, job)
    assert told["state"] == "done", told


def test_the_page_names_verbs_that_there_are() -> None:
    from etchbook.web.routers import ROUTERS

    known = {route.path for router in ROUTERS for route in router.routes}
    for path in re.findall(r"\$BENCH(/api/[^\s\"?]+)", PAGE.read_text(encoding="utf-8")):
        pattern = [re.sub(r"\{\w+\}", "[^/]+", one) for one in known]
        assert any(re.fullmatch(one, path) for one in pattern), path
