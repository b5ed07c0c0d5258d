"""The trained first guess, as packaged data."""

from importlib.resources import files


def first_guess_model() -> bytes:
    """The net in ONNX form, trained by `training/train.py` on painted sections only."""
    return files("etchbook.tables").joinpath("data/first_guess.onnx").read_bytes()
