"""What keeps strangers out: which hosts are answered, which forms are ours, what a page may load."""

from etchbook.web.safety.forms import form_of, token_for
from etchbook.web.safety.gate import Gate

__all__ = ["Gate", "form_of", "token_for"]
