"""Anything may be sent to the JSON verbs: each answers as it describes itself, and none with a fault of ours."""

import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import httpx
import pytest
from hypothesis import HealthCheck, Phase, given, settings

from etchbook.wiring import shelf
from street.web.serving import Served, make_face, serving

schemathesis = pytest.importorskip("schemathesis")
checks = pytest.importorskip("schemathesis.checks")
conformance = pytest.importorskip("schemathesis.specs.openapi.checks")

EXAMPLES = 6
MOST_S = 55
LEAST = 11
QUESTIONS = {"trials", "plans", "gas", "procedure", "limits"}
"""Tags of the verbs that answer questions, and of limits."""
QUIET = list(HealthCheck)
HELD = (
    checks.not_a_server_error,
    conformance.status_code_conformance,
    conformance.content_type_conformance,
    conformance.response_schema_conformance,
)


@pytest.fixture
def served(tmp_path: Path) -> Iterator[Served]:
    """A bench with a face, whose codes stand in the examples of the description."""
    shelf.begin(tmp_path / "book", "Bay B").close()
    with serving(tmp_path / "book") as made:
        with httpx.Client(base_url=made.address, follow_redirects=True, timeout=60) as client:
            make_face(client)
        yield made


def tried(verb: Any) -> list[str]:
    """What was wrong with the answers of one verb to anything that fits its description, and to what does not."""
    wrong: list[str] = []

    @settings(max_examples=EXAMPLES, deadline=None, phases=[Phase.explicit, Phase.generate], database=None,
              suppress_health_check=QUIET)  # fmt: skip
    @given(case=verb.as_strategy())
    def send(case: Any) -> None:
        if case.method == "DELETE" or not wrong:
            answer = case.call(timeout=60)
            try:
                case.validate_response(answer, checks=list(HELD))
            except BaseExceptionGroup as group:
                wrong.append(f"{case.method} {case.formatted_path}: {group.exceptions}")

    send()
    return wrong


@pytest.mark.parametrize("questions", [False, True], ids=["things", "questions"])
def test_no_verb_fails_whatever_is_sent_and_each_answers_as_it_says(served: Served, questions: bool) -> None:
    schema = schemathesis.openapi.from_url(f"{served.address}/api/openapi.json")
    begun, seen, wrong = time.monotonic(), 0, []
    for found in schema.get_all_operations():
        if bool(QUESTIONS & set(found.ok().tags)) != questions:
            continue
        if seen < LEAST or time.monotonic() - begun < MOST_S:  # on a slow machine fewer verbs are tried
            wrong += tried(found.ok())
            seen += 1
    assert wrong == []
    assert seen >= LEAST
