"""A person at the keyboard: words in, what was printed and the exit code out."""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from etchbook.cli.door import run


@dataclass(frozen=True)
class Answer:
    """What a command gave."""

    code: int
    out: str
    err: str


Ask = Callable[..., Answer]


@pytest.fixture
def ask(capsys: pytest.CaptureFixture[str]) -> Ask:
    """Run the command in this process."""

    def asked(*words: object) -> Answer:
        code = run([str(word) for word in words])
        seen = capsys.readouterr()
        return Answer(code, seen.out, seen.err)

    return asked


@pytest.fixture(scope="session")
def painted(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with one small painted tee: tee_00005.png and its truth."""
    folder = tmp_path_factory.mktemp("painted")
    words = ("paint", "--joint", "tee", "--seed", "5", "--size", "640x480", "--difficulty", "plain", "--out")
    assert run([*words, str(folder)]) == 0
    return folder


@pytest.fixture(scope="session")
def noise(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A picture with no weld in it."""
    path = tmp_path_factory.mktemp("noise") / "bench.png"
    grey = np.random.default_rng(1).normal(128, 12, (240, 320)).clip(0, 255).astype(np.uint8)
    Image.fromarray(grey).save(path)
    return path
