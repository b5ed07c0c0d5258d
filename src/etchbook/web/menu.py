"""The ways through the bench that stand at the head of every page."""

MENU: tuple[tuple[str, str], ...] = (
    ("/", "Trials"),
    ("/places", "Pieces"),
    ("/compare", "Compare"),
    ("/next-check", "Why different?"),
    ("/plan", "Plan"),
    ("/weld", "Settings"),
    ("/gas", "Gas"),
    ("/limits", "Limits"),
    ("/certificates", "Certificates"),
    ("/history", "History"),
    ("/bin", "Bin"),
)
"""Address and word, in the order in which they are shown."""


def is_here(address: str, path: str) -> bool:
    """Whether a page belongs to that way."""
    if address == "/":
        return path == "/" or path.startswith(("/trial/", "/bead/"))
    if address == "/weld" and path.startswith(("/heat", "/reckon")):
        return True
    return path == address or path.startswith(f"{address}/")
