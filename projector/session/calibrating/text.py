"""What the calibration by hand says in the frame, step by step, as lines, biggest first, and what it offers."""

from __future__ import annotations

from calibration.checking import TOLERANCE_IN
from calibration.table import Table
from jobs.model.choices import Unit
from projector.session.actions import Action, AnyAction, Offers, Typed
from projector.session.calibrating.reducer import may_drop
from projector.session.calibrating.state import FEWEST, MOST, Calibrating, Step
from projector.session.layout import Lines
from projector.words.findings import DISAGREE, describe_check, describe_lens, describe_untested, format_spot
from projector.words.measures import format_error, format_length

SMALL = 0.85

STICK = (
    "Stick four tape crosses on the table, near the corners of the light, and measure where they are: "
    "how far to the right of the near left one, and how far away from you."
)


ABOUT_PHOTOGRAPHS = (
    "Clear the table. Five photographs from around it tell where the inches are; then lay a tape from cross to cross."
)
PATTERN: Lines = (
    ("Photograph the table", 1.8),
    (
        "Stand at five places around it, the phone held upright at some and across at others, each time with all "
        "of the light in the picture. Nothing may move until all are taken, neither table nor projector.",
        1.0,
    ),
    ("Put a bit of tape under each of the two lit crosses.", 1.0),
)


def cautions(remark: str = "") -> Lines:
    """What to mind, and how to begin (or what to know instead)."""
    return (
        ("Before you calibrate", 1.8),
        ("Never look into the lens. B darkens the light: do so before you lean under it.", 1.0),
        (
            "An overhead mount is work for a competent person under the local codes: fixed into structure, "
            "with a second safety tie. Cables off floor and table.",
            1.0,
        ),
        (remark or STICK, 1.0),
        ("Any key goes on.", 1.3),
    )


def text_of(state: Calibrating) -> Lines:
    """The words of the step; a problem is said below."""
    match state.step:
        case Step.CAUTIONS:
            remark = state.remark or (ABOUT_PHOTOGRAPHS if state.by_photographs else "")
            other: Lines = () if state.by_photographs else (("P: by photographs instead.", 1.0),)
            return (*cautions(remark), *other, *_problem(state))
        case Step.PATTERN:
            return PATTERN
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
    stick: Lines = ()
    if state.cross.is_added:
        why = "to check the others" if state.cross.is_check else "where it helps most"
        stick = ((f"Stick a tape cross near here, {why}, and measure it.", 1.0),)
    return (
        (_heading(state), 2.0),
        *stick,
        ("Move the cross onto a tape mark: arrow keys, or click there.", 1.0),
        ("With Shift 10 pixels, with Ctrl a quarter. Then Enter.", 1.0),
        (f"pixel {u:.2f}, {v:.2f}", 1.0),
        *((("Delete: do without it.", 1.0),) if may_drop(state) else ()),
        *((("Page Up: the mark before.", 1.0),) if state.at else ()),
    )


def _heading(state: Calibrating) -> str:
    return name_of(state, state.at).capitalize() + ("" if state.cross.is_check else f" of {state.to_fit}")


def name_of(state: Calibrating, number: int) -> str:
    """What a cross (index from 0) is called: "mark 2", "check mark 1"."""
    return f"check mark {number - state.to_fit + 1}" if state.crosses[number].is_check else f"mark {number + 1}"


def _entering(state: Calibrating) -> Lines:
    along = state.step is Step.ALONG
    ask = "How far to the right of zero?" if along else "How far away from you, from zero?"
    have: Lines = () if along else ((f"to the right: {state.cross.typed[0]} {state.unit}", 1.0),)
    return (
        (f"{name_of(state, state.at).capitalize()}: {ask}", 1.2),
        *have,
        (f"{state.typing}_ {state.unit}", 2.4),
        ("Such as 60 1/4 or 60.25. Then Enter. Esc: back to the cross.", 1.0),
        *_problem(state),
    )


