"""The welding arithmetic: one formula, one function, with its edition and range."""
