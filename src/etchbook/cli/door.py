"""The door: one sentence on stderr for what went wrong, and an exit code."""

import os
import sys
from collections.abc import Sequence


def main(words: Sequence[str] | None = None) -> None:
    """Run the command and leave with its exit code: 0 done, 2 refused with one sentence, 1 a fault of ours."""
    sys.exit(run(words))


def run(words: Sequence[str] | None = None) -> int:
    """Run the command and return its exit code."""
    from typer.main import get_command

    from etchbook.cli.commands import app

    try:
        answer = get_command(app).main(args=words, prog_name="etchbook", standalone_mode=False)
    except KeyboardInterrupt:
        print("stopped; nothing half-done was kept", file=sys.stderr)
        return 130
    except BrokenPipeError:  # the reader of our output went away, as `head` does
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 0
    except Exception as error:
        return _tell(error)
    return answer if isinstance(answer, int) else 0


def _tell(error: Exception) -> int:
    if os.environ.get("ETCHBOOK_DEBUG"):
        raise error
    usage = getattr(error, "format_message", None)
    if usage is not None:  # the command line itself was wrong
        print(f"etchbook: {' '.join(usage().split())}", file=sys.stderr)
        return 2
    if type(error).__name__ == "Abort":
        return 130
    from etchbook.wiring.errors import sentence

    text, code = sentence(error)
    print(f"etchbook: {text}", file=sys.stderr)
    return code
