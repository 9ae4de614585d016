"""What was measured of a print, as a document for other programs and as lines for the person."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

from jobs.io.measured import drop_text
from jobs.model.choices import Symmetry
from jobs.prints.photographs.combining import Combined
from jobs.prints.photographs.scale import Source
from projector.commands.measuring.photo import MeasuredPhoto
from projector.words.findings import describe_disagreement, describe_scale
from projector.words.wording import sentence

NAMES = {"top_to_bottom": "top to bottom", "side_to_side": "side to side", "half_turn": "half a turn"}


def document(best: MeasuredPhoto, together: Combined, paths: Sequence[Path]) -> dict[str, Any]:
    """What ``measure --json`` prints."""
    found, lattice, per_inch, sized = best.found, best.found.lattice, best.scale.per_inch, together.sized
    second = found.second
    return {
        "along_in": sized.along_in,
        "across_in": sized.across_in,
        "drop": lattice.drop,
        "angle_deg": lattice.angle_deg,
        "symmetry": {
            "top_to_bottom": found.symmetry.top_to_bottom,
            "side_to_side": found.symmetry.side_to_side,
            "half_turn": found.symmetry.half_turn,
        },
        "confidence": found.confidence,
        "along_uncertainty_in": sized.along_error_in,
        "across_uncertainty_in": sized.across_error_in,
        "drop_uncertainty": lattice.drop_error,
        "repeats": found.repeats,
        "slanted": found.slanted,
        "mirror_offset_in": _inches(best.origin.mirror_along, per_inch),
        "mirror_offset_across_in": _inches(best.origin.mirror_across, per_inch),
        "row_at_px": [float(best.origin.pixel[0]), float(best.origin.pixel[1])],
        "pixels_per_inch": per_inch,
        "scale_uncertainty": best.scale.error,
        "scale_from": describe_scale(best.scale),
        "larger_repeat_possible": second is not None and second.larger,
        "second": None if second is None else {
            "along_in": second.lattice.along / per_inch,
            "across_in": second.lattice.across / per_inch,
            "drop": second.lattice.drop,
            "larger": second.larger,
            "motifs_differ": second.share,
        },
        "close": list(found.symmetry.close),
        "pictures": [str(path) for path in paths],
        "disagreements": [describe_disagreement(one) for one in together.disagreements],
        "notices": [f"{sentence(one)}." for one in found.notices],
    }  # fmt: skip


def _inches(level_px: float | None, per_inch: float) -> float | None:
    return None if level_px is None else level_px / per_inch


def lines(best: MeasuredPhoto, found: dict[str, Any]) -> Iterator[str]:
    """The same for a person."""
    yield from _main_lines(found)
    yield f"The print stands {abs(found['angle_deg']):.2f} degrees {_side(found['angle_deg'])} in the picture"
    x, y = found["row_at_px"]
    yield f"Rows and columns are counted from the place {x:.0f},{y:.0f} of the picture"
    yield (
        f"Scale: {found['pixels_per_inch']:.2f} pixels an inch, from {found['scale_from']}"
        if best.scale.source is not Source.CORNERS
        else "Scale: from the four corners"
    )
    yield f"{found['repeats']} repeats were laid on each other; confidence {found['confidence']:.0%}"
    if len(found["pictures"]) > 1:
        yield f"{len(found['pictures'])} pictures together; mirrors and drop as in {best.path}, the surest"
    for text in found["disagreements"]:
        yield f"Look: {text}."
    if found["second"] is not None:
        yield f"Look: {_second(found['second'])}"
    for close in found["close"]:
        yield f"Look: the answer for {NAMES[close]} is close; see for yourself on the cloth."
    if found["slanted"]:
        yield "The picture was taken at a slant; it was set upright. Take it from straight above to be surer."
    for notice in found["notices"]:
        yield f"Note: {notice}"


def picture_words(found: dict[str, Any]) -> list[str]:
    """The lines that stand on the picture."""
    words = list(_main_lines(found))
    words.append(f"{found['repeats']} repeats, confidence {found['confidence']:.0%}")
    if found["second"] is not None:
        words.append(f"Look: {_second(found['second'])}")
    return words + [f"Look: {NAMES[close]} is close" for close in found["close"]]


def _main_lines(found: dict[str, Any]) -> Iterator[str]:
    yield f"Repeat along {found['along_in']:.3f} in, give or take {2 * found['along_uncertainty_in']:.3f}"
    yield f"Repeat across {found['across_in']:.3f} in, give or take {2 * found['across_uncertainty_in']:.3f}"
    drop = found["drop"]
    yield (
        "Straight match"
        if drop == 0
        else f"Drop {drop_text(drop)} of a repeat: the next column to the right sits lower"
    )
    lines_of = (
        ("top_to_bottom", found["mirror_offset_in"], "below a row"),
        ("side_to_side", found["mirror_offset_across_in"], "to the right of a column"),
    )
    for key, offset, where in lines_of:
        kind = found["symmetry"][key]
        line = "" if offset is None else f"; its line lies {offset:.3f} in {where}"
        yield f"From {NAMES[key]}: {_WORDS[kind]}{line}"
    yield f"Half a turn: {'looks the same' if found['symmetry']['half_turn'] else 'looks different'}"


def _second(second: dict[str, Any]) -> str:
    size = f"{second['along_in']:.3f} in along, {second['across_in']:.3f} in across, drop {drop_text(second['drop'])}"
    differ = f"by {second['motifs_differ']:.0%} of the contrast"
    if second["larger"]:
        return f"motifs may differ in turn {differ}; then the repeat is {size}."
    return f"motifs differ in turn {differ}, hardly more than a camera makes; if so, the repeat is {size}."


_WORDS = {
    Symmetry.NONE: "no mirror",
    Symmetry.MIRROR: "mirror",
    Symmetry.GLIDE: "mirror with a slide of half a repeat (glide)",
}


def _side(degrees: float) -> str:
    return "counter-clockwise" if degrees > 0 else "clockwise"
