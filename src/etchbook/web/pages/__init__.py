"""One router for each group of pages."""
