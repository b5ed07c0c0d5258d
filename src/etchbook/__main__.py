"""``python -m etchbook`` is the command ``etchbook``."""

from etchbook.cli import main

main()
