"""What the picture's page is told: boundaries with their unclear stretches, doubts with the place to look at."""

import json

import numpy as np
import pytest

from etchbook.joint import Joint
from etchbook.picture import NoScale
from etchbook.quantity import Absent
from etchbook.section import Outline, Reading
from etchbook.section.again import Again
from etchbook.section.doubting import unclear
from etchbook.section.edges import Trace
from etchbook.section.records import Boundary, Doubt, Landmark, PictureFacts, Regions
from etchbook.wiring.benchlines import MOST_POINTS, doubts_told, outline_told
from etchbook.wiring.benchpicture import told_marks
from etchbook.wiring.moving import bare, page_of


def boundary(name: str, *ends: tuple[float, float], count: int = 400) -> Boundary:
    points = np.linspace(*ends, count)
    return Boundary(name=name, points=points, sd=np.ones(count), confidence=0.3, doubt="faint")


def again(*doubts: str) -> Again:
    lines = (boundary("haz_edge_1", (10, 20), (110, 60)), boundary("fusion_line_1", (0, 0), (50, 90)),
             boundary("fusion_line_2", (50, 90), (200, 30)), boundary("weld_face", (0, 0), (200, -10)))  # fmt: skip
    toe = Landmark(point=np.array([7.0, 8.0]), covariance=np.eye(2))
    outline = Outline(boundaries={one.name: one for one in lines}, landmarks={"toe_1": toe}, lines={})
    told = tuple(Doubt(part=part, reason="it is faint", remedy="look there") for part in doubts)
    return Again(outline=outline, dimensions={"leg_1": Absent(reason="none")}, scale=NoScale(reason="none was given"),
                 doubts=told, unclear={"haz_edge_1": ((100, 200),)})  # fmt: skip


@pytest.mark.parametrize(
    ("part", "box"),
    [
        ("HAZ edge in member 1", [10, 20, 110, 60]),
        ("fusion line", [0, 0, 200, 90]),
        ("weld face", [0, -10, 200, 0]),
        ("weld metal", [0, -10, 200, 90]),
        ("plate surface of member 1", [7, 8, 7, 8]),
        ("marks", []),
    ],
)
def test_a_doubt_says_where_to_look(part: str, box: list[float]) -> None:
    assert doubts_told(again(part))[0]["box"] == box


def test_an_unclear_stretch_lies_on_its_boundary_and_no_line_is_longer_than_can_be_seen() -> None:
    told = {one["name"]: one for one in outline_told(again())["boundaries"]}
    line, (part,) = told["haz_edge_1"]["points"], told["haz_edge_1"]["unclear"]
    assert len(line) <= MOST_POINTS and line[0] == [10, 20] and line[-1] == [110, 60]
    assert part[0] == pytest.approx([35.1, 30.0], abs=0.1) and part[-1] == pytest.approx([59.9, 39.9], abs=0.1)
    assert told["weld_face"]["unclear"] == []


def test_a_stretch_is_unclear_where_most_of_it_does_not_stand_out() -> None:
    clarity = np.full(320, 9.0)
    clarity[100:180] = 1.0
    clarity[[30, 250, 252]] = 0.5  # single faint places are grain
    trace = Trace(points=np.zeros((320, 2)), sd=np.ones(320), clarity=clarity, blur=1.0)
    ((start, stop),) = unclear(trace)
    assert start == pytest.approx(100, abs=2) and stop == pytest.approx(180, abs=2)


def test_the_page_is_whole_json_and_marks_come_back_as_they_went() -> None:
    from etchbook.wiring.benchpicture import marks_in

    facts = PictureFacts(sha256="0" * 64, name="a", width=300, height=200)
    labels = Regions(labels=np.zeros((40, 50), np.uint8), factor=4.0)
    reading = Reading(joint=Joint(family="tee"), scale=NoScale(reason="none"), picture=facts, regions=labels,
                      outline=again().outline, dimensions={"leg_1": Absent(reason="another reason")})  # fmt: skip
    light = bare(reading)
    assert light.regions.labels.size == 1 and not light.outline.boundaries and light.dimensions == reading.dimensions
    told = json.loads(page_of(again("fusion line"), light))
    assert told["rows"][0]["was"] == "not read: another reason" and told["scale"].startswith("no scale")
    marks = {"toe_1": [10.0, 20.0], "fusion_line_1": {"follow": False, "points": [[30.0, 40.0], [35.0, 60.0]]}}
    assert told_marks(marks_in(marks, reading)) == marks
