"""Followed pictures as pages."""

from collections.abc import Mapping, Sequence

from etchbook.evidence import Answer
from etchbook.report.follow_document import following_document
from etchbook.report.follow_frames import beside_png, flicker, panels
from etchbook.report.follow_page import following_page
from etchbook.usecases.answering import Said, said_as_toml
from etchbook.usecases.followed import Story
from etchbook.usecases.following import Following
from etchbook.wiring.press import json_bytes


def following_pages(following: Following, told: Sequence[Story], kinds: Mapping[str, str]) -> dict[str, bytes]:
    """Pages by kind: beside, flicker, html, json, answers.

    Parameters
    ----------
    kinds : ending of each page that is wanted, by kind
    """
    pages: dict[str, bytes] = {}
    drawn = panels(following, told) if {"beside", "flicker"} & set(kinds) else []
    if "beside" in kinds:
        pages["beside"] = beside_png(drawn)
    if "flicker" in kinds:
        pages["flicker"] = flicker(drawn, kinds["flicker"])
    if "html" in kinds:
        pages["html"] = following_page(following, told).encode()
    if "json" in kinds:
        pages["json"] = json_bytes(following_document(following, told))
    if "answers" in kinds:
        pages["answers"] = answers_toml(told).encode()
    return pages


def answers_toml(told: Sequence[Story], picture: str = "A") -> str:
    """What follows for the indications of one picture's reading, as a file for `etchbook line --answers`."""
    said = Said()
    for story in told:
        name = story.track.known_as.get(picture, "")
        for observation, state in story.answers.items():
            if name:
                said = said.with_answer(name, Answer(observation=observation, state=state, by="followed pictures"))
    return said_as_toml(said)
