"""What became of each line, as a plain document ready for JSON."""

from collections.abc import Sequence
from typing import Any

from etchbook.picture.register import NotRegistered, Registration
from etchbook.quantity import Measured, Quantity
from etchbook.section.sightings import Sighting
from etchbook.usecases.followed import Story
from etchbook.usecases.following import Following, Frame
from etchbook.usecases.following_words import BOUND, ORDER


def following_document(following: Following, told: Sequence[Story]) -> dict[str, Any]:
    """Pictures, how they lie on each other, and each line in each of them."""
    return {
        "format": "etchbook following 1",
        "pictures": [_frame(frame) for frame in following.frames],
        "lines": [_story(story) for story in told],
        "notes": [*following.notes, ORDER, BOUND],
    }


def _frame(frame: Frame) -> dict[str, Any]:
    state = frame.state
    return {
        "picture": frame.name,
        "name": frame.picture.name,
        "sha256": frame.picture.sha256,
        "width": frame.picture.width,
        "height": frame.picture.height,
        "state": {"finish": state.finish or None, "etched": state.etched, "light_deg": state.light},
        "px_per_mm": frame.px_per_mm or None,
        "laid_on_a": _placed(frame),
    }


def _placed(frame: Frame) -> dict[str, Any] | None:
    placed = frame.placed
    if isinstance(placed, NotRegistered):
        return {"trusted": False, "reason": placed.reason, "remedy": placed.remedy}
    if not isinstance(placed, Registration):
        return None
    trust = placed.trust
    return {
        "trusted": True,
        "by_hand": placed.by_hand,
        "by_way_of": frame.through or "A",
        "matrix_a_to_this_px": [[float(value) for value in row] for row in placed.matrix],
        "kind": placed.kind,
        "mirror": placed.mirror,
        "px_per_px_of_a": placed.size,
        "turn_deg": placed.turn,
        "u_px_of_coarser": placed.u,
        "overlap": placed.overlap,
        "patches_tried": trust.tried,
        "patches_agreeing": trust.agreeing,
        "spread": trust.spread,
        "residual_px": trust.residual,
        "likeness": trust.likeness,
        "stretch": trust.stretch,
        "evidence": trust.evidence,
    }


def _story(story: Story) -> dict[str, Any]:
    return {
        "name": story.track.name,
        "found_first_in": story.track.home,
        "first_seen_in": story.first or None,
        "called_in_reading_of": dict(story.track.known_as),
        "points_px_of_a": [[float(x), float(y)] for x, y in story.track.points],
        "pictures": [
            {
                "picture": change.picture,
                "words": list(change.words),
                "why": change.why or None,
                "width_mm": _quantity(change.width_mm),
                "width_below_mm": change.width_limit_mm,
                **(_look(story.track.seen[change.picture]) if change.picture in story.track.seen else {}),
            }
            for change in story.changes
        ],
        "meaning": list(story.meaning),
        "answers": dict(story.answers),
    }


def _look(look: Sighting) -> dict[str, Any]:
    return {
        "look": look.look,
        "share_in_view": look.share,
        "strength": look.strength,
        "would_be_seen_from": look.detectable,
        "width_px": _quantity(look.width),
        "contrast": _quantity(look.contrast),
        "edge_rise_px": _quantity(look.rise),
    }


def _quantity(value: Quantity | None) -> dict[str, Any] | None:
    if not isinstance(value, Measured):
        return None
    return {"value": value.value, "u": value.u, "unit": value.unit}
