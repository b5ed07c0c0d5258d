"""A few named texts as TOML."""

from collections.abc import Mapping


def toml_text(held: Mapping[str, str]) -> str:
    """Names and texts as TOML; every text quoted so that any sign in it comes back."""
    return "".join(f"{name} = {_quoted(text)}\n" for name, text in held.items())


def _quoted(text: str) -> str:
    signs = {'"': '\\"', "\\": "\\\\"}
    return '"' + "".join(signs.get(c, c if c.isprintable() else f"\\u{ord(c):04x}") for c in text) + '"'
