"""The same verbs as JSON."""
