"""Reads the package's own data files, and nothing else."""

import tomllib
from functools import cache
from importlib.resources import files
from typing import Any


@cache
def packaged(name: str) -> dict[str, Any]:
    """A data file of this package, as TOML tables; callers must not change it."""
    return tomllib.loads(packaged_text(name))


def packaged_text(name: str) -> str:
    """The same file as it is written, its comments with it, for people who want to change a copy."""
    return files("etchbook.tables").joinpath("data", f"{name}.toml").read_text(encoding="utf-8")


@cache
def packaged_names(start: str) -> tuple[str, ...]:
    """Names of the data files that begin like this, sorted."""
    names = (entry.name for entry in files("etchbook.tables").joinpath("data").iterdir())
    return tuple(sorted(name[: -len(".toml")] for name in names if name.startswith(start) and name.endswith(".toml")))
