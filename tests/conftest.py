"""Settings that every test shares."""

from hypothesis import settings

# The same examples every time and no clock: a slow machine must not turn a law into a failure.
settings.register_profile("house", deadline=None, derandomize=True)
settings.load_profile("house")
