"""Reads the package's own data files, and nothing else."""

import tomllib
from functools import cache
from importlib.resources import files
from typing import Any


@cache
def packaged(name: str) -> dict[str, Any]:
    """A data file of this package, as TOML tables; callers must not change it."""
    return tomllib.loads(files("etchbook.tables").joinpath("data", f"{name}.toml").read_text(encoding="utf-8"))
