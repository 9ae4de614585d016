"""The state of cutting as plain data, for a page or any other process that shows it and sends actions back.

``publish`` gives a dictionary of JSON values; lengths stand twice, in words as the person reads them (``length``) and
in inches (``length_in``):

- ``work``: "cutting"; ``job``: its name; ``page``: what is lit, such as "stop" or "is_it_cut"; ``dark``; ``over``
- ``text``: the words of the page, biggest first, each with its ``size`` against the usual one; none at a stop
- ``cut``: the lit one: ``id``, ``window``, ``hand``, ``panel``, ``number`` ``of`` its panel, ``place`` ``among`` all
  cuts, ``length``, ``row``, ``way``, ``top`` (where TOP lies for who stands at the table), ``done``, ``expected``,
  ``cut_off_first`` (how a length that it shares with others is cut off, as long as none of them is cut)
- ``stop``: its ``number`` ``of`` all, ``part`` of the ``parts`` of its cut, ``piece``, the edges that it ``shows``,
  where it lies on the piece, whether the cloth was ``laid`` so by its print (None: there is no print)
- ``pull``: None, or what is to be done with the cloth: ``says`` sentence by sentence, and where it is pulled along its
  piece ``distance``, ``repeats`` (None for plain cloth) and which way, ``towards``
- ``cuts``: all in their order, ``state`` done, now, next or later; ``left``: how many are to do
- ``offers``: what is asked for most here, the one that goes on first: ``action``, ``says``, ``keys``
- ``actions``: everything that can be asked for: ``action``, ``means``, ``keys``, ``possible``, and ``why_not``
- ``told``: what the last action did; ``trouble``; ``notices`` of calibration and job; ``checks`` of this stop, each
  with ``name``, what it ``says`` and whether that is ``good``; ``light``: how the person has set it

``action`` is a name that ``projector.session.actions.parse`` reads. What is possible is not a second table: each
action is tried on the state by the reducer itself, which changes nothing.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from fractions import Fraction

from jobs.model.choices import Unit
from jobs.model.cuts import Cut, Way
from jobs.model.lengths import show_cut
from jobs.model.records import dataclass
from jobs.planning.mates import meetings_of
from projector.scene.labels import name_of
from projector.scene.marks import Kind, Stroke
from projector.scene.stop_scene import ALL_LAYERS
from projector.session.actions import Action, written
from projector.session.cutting.doubts import OLD_DAYS, age_days
from projector.session.cutting.light import Layer
from projector.session.cutting.pages import BACK, DARK, OFFERS, OTHER_PATTERN, PHOTOGRAPHED, Offers, Page
from projector.session.cutting.photographed import lit_on_white, may_be_laid_back
from projector.session.cutting.reducer import is_as_before, press
from projector.session.cutting.registering import repeat_to_plan_with
from projector.session.cutting.scene import planned
from projector.session.cutting.state import Session
from projector.session.cutting.text import nudges_said, pull_text, shown_as_it_lies
from projector.session.keys import Keys, keys_for
from projector.session.mode import Json
from projector.words.edges import side_word
from projector.words.measures import format_error, format_length
from projector.words.shared_length import crosscut_words, is_cut_off_first


def publish(session: Session, today: date) -> Json:
    """What cutting publishes besides what every mode does, as the module says."""
    job, keys = session.setup.plan.job, session.setup.keys
    return {
        "job": job.title,
        "cut": _cut(session, job.unit),
        "stop": _stop(session, job.unit),
        "pull": _pull(session),
        "cuts": _cuts(session, job.unit),
        "left": len(session.left_to_cut),
        "actions": [_possible(session, action, keys) for action in dict.fromkeys(keys.values())],
        "told": session.status,
        "trouble": session.trouble,
        "notices": [*(session.check.notices if session.check else ())],
        "checks": [{"name": one.name, "says": one.said, "good": one.good} for one in checks_of(session, today)],
        "light": {
            "moved": session.light.motion.in_words(job.unit),
            "hidden": [layer.value for layer in Layer if layer in session.light.hidden],
            "wider": session.light.width_step,
            "colours": session.light.colour,
        },
    }


def offers_of(session: Session) -> Offers:
    """What is offered now, the one that goes on first."""
    page, offers = session.page, OFFERS[session.page]
    if page is Page.LEFT:
        return ()
    if session.dark:
        return DARK
    if page is Page.PATTERN and not may_be_laid_back(session):
        offers = (offers[0], OTHER_PATTERN[lit_on_white(session)], *offers[1:])
    if page is Page.REGISTRATION and session.marking is not None and session.marking.photographed:
        offers = PHOTOGRAPHED
    if page is Page.REGISTRATION and repeat_to_plan_with(session) is not None:
        return (*offers, ("plan anew", Action.REPLAN))
    if page in (Page.STOP, Page.PATTERN) and may_be_laid_back(session):
        photograph = () if page is Page.PATTERN or session.lattice is None else (BACK,)
        offers = (offers[0], *photograph, *(one for one in offers[1:] if one[1] is not Action.LAY))
    if page is Page.STOP and session.cloth_is_to_move:
        offers = (offers[0], ("it lies so", Action.PULLED), *offers[1:])
    if page is Page.STOP and not any(session.setup.lattices):
        return tuple(one for one in offers if one[1] is not Action.LAY)
    return offers


@dataclass(frozen=True)
class Check:
    """One thing to know of the light, in a few words; ``good`` is false where it should give pause."""

    name: str
    said: str
    good: bool


def checks_of(session: Session, today: date) -> tuple[Check, ...]:
    """Age of the calibration, how far off a cut line may be, and whether the cloth was registered here."""
    job = session.setup.plan.job
    found = [_age(session.setup.table.date, today)]
    worst = worst_error_in(session)
    if worst is None:
        found.append(Check("Cut lines", "none is lit here", True))
    else:
        found.append(Check("Cut lines", f"within {format_error(worst, job.unit.value)}", worst <= float(job.tolerance)))
    if any(session.setup.lattices):
        here = session.is_registered_here
        said = "laid by its print" if here else "not laid by its print: lay it, by motif points or a photograph"
        found.append(Check("Cloth", said, here))
        found += _mates(session)
    return tuple(found)


def _mates(session: Session) -> Iterator[Check]:
    """Of each mate that is cut already, how the lit cut is to be made to match it, as far as that was photographed."""
    placed, unit = session.placement, session.setup.plan.job.unit.value
    if session.cut_is_done or not placed.cut.top_edge.is_end:
        return
    told = {one.by: one for one in session.to_match if one.mate == placed.cut.id}
    for one in meetings_of(placed, session.placements):
        mate = one.mate.cut
        if mate.id not in session.done:
            continue
        if mate.id not in told:
            yield Check("Mate", f"{mate.name} is cut: look back at it, and a photograph says whether they match", True)
        elif not (right := told[mate.id].right_64ths / 64):
            yield Check("Mate", f"matches {mate.name}, cut as planned", True)
        else:
            size, way = format_length(abs(right), unit), "right" if right > 0 else "left"
            presses = nudges_said(told[mate.id].right_64ths, session.setup.keys)
            what = f"to match {mate.name}: once this is laid, move the light {size} to the {way} ({presses})"
            yield Check("Mate", what, False)


def worst_error_in(session: Session) -> float | None:
    """How far off any lit cut line of the stop may be by the calibration, in inches; None where none is lit."""
    if session.setup.doubt is None:
        return None
    marks = planned(replace(session, done=()), ALL_LAYERS).of(Kind.CUT)
    lines = [mark.points for mark in marks if isinstance(mark, Stroke)]
    return max((session.setup.doubt.error_of(points[0], points[-1]) for points in lines), default=None)


def _age(made: str, today: date) -> Check:
    days = age_days(made, today)
    if days is None or days < 0:
        return Check("Calibration", "of no known day", False)
    said = {0: "of today", 1: "of yesterday"}.get(days, f"{days} days old")
    return Check("Calibration", said, days <= OLD_DAYS)


def _cut(session: Session, unit: Unit) -> Json:
    cut = session.placement.cut
    order = [placed.cut.id for placed in session.placements]
    return {
        "id": cut.id,
        "name": name_of(cut),
        "window": cut.window,
        "hand": cut.hand.value,
        "panel": cut.panel,
        "number": cut.number,
        "of": cut.of,
        "place": order.index(cut.id) + 1,
        "among": len(order),
        **_length("length", cut.length, unit),
        "row": None if cut.row is None else show_cut(cut.row, unit),
        "way": cut.way.value,
        "top": top_in_words(cut),
        "face_down": cut.way is Way.FACE_DOWN,
        "done": session.cut_is_done,
        "expected": session.is_expected,
        "cut_off_first": _cut_off_first(session),
    }


def _cut_off_first(session: Session) -> str:
    """How the length is cut off that the cut shares with others, as long as nothing of it is cut."""
    plan, placed = session.setup.plan, session.placement
    if not is_cut_off_first(placed, plan, session.done):
        return ""
    first = plan.shared_length(placed)[0]
    return f"{crosscut_words(first, plan, shown_as_it_lies(session))}."


def top_in_words(cut: Cut) -> str:
    """Where the top of a cut lies for the person at the table."""
    return side_word(cut.top_edge)


def _stop(session: Session, unit: Unit) -> Json:
    stop = session.stop
    parts = [other.number for other in session.stops if other.placement.cut.id == stop.placement.cut.id]
    return {
        "number": session.at + 1,
        "of": len(session.stops),
        "part": parts.index(stop.number) + 1,
        "parts": len(parts),
        "piece": stop.placement.piece,
        "shows": list(stop.shows),
        **_length("cloth_at_left", stop.cloth_at_left, unit),
        **_length("lit_from", stop.lit_from, unit),
        **_length("lit_to", stop.lit_to, unit),
        "laid": session.is_registered_here if any(session.setup.lattices) else None,
    }


def _pull(session: Session) -> Json | None:
    says = pull_text(session)
    if not says:
        return None
    before, repeat = session.pulled_from, session.setup.plan.job.cloth.repeat
    found: Json = {"says": list(says), "distance": None, "distance_in": None, "repeats": None, "towards": None}
    if before is None:
        return found
    by = session.stop.cloth_at_left - before.cloth_at_left
    return found | {
        "distance": shown_as_it_lies(session)(abs(by)),
        "distance_in": float(abs(by)) * (session.fit.stretch_along if session.fit else 1.0),
        "repeats": None if repeat is None else float(abs(by) / repeat.along),
        "towards": "left" if by > 0 else "right",
    }


def _cuts(session: Session, unit: Unit) -> list[Json]:
    here = session.placement.cut.id
    upcoming = next((placed.cut.id for placed in session.left_to_cut if placed.cut.id != here), None)
    states = dict.fromkeys(session.done, "done") | {upcoming: "next"} | {here: "now"}
    return [
        {
            "id": placed.cut.id,
            "name": name_of(placed.cut),
            **_length("length", placed.cut.length, unit),
            "state": states.get(placed.cut.id, "later"),
            "done": placed.cut.id in session.done,
        }
        for placed in session.placements
    ]


def _possible(session: Session, action: Action, keys: Keys) -> Json:
    """What would come of the action after a good look: something, or nothing and why."""
    after, events = press(session, action, math.inf)
    possible = bool(events) or not is_as_before(session, after)
    return {
        "action": written(action),
        "means": action.value,
        "keys": list(keys_for(action, keys)),
        "possible": possible,
        "why_not": "" if possible else after.status or "that does nothing here",
    }


def _length(name: str, value: Fraction, unit: Unit) -> Json:
    return {name: show_cut(value, unit), f"{name}_in": float(value)}