def _review(state: Calibrating) -> Lines:
    found, table = state.findings, state.table
    if table is None:
        return (
            ("These marks do not fit", 1.8),
            *(() if state.findings.slip else _problem(state)),
            *_offer(state),
            *_rows(state),
            ("A number key or R: that mark again. A: add a mark. Arrows choose.", 1.0),
        )
    unit = state.unit.value
    return (
        (f"All light within {format_error(found.worst_in, unit)}", 1.7),
        ("in 95 of 100 such calibrations", 1.0),
        *_problem(state),
        *_offer(state),
        *_disagreement(state),
        *_advice(state),
        *_check(state),
        *_lens(state),
        *_rows(state),
        ("S or Enter saves", 1.4),
        *_keys(state),
    )


def _offer(state: Calibrating) -> Lines:
    """A mistyped mark, or crosses in another order, and the key that puts it right."""
    slip = state.findings.slip
    said: Lines = ((slip.said, 1.2),) if slip else ()
    return (*said, ("Y: yes, put it right.", 1.4)) if state.findings.offers else said


def _disagreement(state: Calibrating) -> Lines:
    """That the marks do not quite go together, where no slip can be named for it."""
    return ((DISAGREE, 1.2),) if state.findings.disagree and state.findings.slip is None else ()


def _advice(state: Calibrating) -> Lines:
    advice, unit = state.findings.advice, state.unit.value
    where, limit = f"Worst {state.findings.where}", format_length(TOLERANCE_IN, unit)
    if state.findings.worst_in <= TOLERANCE_IN:
        return ((f"{where}; less than {limit}: good.", 1.0),)
    if advice is None or len(state.crosses) >= MOST:
        return ((f"{where}; that is more than {limit}.", 1.0),)
    gain = f"brings it down to {format_error(advice.after_in, unit)}"
    return (
        (f"{where}; that is more than {limit}.", 1.0),
        (f"A: one more mark {_spot(state, advice.at_in)}, where the dashed square is lit, {gain}.", 1.2),
    )


def _spot(state: Calibrating, at_in: tuple[float, float]) -> str:
    return format_spot(at_in, state.table.lit_area()) if state.table is not None else ""


def _check(state: Calibrating) -> Lines:
    """The verdict of check marks; without any, that four marks prove nothing."""
    check = state.findings.check
    if check is not None:
        return ((describe_check(check, state.unit.value), 1.0),)
    if state.checks:
        return (("A check mark lies where this light cannot reach: set it again.", 1.0),)
    if state.findings.untested is not None:
        return ((describe_untested(state.findings.untested, state.unit.value), SMALL),)
    if state.to_fit == FEWEST:
        return (("Four marks always fit, which proves nothing: prove it with a check mark (C) or a tape.", SMALL),)
    return ()


def _lens(state: Calibrating) -> Lines:
    if state.findings.lens_fitted:
        return (("The lens bends straight lines; that is taken out.", SMALL),)
    doubt = state.findings.doubt
    if doubt is None or state.table is None:
        return ()
    return ((describe_lens(doubt, state.table.lit_area(), state.unit.value), SMALL),)


def _keys(state: Calibrating) -> Lines:
    add = "A: add a mark. C: add a check mark. " if len(state.crosses) < MOST else ""
    drop = "Delete: leave it out. " if may_drop(state) else ""
    turn = "X: fit it after all." if state.cross.is_check else "X: make it a check mark."
    if not may_drop(state):
        turn = ""
    return (
        (f"{add}A number key: that mark again.", SMALL),
        (f"Arrows choose a mark (>). R: it again. {drop}{turn}", SMALL),
    )


