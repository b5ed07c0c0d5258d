"""A reading that a person corrected at the bench is taken along as a labelled example."""

import io
import json
import zipfile

import numpy as np
import pytest
from PIL import Image

from etchbook.simulate import PaintedSection


def pixels(data: bytes) -> np.ndarray:
    with Image.open(io.BytesIO(data)) as image:
        return np.asarray(image)


@pytest.fixture
def reading(bench, face: str, painted: tuple[PaintedSection, bytes]) -> str:
    section, photo = painted
    job = bench.client.post(f"/api/faces/{face}/pictures", files={"photo": ("w.png", photo)},
                            data={"px_per_mm": f"{section.truth.px_per_mm:.6f}"}).json()["id"]  # fmt: skip
    return bench.wait(job)["result"]


def test_only_a_corrected_reading_is_offered_and_holds_photo_regions_marks(
    bench, reading: str, painted: tuple[PaintedSection, bytes]
) -> None:
    section, photo = painted
    picture = reading.rpartition("-")[0]
    assert f"/examples/{reading}.zip" not in bench.get(f"/reading/{reading}").text
    refused = bench.get(f"/examples/{reading}.zip")
    assert refused.status_code == 422 and "corrected" in refused.text
    toe = [float(x) for x in section.truth.landmarks["toe_1"]]
    kept = bench.client.post(f"/api/reading/{reading}/save", json={"marks": {"toe_1": toe}, "edition": 1},
                             headers={"x-token": bench.token()})  # fmt: skip
    assert kept.status_code == 200, kept.text
    for page, code in ((f"/reading/{reading}", reading), (f"/reading/{reading}/picture", reading),
                       (f"/open/{picture}", picture)):  # fmt: skip
        assert f'href="/examples/{code}.zip"' in bench.get(page).text
    answer = bench.get(f"/examples/{picture}.zip")
    assert answer.headers["content-type"] == "application/zip"
    files = zipfile.ZipFile(io.BytesIO(answer.content))
    names = sorted(files.namelist())
    assert names == [f"{reading}/{one}" for one in ("marks.json", "photo.png", "reading.json", "regions.png")]
    told = json.loads(files.read(names[0]))["marks"]
    assert list(told) == ["toe_1"] and told["toe_1"] == pytest.approx(toe, abs=0.01)
    assert np.array_equal(pixels(files.read(names[1])), pixels(photo))
    regions, true = pixels(files.read(names[3])), section.labels
    shared = ((regions == 3) & (true == 3)).sum() / ((regions == 3) | (true == 3)).sum()
    assert regions.shape == true.shape and shared > 0.8  # its weld metal is the weld metal that was painted
