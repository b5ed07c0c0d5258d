"""The command ``serve``."""

from typing import TYPE_CHECKING

import typer

from etchbook.cli.said import BOOK

if TYPE_CHECKING:
    import socket

    from etchbook.web.lan import Lan

NOWHERE = ("192.0.2.1", 9)
"""An address that belongs to nobody; nothing is sent there, the system only says which way it would go."""


def serve(
    book: str | None = BOOK,
    port: int = typer.Option(8710, metavar="NUMBER", help="Of the page on this machine; 0 takes a free one."),
    lan: bool = typer.Option(False, "--lan", help="Let phones in the shop's network in, each with a code."),
    lan_address: str = typer.Option("", metavar="ADDRESS", help="Of this machine there, where it has several."),
    open_: bool = typer.Option(True, "--open/--no-open", help="Open the page in the browser."),
) -> None:
    """Open the bench: the book as pages in the browser of this machine, and of phones that are let in with --lan."""
    from etchbook.web import create_app
    from etchbook.wiring import shelf

    folder = shelf.folder_meant(book)
    held = [listening(port)]
    number = held[0].getsockname()[1]
    network = None
    if lan or lan_address:
        address = private(lan_address) if lan_address else found_address()
        held.append(listening(number, address))
        network = _network(address, number)
    app = create_app(folder, lan=network)
    address = f"http://127.0.0.1:{number}/"
    print(f"the bench is at {address} (stop it with Ctrl C)", flush=True)
    if network:
        _invite(network, address)
    if open_:
        import threading
        import webbrowser

        threading.Timer(0.8, webbrowser.open, (address,)).start()
    _run(app, held)


def _run(app: object, held: "list[socket.socket]") -> None:
    import uvicorn

    # Whoever asks is known by his own address alone, whatever he says of others that he asks for.
    told = uvicorn.Config(app, log_level="warning", server_header=False, proxy_headers=False,  # type: ignore[arg-type]
                          timeout_graceful_shutdown=3)  # fmt: skip
    uvicorn.Server(told).run(sockets=held)


def _network(address: str, port: int) -> "Lan":
    from etchbook.web.lan import Lan

    return Lan(address=address, port=port, told=lambda words: print(words, flush=True))


def _invite(lan: "Lan", home: str) -> None:
    from etchbook.wiring.squares import square_text

    print(square_text(lan.link()), end="")
    print(f"a phone in this network is let in when it scans this, or opens {lan.page} and types {lan.pairing.code}")
    print(f"the code is good once, for {lan.pairing.minutes} minutes; {home}devices shows the next and who is let in",
          flush=True)  # fmt: skip


def listening(port: int, address: str = "127.0.0.1") -> "socket.socket":
    """A socket on that address alone, or a refusal where the port is taken."""
    import socket

    from etchbook.usecases import RefusedError

    if not 0 <= port <= 65535:
        raise RefusedError(f"a port is a number from 0 to 65535, not {port}")
    # Only of a socket that names its protocol does the server switch off the waiting for more to send, which
    # costs 40 ms an answer.
    held = socket.socket(socket.AF_INET, socket.SOCK_STREAM, socket.IPPROTO_TCP)
    held.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        held.bind((address, port))
        held.listen(128)  # a browser that is quick waits for the page instead of being turned away
    except OSError as error:
        held.close()
        if error.strerror and "assign" in error.strerror:
            raise RefusedError(f"{address} is no address of this machine: say another, or none") from None
        raise RefusedError(f"port {port} is in use: is the bench open already? else say another with --port") from None
    return held


def private(typed: str) -> str:
    """An address of a shop's own network; the bench is not opened to the whole internet."""
    import ipaddress

    from etchbook.usecases import RefusedError

    try:
        address = ipaddress.IPv4Address(typed)
    except ValueError:
        raise RefusedError(f'"{typed}" is no address; one looks like 192.168.1.20') from None
    if not address.is_private or address.is_unspecified or address.is_multicast:
        raise RefusedError(f"{typed} is no address of a private network: the bench is not for the whole internet")
    return str(address)


def found_address() -> str:
    """The address under which this machine is known in its network."""
    import socket

    from etchbook.usecases import RefusedError

    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as asked:
        try:
            asked.connect(NOWHERE)
            found = str(asked.getsockname()[0])
        except OSError:
            raise RefusedError(
                "this machine is in no network: connect it, or say its address with --lan-address"
            ) from None
    if found.startswith("127."):
        raise RefusedError("this machine is in no network: connect it, or say its address with --lan-address")
    return private(found)