def _rows(state: Calibrating) -> Lines:
    """One line a mark: its inches and, when fitted, how far off the fit leaves it."""
    rows = []
    for i, cross in enumerate(state.crosses):
        place = "not entered" if cross.table is None else f"{', '.join(cross.typed)} {state.unit}"
        off = ""
        if state.table is not None:
            check = state.findings.check
            if not cross.is_check:
                off = f", off by {_off(state, state.table, i)}"
            elif check is not None:
                off = f", missed by {format_length(check.marks[i - state.to_fit].missed_in, state.unit.value)}"
        rows.append((f"{'> ' if i == state.at else ''}{name_of(state, i)}:  {place}{off}", SMALL))
    return tuple(rows)


def _off(state: Calibrating, table: Table, mark: int) -> str:
    """How far off the fit leaves a mark, in the unit a tape of the job shows."""
    return format_length(float(table.residuals_in[mark]), "in" if state.unit is Unit.INCH else "mm")


def _problem(state: Calibrating) -> Lines:
    return tuple((line, 1.0) for line in state.problem.split("\n") if line)


MOVES: Offers = (
    ("left", Action.LIGHT_LEFT),
    ("right", Action.LIGHT_RIGHT),
    ("away", Action.LIGHT_AWAY),
    ("nearer", Action.LIGHT_NEARER),
    ("hair left", Action.LIGHT_HAIR_LEFT),
    ("hair right", Action.LIGHT_HAIR_RIGHT),
    ("hair away", Action.LIGHT_HAIR_AWAY),
    ("hair nearer", Action.LIGHT_HAIR_NEARER),
)
LIGHT_AGAIN: Offers = (("light again", Action.DARK),)
READ: Offers = (("read: go on", Action.NEXT_STOP), ("dark", Action.DARK), ("leave", Action.LEAVE))
DARK_OR_LEAVE: Offers = (("dark", Action.DARK), ("leave", Action.LEAVE))
PHOTOGRAPHS: tuple[str, AnyAction] = ("by photographs", Action.PHOTOGRAPH)
PATTERN_LIT: Offers = (*DARK_OR_LEAVE, ("by four marks", Action.PREVIOUS_STOP))
TYPING: Offers = (
    ("Enter", Action.ENTER),
    *(("Space" if letter == " " else letter, Typed(letter)) for letter in "1234567890./- "),
    ("rub out", Action.RUB_OUT),
)


def offers_of(state: Calibrating) -> Offers:
    """What is offered at the step, the one that goes on first."""
    if state.step is Step.LEFT:
        return ()
    if state.dark:
        return LIGHT_AGAIN
    drop: Offers = (("do without", Action.DROP),) if may_drop(state) else ()
    match state.step:
        case Step.CAUTIONS:
            return READ if state.by_photographs else (READ[0], PHOTOGRAPHS, *READ[1:])
        case Step.PATTERN:
            return PATTERN_LIT
        case Step.POINTING:
            back: Offers = (("back", Action.PREVIOUS_STOP),) if state.at else ()
            return (("it meets", Action.ENTER), *MOVES, *back, *drop, PHOTOGRAPHS, *DARK_OR_LEAVE)
        case Step.ALONG | Step.AWAY:
            return (*TYPING, ("to the cross", Action.LEAVE))
        case Step.REVIEW:
            return (*_review_offers(state), *drop, *DARK_OR_LEAVE)
    return (("leave, unsaved", Action.LEAVE), ("go back", Action.NEXT_STOP))


def _review_offers(state: Calibrating) -> Offers:
    fitted, has_room = state.table is not None, len(state.crosses) < MOST
    offers: tuple[tuple[str, AnyAction, bool], ...] = (
        ("save", Action.SAVE, fitted),
        ("put it right", Action.PUT_RIGHT, state.findings.offers),
        ("add a mark", Action.ADD_MARK, has_room),
        ("check mark", Action.ADD_CHECK, has_room and fitted),
        ("mark before", Action.CHOOSE_BEFORE, True),
        ("mark after", Action.CHOOSE_AFTER, True),
        ("this mark again", Action.AGAIN, True),
    )
    return tuple((says, action) for says, action, possible in offers if possible)
