"""What the calibration says in the frame, step by step, as lines, biggest first."""

from __future__ import annotations

from calibration.table import Table
from jobs.job import Unit
from projector.session.calibrating import FEWEST, MOST, Calibrating, Step
from projector.session.words import Lines

CAUTIONS: Lines = (
    ("Before you calibrate", 1.8),
    ("Never look into the lens. B darkens the light: do so before you lean under it.", 1.0),
    (
        "An overhead mount is work for a competent person under the local codes: fixed into structure, "
        "with a second safety tie. Cables off floor and table.",
        1.0,
    ),
    (
        "Stick four tape crosses on the table, far apart, and measure where they are: "
        "how far to the right of the near left one, and how far away from you.",
        1.0,
    ),
    ("Any key goes on.", 1.3),
)


def lines_of(state: Calibrating) -> Lines:
    """The words of the step; a problem is said below."""
    match state.step:
        case Step.CAUTIONS:
            return CAUTIONS
        case Step.POINTING:
            return _pointing(state)
        case Step.ALONG | Step.AWAY:
            return _entering(state)
        case Step.REVIEW:
            return _review(state)
        case Step.LEAVE:
            return (
                ("Leave without saving?", 2.0),
                ("Esc again leaves; the marks are lost.", 1.0),
                ("Any other key goes back.", 1.0),
            )
    return ()


def _pointing(state: Calibrating) -> Lines:
    u, v = state.cross.pixel
    return (
        (f"Mark {state.at + 1} of {len(state.crosses)}", 2.0),
        ("Move the cross onto a tape mark: arrow keys, or click there.", 1.0),
        ("With Shift 10 pixels, with Ctrl a quarter. Then Enter.", 1.0),
        (f"pixel {u:.2f}, {v:.2f}", 1.0),
        *((("Page Up: the mark before.", 1.0),) if state.at else ()),
    )


def _entering(state: Calibrating) -> Lines:
    along = state.step is Step.ALONG
    ask = "How far to the right of zero?" if along else "How far away from you, from zero?"
    have: Lines = () if along else ((f"to the right: {state.cross.typed[0]} {state.unit}", 1.0),)
    return (
        (f"Mark {state.at + 1}: {ask}", 1.2),
        *have,
        (f"{state.typing}_ {state.unit}", 2.4),
        ("Such as 60 1/4 or 60.25. Then Enter. Esc: back to the cross.", 1.0),
        *_problem(state),
    )


def _review(state: Calibrating) -> Lines:
    redo = "A number key or R: that mark again. A: add a mark."
    if state.table is None:
        return (("These marks do not fit", 1.8), *_problem(state), *_rows(state), (redo, 1.0))
    worst = int(state.table.residuals_px.argmax())
    off = f"worst: mark {worst + 1}, {_off(state, state.table, worst)}"
    proof = "Four marks always fit: prove it with a tape, or add marks." if len(state.crosses) == FEWEST else off
    more = redo if len(state.crosses) < MOST else "A number key or R: that mark again."
    drop: Lines = (("Delete: leave the chosen mark out.", 1.0),) if len(state.crosses) > FEWEST else ()
    return (
        ("S or Enter saves", 1.8),
        *_problem(state),
        *_rows(state),
        (proof, 1.0),
        (more, 1.0),
        *drop,
    )


def _rows(state: Calibrating) -> Lines:
    """One line a mark: its inches and, when fitted, how far off the fit leaves it."""
    rows = []
    for i, cross in enumerate(state.crosses):
        place = "not entered" if cross.table is None else f"{', '.join(cross.typed)} {state.unit}"
        off = "" if state.table is None else f"   off {_off(state, state.table, i)}"
        rows.append((f"{'> ' if i == state.at else ''}mark {i + 1}:  {place}{off}", 1.0))
    return tuple(rows)


def _off(state: Calibrating, table: Table, mark: int) -> str:
    """How far off the fit leaves a mark, in pixels and in the unit a tape of the job shows."""
    length_in = float(table.residuals_in[mark])
    length = f"{length_in:.3f} in" if state.unit is Unit.INCH else f"{length_in * 25.4:.2f} mm"
    return f"{table.residuals_px[mark]:.2f} px, {length}"


def _problem(state: Calibrating) -> Lines:
    return tuple((line, 1.0) for line in state.problem.split("\n") if line)
