"""What the figures were made on, without names of machines, people or folders."""

import os
import platform
import subprocess
from datetime import date
from importlib.metadata import version
from pathlib import Path

import numpy
import onnxruntime
import scipy

import etchbook


def description() -> str:
    """One sentence."""
    return (
        f"{len(_cores())} cores of {_processor()}, {platform.system()}, Python {platform.python_version()}, "
        f"numpy {numpy.__version__}, scipy {scipy.__version__}, scikit-image {version('scikit-image')}, "
        f"onnxruntime {onnxruntime.__version__}; etchbook {etchbook.__version__}{_commit()}, "
        f"{date.today().isoformat()}, load {os.getloadavg()[0]:.1f} before it began"
    )


def _cores() -> set[int]:
    return set(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else set(range(os.cpu_count() or 1))


def _processor() -> str:
    try:
        lines = Path("/proc/cpuinfo").read_text(encoding="utf-8").splitlines()
    except OSError:
        return platform.processor() or platform.machine()
    names = [line.split(":", 1)[1].strip() for line in lines if line.startswith("model name")]
    return names[0] if names else platform.machine()


def _commit() -> str:
    """The state of the source, where it is a git checkout."""
    try:
        here = ["git", "-C", str(Path(__file__).resolve().parent.parent)]
        short = subprocess.run([*here, "rev-parse", "--short", "HEAD"], capture_output=True, text=True, check=True)
        changed = subprocess.run(
            [*here, "status", "--porcelain", "-uno", "src"], capture_output=True, text=True, check=True
        )
    except (OSError, subprocess.CalledProcessError):
        return ""
    return f" at {short.stdout.strip()}{' with changes' if changed.stdout.strip() else ''}"
