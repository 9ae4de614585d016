"""What is lit for a stop, as marks in table inches."""

from __future__ import annotations

from jobs.model.plan import Plan, Stop
from jobs.model.records import dataclass
from projector.scene.boxes import box_of_stroke, with_gaps
from projector.scene.cut_lines import (
    cut_lines,
    fold_lines,
    inner_folds,
    pin_marks,
    seamed,
    side_trims,
    stiffener_lines,
    trim_lines,
)
from projector.scene.labels import SEAMED, WORDS, cut_labels, flaw_words, line_words
from projector.scene.lettering import Fitted, Room, box_of
from projector.scene.lit_stop import LitStop, lit_stop
from projector.scene.marks import GAP_IN, ZIGZAG_DEPTH_IN, Mark, Scene, Stroke, Text
from projector.scene.piece_marks import done_marks, flaw_marks, leftover_labels, leftover_outlines
from projector.scene.print_marks import match_marks, row_marks


@dataclass(frozen=True)
class Layers:
    """Layers that can be darkened one by one; flaws, leftovers and hatching are always lit."""

    cut: bool = True
    rows: bool = True
    match: bool = True
    trims: bool = True
    folds: bool = True
    letters: bool = True
    pins: bool = True


ALL_LAYERS = Layers()


def scene_of_stop(
    plan: Plan,
    stop: Stop,
    *,
    done: frozenset[str] = frozenset(),
    lit_width_in: float | None = None,
    layers: Layers = ALL_LAYERS,
) -> Scene:
    """The scene of one stop, in table inches: position s of the piece lies at x = s - cloth_at_left.

    ``done`` holds the ids of cuts already made: they are hatched and never get a cut line. ``lit_width_in`` is how far
    across the table the light reaches, so that no label runs off it (None: over the whole cloth width).
    Raises ValueError when nothing of the stop's cut lies in its lit stretch.
    """
    lit = lit_stop(plan, stop, lit_width_in)
    hatching = done_marks(lit, done, layers.letters)
    if stop.placement.cut.id in done:
        return Scene(hatching)
    return Scene((*hatching, *_cloth_marks(lit, done, layers)))


def _cloth_marks(lit: LitStop, done: frozenset[str], layers: Layers) -> tuple[Mark, ...]:
    gone = tuple(box for _, box in lit.done(done))
    flaws = tuple(box.grown(ZIGZAG_DEPTH_IN) for _, box in lit.flaws())
    cuts = cut_lines(lit)
    folds = _folds(lit) if layers.folds else ()
    trims = trim_lines(lit, done) + side_trims(lit) if layers.trims else ()
    bars = (match_marks(lit) if layers.match else ()) + (pin_marks(lit) if layers.pins else ())
    labels: tuple[Fitted, ...] = ()
    words: tuple[Text, ...] = ()
    if layers.letters:
        labels = (*cut_labels(lit, flaws), *leftover_labels(lit, flaws))
        taken = (*gone, *(label.box for label in labels), *map(box_of_stroke, (*cuts, *bars)))
        beside = flaw_words(lit, gone, Room(lit.light, (*taken, *map(box_of_stroke, (*folds, *trims)))))
        free = Room(lit.light, (*taken, *flaws, *map(box_of, beside)))
        words = (*beside, *line_words(folds + trims, free, SEAMED if seamed(lit) else WORDS))
    boxes = tuple(box.grown(GAP_IN) for box in (*(label.box for label in labels), *map(box_of, words)))
    faint = (row_marks(lit, gone) if layers.rows else ()) + folds
    return (
        *with_gaps(faint, boxes),
        *flaw_marks(lit, gone),
        *leftover_outlines(lit, cuts),
        *bars,
        *with_gaps(trims, tuple(box_of(word).grown(GAP_IN) for word in words)),
        *(cuts if layers.cut else ()),
        *(mark for label in labels for mark in label.marks),
        *words,
    )


def _folds(lit: LitStop) -> tuple[Stroke, ...]:
    return (*fold_lines(lit), *inner_folds(lit), *stiffener_lines(lit))
