"""What was measured of a print, as a document for other programs and as lines for the person."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from jobs.job import Symmetry
from jobs.photo.measuring import Measurement


def document(found: Measurement, pixels_per_inch: float) -> dict[str, Any]:
    """What ``measure --json`` prints."""
    laid = found.laid
    return {
        "along_in": laid.along / pixels_per_inch,
        "across_in": laid.across / pixels_per_inch,
        "drop": laid.drop,
        "angle_deg": laid.angle_deg,
        "symmetry": {
            "top_to_bottom": found.symmetry.top_to_bottom,
            "side_to_side": found.symmetry.side_to_side,
            "half_turn": found.symmetry.half_turn,
        },
        "confidence": found.confidence,
        "along_uncertainty_in": laid.along_doubt / pixels_per_inch,
        "across_uncertainty_in": laid.across_doubt / pixels_per_inch,
        "drop_uncertainty": laid.drop_doubt,
        "repeats": found.repeats,
        "slanted": found.slanted,
        "larger_repeat_possible": found.second is not None,
        "close": list(found.symmetry.close),
        "notices": list(found.notices),
    }


def lines(found: Measurement, told: dict[str, Any]) -> Iterator[str]:
    """The same for a person."""
    yield f"Repeat along {told['along_in']:.3f} in, give or take {2 * told['along_uncertainty_in']:.3f}"
    yield f"Repeat across {told['across_in']:.3f} in, give or take {2 * told['across_uncertainty_in']:.3f}"
    drop = told["drop"]
    yield "Straight match" if drop == 0 else f"Drop {drop:.3f} of a repeat: the next column to the right sits lower"
    yield f"The print stands {abs(told['angle_deg']):.2f} degrees {_side(told['angle_deg'])} in the picture"
    lines_of = (("top to bottom", found.symmetry.top_to_bottom), ("side to side", found.symmetry.side_to_side))
    for direction, kind in lines_of:
        yield f"From {direction}: {_WORDS[kind]}"
    yield f"Half a turn: {'looks the same' if found.symmetry.half_turn else 'looks different'}"
    yield f"{found.repeats} repeats were laid on each other; confidence {told['confidence']:.0%}"
    if found.second is not None:
        yield "Look: every second or third motif may differ a little; then the true repeat is a multiple of this one."
    for close in found.symmetry.close:
        yield f"Look: the answer for {close} is close; see for yourself on the cloth."
    if found.slanted:
        yield "The picture was taken at a slant: sizes hold for its middle. Take it from straight above to be surer."
    for notice in found.notices:
        yield f"Note: {notice}"


_WORDS = {
    Symmetry.NONE: "no mirror",
    Symmetry.MIRROR: "mirror",
    Symmetry.GLIDE: "mirror with a slide of half a repeat (glide)",
}


def _side(degrees: float) -> str:
    return "counter-clockwise" if degrees > 0 else "clockwise"
