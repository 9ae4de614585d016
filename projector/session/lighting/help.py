"""The help page: what each key does, and how a remote or a pedal alone runs a whole job."""

from __future__ import annotations

from projector.session.actions import Action
from projector.session.keys import DEFAULT_KEYS, Keys, keys_for, spoken
from projector.session.pressing.adjusting import LAYERS


def remote_help(keys: Keys = DEFAULT_KEYS) -> str:
    """How a remote or a pedal alone runs a whole job."""
    forward, back = spoken(Action.NEXT_STOP, keys), spoken(Action.PREVIOUS_STOP, keys)
    return (
        f"With a remote or a pedal alone: forward ({forward}) goes from stop to stop. After the last stop of a cut the "
        f"light asks: is it cut? Wait a second, then forward again ticks it and goes on; back ({back}) says not yet. "
        "A double press, a held or a bouncing key never ticks. A panel that lies turned asks two questions first: "
        f"look, then forward for each. A tick just made is taken back by {back} three times, the last after a second."
    )


def help_lines(keys: Keys = DEFAULT_KEYS) -> tuple[tuple[str, str], ...]:
    """Pairs of (keys, what they do), in the order they are shown."""

    def row(what: str, *actions: Action) -> tuple[str, str]:
        names = [name for action in actions for name in keys_for(action, keys)]
        return ", ".join(name for name in names if name != "=" or "+" not in names), what

    def nudges(prefix: str, what: str, *actions: Action) -> tuple[str, str]:
        names = [name for action in actions for name in keys_for(action, keys)]
        usual = {f"{prefix}{way}" for way in ("Left", "Right", "Up", "Down")}
        return (f"{prefix}arrows" if set(names) == usual else ", ".join(names)), what

    near = (Action.LIGHT_LEFT, Action.LIGHT_RIGHT, Action.LIGHT_AWAY, Action.LIGHT_NEARER)
    far = (Action.LIGHT_FAR_LEFT, Action.LIGHT_FAR_RIGHT, Action.LIGHT_FAR_AWAY, Action.LIGHT_FAR_NEARER)
    hair = (Action.LIGHT_HAIR_LEFT, Action.LIGHT_HAIR_RIGHT, Action.LIGHT_HAIR_AWAY, Action.LIGHT_HAIR_NEARER)
    return (
        row("next stop; after the last one of a cut it asks: is it cut?", Action.NEXT_STOP),
        row("previous stop", Action.PREVIOUS_STOP),
        row("next cut, leaving this one for later", Action.NEXT_CUT),
        row("the cut is done: tick it (asks where the last edge is not lit)", Action.CUT_DONE),
        row("take back the last thing done, a tick or a change of the light", Action.UNDO),
        nudges("", "move the light 1/16 in", *near),
        nudges("Shift+", "move the light 1/2 in", *far),
        nudges("Ctrl+", "move the light 1/64 in", *hair),
        row("turn the light left, right, by 0.05 degree", Action.TURN_LEFT, Action.TURN_RIGHT),
        row("put the light back where it was", Action.LIGHT_BACK),
        row("the cloth is pulled as the light asks", Action.PULLED),
        row("lay the cloth: the light follows motif points that you mark", Action.LAY),
        row("plan anew with the repeat as measured: while laying, before the first cut", Action.REPLAN),
        row("cut lines, rows, match marks, trims, folds, pins, letters on or off", *_LAYERS),
        row("other colours", Action.COLOURS),
        row("wider lines, thinner lines", Action.WIDER, Action.THINNER),
        row("dark; any key brings the light back", Action.DARK),
        row("what is to do", Action.REMAINING),
        row("bench screen in place of the light; any key brings the light back", Action.BENCH),
        row("what the lines mean", Action.LEGEND),
        row("this page", Action.HELP),
        row("leave (asks once)", Action.LEAVE),
    )


_LAYERS = tuple(LAYERS)
