"""The command ``serve``."""

from typing import TYPE_CHECKING

import typer

from etchbook.cli.said import BOOK

if TYPE_CHECKING:
    import socket


def serve(
    book: str | None = BOOK,
    port: int = typer.Option(8710, metavar="NUMBER", help="Of the page on this machine; 0 takes a free one."),
    open_: bool = typer.Option(True, "--open/--no-open", help="Open the page in the browser."),
) -> None:
    """Open the bench: the book as pages in the browser of this machine, and of no other."""
    import uvicorn

    from etchbook.web import create_app
    from etchbook.wiring import shelf

    app = create_app(shelf.folder_meant(book))
    server = uvicorn.Server(uvicorn.Config(app, log_level="warning", server_header=False, timeout_graceful_shutdown=3))
    held = listening(port)
    address = f"http://127.0.0.1:{held.getsockname()[1]}/"
    print(f"the bench is at {address} (stop it with Ctrl C)", flush=True)
    if open_:
        import threading
        import webbrowser

        threading.Timer(0.8, webbrowser.open, (address,)).start()
    server.run(sockets=[held])


def listening(port: int) -> "socket.socket":
    """A socket on the loopback alone, or a refusal where the port is taken."""
    import socket

    from etchbook.usecases import RefusedError

    if not 0 <= port <= 65535:
        raise RefusedError(f"a port is a number from 0 to 65535, not {port}")
    held = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    held.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        held.bind(("127.0.0.1", port))
    except OSError:
        held.close()
        raise RefusedError(f"port {port} is in use: is the bench open already? else say another with --port") from None
    return held
