"""The hall: the one place that knows which files, reports and verbs belong together."""
