"""What takes long is reckoned apart, and nobody else waits for it."""

import threading
from collections.abc import Callable
from typing import Any

import pytest

from etchbook.usecases import RefusedError
from etchbook.web import aside
from etchbook.wiring import apart
from street.web import storybook
from street.web.test_api_questions import SETTINGS

STORY = {name: str(value) if isinstance(value, str) else f"{value} mm" for name, value in SETTINGS.items()}
HERE = (
    "etchbook.usecases.reckoning.heat",
    "etchbook.usecases.reckoning.weld",
    "etchbook.wiring.ask_gas.parted.can_part",
    "etchbook.usecases.comparing.compare",
    "etchbook.wiring.comparison.compare",
)


@pytest.fixture
def idle_here(monkeypatch: pytest.MonkeyPatch) -> None:
    """A process that answers pages in which none of the long sums can be done; those apart are not touched by it."""

    def never(*_: Any, **__: Any) -> None:
        raise RuntimeError("a long sum was begun in the process that answers pages")

    for name in HERE:
        monkeypatch.setattr(name, never)


ASKED: dict[str, Callable[[Any], Any]] = {
    "heat": lambda bench: bench.client.post("/api/heat", json=SETTINGS),
    "weld": lambda bench: bench.client.post("/api/weld", json=SETTINGS),
    "split": lambda bench: bench.client.post("/api/gas/split", json={"co2": 25.0, "coldest": -45.0}),
    "compare": lambda bench: bench.client.post("/api/compare", json={"a": ["N2-01"], "b": ["N2-03"]}),
    "next check": lambda bench: bench.client.post("/api/next-check", json={"usual": ["N2-01"], "odd": ["N2-03"]}),
    "page of heat": lambda bench: bench.get("/heat", params={**STORY, "beads": "1"}),
    "page of settings": lambda bench: bench.get("/weld", params=STORY),
    "page of gas": lambda bench: bench.get("/gas/split", params={"second": "co2", "share": "25", "coldest": "-45 °C",
                                                                 "filled": "150 bar", "filled_at": "15 °C"}),
    "page compared": lambda bench: bench.get("/compare/seen?a=N2-01&b=N2-03&name_a=x&name_b=y"),
    "page of causes": lambda bench: bench.get("/next-check/ask?usual=N2-01&odd=N2-03"),
}  # fmt: skip


@pytest.mark.parametrize("name", ASKED)
def test_no_long_sum_is_done_where_pages_are_answered(bench, idle_here: None, name: str) -> None:
    storybook.fill(bench.folder)
    assert ASKED[name](bench).status_code == 200


@pytest.fixture
def held_back(monkeypatch: pytest.MonkeyPatch) -> tuple[threading.Semaphore, threading.Event]:
    """The lane of long sums, each of which says that it was begun and then waits until it is let go."""
    begun, go = threading.Semaphore(0), threading.Event()

    def ask(self: Any, call: Any, *args: Any) -> Any:
        begun.release()
        assert go.wait(60)
        raise RefusedError("let go")

    monkeypatch.setattr(apart.Lane, "ask", ask)
    return begun, go


def test_others_are_answered_while_sums_are_reckoned_and_one_too_many_is_told_so(
    bench, held_back: tuple[threading.Semaphore, threading.Event]
) -> None:
    begun, go = held_back
    told: list[int] = []
    waiting = [threading.Thread(target=lambda: told.append(ASKED["heat"](bench).status_code))
               for _ in range(aside.MOST_WAITING)]  # fmt: skip
    try:
        for one in waiting:
            one.start()
        for _ in waiting:
            assert begun.acquire(timeout=60)
        assert bench.get("/api/things").status_code == 200 and bench.get("/").status_code == 200
        busy = ASKED["heat"](bench)
        assert busy.status_code == 422 and "ask again in a moment" in busy.json()["error"]
        assert told == []
    finally:
        go.set()
        for one in waiting:
            one.join()
    assert told == [422] * aside.MOST_WAITING
    assert "let go" in ASKED["heat"](bench).json()["error"]
