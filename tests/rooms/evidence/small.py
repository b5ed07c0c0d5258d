"""A table small enough to be weighed by hand."""

from etchbook.evidence import Answer, Case, Table, table_from


def small_table(**changes: object) -> Table:
    """Three causes, two observations of one group and one of another."""
    held = {
        "id": "small",
        "title": "a small table",
        "codes": {"++": 8.0, "+": 3.0, "0": 1.0, "-": 1 / 3, "--": 0.1},
        "cause": [
            {"id": "a", "label": "A", "remedy": "mend"},
            {"id": "b", "label": "B", "remedy": "mend"},
            {"id": "c", "label": "C"},
        ],
        "group": [{"id": "g", "label": "one thing"}, {"id": "h", "label": "another"}],
        "observation": [
            {
                "id": "first",
                "label": "f",
                "group": "g",
                "question": "f?",
                "state": [{"id": "seen", "ratios": "++ - 0"}],
            },
            {"id": "second", "label": "s", "group": "g", "state": [{"id": "seen", "ratios": "+ 0 --"}]},
            {"id": "third", "label": "t", "group": "h", "no": True, "state": [{"id": "yes", "ratios": "++ 0 0"}]},
        ],
        "gate": [
            {"id": "here", "label": "here", "priors": {"a": 0.25, "b": 0.25, "c": 0.5}},
            {"id": "there", "label": "there", "priors": {"b": 0.5, "c": 0.5}},
        ],
        "context": [{"observation": "second", "state": "seen", "label": "x", "gates": ["there"], "times": {"b": 3.0}}],
        "cap": [{"cause": "a", "word": "possible", "until": {"third": ["yes", "no"]}, "reason": "look at the third"}],
        "test": [
            {"id": "look", "label": "look", "answers": ["third"], "minutes": 10},
            {"id": "cut", "label": "cut", "answers": ["third"], "minutes": 1, "destroys": True},
        ],
    }
    return table_from(held | changes)


def case(gate: str, *answers: tuple[str, str], **changes: object) -> Case:
    """A case with answers as pairs of observation and state."""
    return Case(gate=gate, answers=tuple(Answer(observation=o, state=s) for o, s in answers), **changes)
