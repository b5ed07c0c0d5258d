"""How the bench stands in the network of the shop: under which address, and with which code a phone is let in."""

from collections.abc import Callable
from dataclasses import dataclass, field

from etchbook.web.safety.pairing import Pairing


@dataclass(frozen=True, kw_only=True, slots=True)
class Lan:
    """The bench in the network.

    Parameters
    ----------
    address : of this machine, under which others call it
    port : of the bench there
    told : is called with a sentence when a device was let in
    """

    address: str
    port: int
    pairing: Pairing = field(default_factory=Pairing)
    told: Callable[[str], None] = lambda _: None

    @property
    def page(self) -> str:
        """Where a phone is let in."""
        return f"http://{self.address}:{self.port}/pair"

    def link(self) -> str:
        """What the code to scan says: the page with the code filled in; "" when no code is good."""
        code = self.pairing.code
        return f"{self.page}?code={code}" if code else ""
