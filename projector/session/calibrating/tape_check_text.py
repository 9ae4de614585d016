"""What the check with a tape says, at the table and on the command line, and what it offers."""

from __future__ import annotations

from calibration.marks import TapeClass
from calibration.tape import Action as Advice
from calibration.tape import ReadingResult, Stretch, TapeResult, action_after
from projector.session.actions import Action, Offers
from projector.session.calibrating.tape_check import TapeChecking, TapeStep
from projector.session.calibrating.text import DARK_OR_LEAVE, LIGHT_AGAIN, READ, TYPING
from projector.session.layout import Lines
from projector.words.findings import describe_tape
from projector.words.measures import format_error, format_length

SMALL = 0.85

CAUTIONS: Lines = (
    ("Proof with a tape", 1.8),
    ("Never look into the lens. B darkens the light: do so before you lean under it.", 1.0),
    ("Lines are lit one after another. Lay the tape along each, flat and taut, from tick to tick.", 1.0),
    ("Type what it says, to the nearest mark. The program does not tell first what it should be.", 1.0),
    ("Any key goes on.", 1.3),
)

TITLES = {
    Advice.ACCEPT: "The calibration can be used",
    Advice.MEASURE_MORE: "Measure more",
    Advice.ADD_MARKS: "Add marks",
    Advice.REDO: "Calibrate anew",
}


def tape_text(state: TapeChecking) -> Lines:
    """The words of the step; a problem is said below."""
    match state.step:
        case TapeStep.CAUTIONS:
            return CAUTIONS
        case TapeStep.READING:
            return _reading(state)
        case TapeStep.VERDICT:
            return _verdict(state)
        case TapeStep.LEAVE:
            return (
                ("Leave without keeping the proof?", 2.0),
                ("Esc again leaves; the readings are lost.", 1.0),
                ("Any other key goes back.", 1.0),
            )
    return ()


def _reading(state: TapeChecking) -> Lines:
    problem: Lines = tuple((line, 1.0) for line in state.problem.split("\n") if line)
    back: Lines = (("Page Up: the length before.", 1.0),) if state.at else ()
    return (
        (f"Length {state.at + 1} of {len(state.lengths)}", 1.4),
        ("What does the tape say, from tick to tick?", 1.2),
        (f"{state.typing}_ {state.unit}", 2.4),
        *problem,
        ("Then Enter. Enter alone leaves this length out.", 1.0),
        *back,
    )


def _verdict(state: TapeChecking) -> Lines:
    result = state.result
    if result is None:
        return ()
    judged = iter(result.readings)
    rows = []
    for number, one in enumerate(state.lengths, 1):
        said = "left out" if one.tape is None else _short(next(judged), state.unit.value)
        rows.append((f"{'> ' if number == state.at + 1 else ''}{number}: {said}", SMALL))
    return (
        (TITLES[action_after(result)], 1.7),
        (describe_tape(result, state.unit.value), 1.1),
        *((line, SMALL) for line in scale_in_words(result)),
        *((line, 1.0) for line in state.problem.split("\n") if line),
        *rows,
        ("S or Enter keeps this with the calibration.", 1.2),
        ("A number key or R: measure that length again. Esc: leave.", SMALL),
    )


def _short(one: ReadingResult, unit: str) -> str:
    """One reading on one line of light."""
    expected = format_error(one.allowed_in, unit)
    return f"{one.runs}, {format_length(one.reading.tape_in, unit)}, {_off(one, unit)} ({expected} expected at most)"


def _off(one: ReadingResult, unit: str) -> str:
    much = format_length(abs(one.off_in), unit)
    if much == format_length(0.0, unit):
        return "as lit"
    return f"{much} {'more' if one.off_in > 0 else 'less'} than lit"


def reading_in_words(one: ReadingResult, unit: str = "in") -> str:
    """One reading against its lit length."""
    lit, tape = format_length(one.lit_in, unit), format_length(one.reading.tape_in, unit)
    expected = format_error(one.allowed_in, unit)
    said = f"{one.runs}: lit {lit}, tape {tape}: {_off(one, unit)}"
    return f"{said}, {expected} expected at most: {one.verdict.value}"


def scale_in_words(result: TapeResult) -> tuple[str, ...]:
    """The scale errors along and across, where the readings tell them."""
    return tuple(
        _scale(name, stretch) for name, stretch in (("along", result.along), ("across", result.across)) if stretch
    )


def _scale(name: str, stretch: Stretch) -> str:
    way = "longer" if stretch.share > 0 else "shorter"
    much = f"{abs(stretch.share):.3%}"
    chance = "more than chance" if stretch.matters else "no more than chance"
    return f"Scale {name}: the tape reads {much} {way} (give or take {2 * stretch.uncertainty:.3%}), {chance}"


def tape_in_words(tape: TapeClass) -> str:
    """What kind of tape it was."""
    return "metal tape, NIST Handbook 44" if tape is TapeClass.METAL else f"class {tape.value}, OIML R 35-1"


def tape_offers(state: TapeChecking) -> Offers:
    """What is offered at the step, the one that goes on first."""
    if state.step is TapeStep.LEFT:
        return ()
    if state.dark:
        return LIGHT_AGAIN
    match state.step:
        case TapeStep.CAUTIONS:
            return READ
        case TapeStep.READING:
            back: Offers = (("length before", Action.PREVIOUS_STOP),) if state.at else ()
            return (*TYPING, *back, *DARK_OR_LEAVE)
        case TapeStep.VERDICT:
            return (
                *((("keep it", Action.SAVE),) if state.check is not None else ()),
                ("length before", Action.CHOOSE_BEFORE),
                ("length after", Action.CHOOSE_AFTER),
                ("this one again", Action.AGAIN),
                *DARK_OR_LEAVE,
            )
    return (("leave, not kept", Action.LEAVE), ("go back", Action.NEXT_STOP))
