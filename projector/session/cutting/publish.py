"""The state of cutting as plain data, for a page or any other process that shows it and sends actions back.

``publish`` gives a dictionary of JSON values; lengths stand twice, in words as the person reads them (``length``) and
in inches (``length_in``):

- ``work``: "cutting"; ``job``: its name; ``page``: what is lit, such as "stop" or "is_it_cut"; ``dark``; ``over``
- ``text``: the words of the page, biggest first, each with its ``size`` against the usual one; none at a stop
- ``cut``: the lit one: ``id``, ``window``, ``hand``, ``panel``, ``number`` ``of`` its panel, ``place`` ``among`` all
  cuts, ``length``, ``row``, ``way``, ``top`` (where TOP lies for who stands at the table), ``done``, ``expected``
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
from collections.abc import Sequence
from fractions import Fraction
from typing import Any

from jobs.model.choices import Unit
from jobs.model.cuts import Cut, Selvedge, Way
from jobs.model.lengths import show_cut
from projector.scene.labels import name_of
from projector.scene.lit_stop import lit_stop
from projector.session.actions import Action, written
from projector.session.cutting.offers import offers_of
from projector.session.facing.scene import lines_of_question
from projector.session.keys import Keys, keys_for
from projector.session.laying.words import laid_lines, marking_lines, pull_words, shown_as_it_lies
from projector.session.lighting.checks import Check
from projector.session.lighting.lighting import Bench
from projector.session.lighting.meeting_scene import lines_of_meeting
from projector.session.pressing.meeting_press import PAGES as MEETING_PAGES
from projector.session.pressing.press import is_as_before, press
from projector.session.saying.words import Lines, lines_of
from projector.session.state.pages import Layer, Page
from projector.session.state.state import Session

Json = dict[str, Any]


def publish(session: Session, bench: Bench, checks: Sequence[Check] = ()) -> Json:
    """The state as a dictionary of JSON values, as the module says."""
    job = bench.plan.job
    return {
        "work": "cutting",
        "job": job.title,
        "page": session.page.name.lower(),
        "dark": session.dark,
        "over": session.page is Page.LEFT,
        "text": [{"says": said, "size": size} for said, size in text_of(session, bench)],
        "cut": _cut(session, job.unit),
        "stop": _stop(session, job.unit),
        "pull": _pull(session, bench),
        "cuts": _cuts(session, job.unit),
        "left": len(session.left_to_cut),
        "offers": [_offer(says, action, bench.keys) for says, action in offers_of(session)],
        "actions": [_possible(session, action, bench.keys) for action in dict.fromkeys(bench.keys.values())],
        "told": session.told,
        "trouble": session.trouble,
        "notices": [*(session.meeting.notices if session.meeting else ())],
        "checks": [{"name": check.name, "says": check.said, "good": check.good} for check in checks],
        "light": _light(session, job.unit),
    }


def text_of(session: Session, bench: Bench) -> Lines:
    """The words of the page that is lit; none at a stop."""
    keys, job = bench.keys, bench.plan.job
    if session.page in MEETING_PAGES and session.meeting is not None:
        return lines_of_meeting(session.page, session.meeting, keys, job.unit)
    if session.page is Page.WHICH_WAY:
        return lines_of_question(session, lit_stop(bench.plan, session.stop), keys)
    if session.page is Page.LAYING and session.marking is not None:
        return marking_lines(session.marking, keys, job.unit)
    if session.page is Page.LAID and session.marking is not None:
        return laid_lines(session.marking, job, keys)
    return lines_of(session, job.unit, keys)


def _cut(session: Session, unit: Unit) -> Json:
    cut = session.placement.cut
    order = list(dict.fromkeys(stop.placement.cut.id for stop in session.stops))
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
    }


def top_in_words(cut: Cut) -> str:
    """Where the top of a cut lies for the person at the table."""
    if cut.is_sideways:
        return "away from you" if cut.top_at is Selvedge.FAR else "nearest you"
    return "left" if cut.top_first else "right"


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
        "laid": session.is_laid_here if any(session.lattices) else None,
    }


def _pull(session: Session, bench: Bench) -> Json | None:
    says = pull_words(session, bench.plan.job)
    if not says:
        return None
    before = None if session.lies_at is None else session.stops[session.lies_at]
    found: Json = {"says": list(says), "distance": None, "distance_in": None, "repeats": None, "towards": None}
    if before is None or before.placement.piece != session.placement.piece:
        return found
    by, job = session.stop.cloth_at_left - before.cloth_at_left, bench.plan.job
    return found | {
        "distance": shown_as_it_lies(session, job)(abs(by)),
        "distance_in": float(abs(by)) * (session.fit.stretch_along if session.fit else 1.0),
        "repeats": None if job.cloth.repeat is None else float(abs(by) / job.cloth.repeat.along),
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
        for placed in {stop.placement.cut.id: stop.placement for stop in session.stops}.values()
    ]


def _offer(says: str, action: Action, keys: Keys) -> Json:
    return {"action": written(action), "says": says, "keys": list(keys_for(action, keys))}


def _possible(session: Session, action: Action, keys: Keys) -> Json:
    """What would come of the action after a good look: something, or nothing and why."""
    after, events = press(session, action, math.inf)
    possible = bool(events) or not is_as_before(session, after)
    return {
        "action": written(action),
        "means": action.value,
        "keys": list(keys_for(action, keys)),
        "possible": possible,
        "why_not": "" if possible else after.told or "that does nothing here",
    }


def _light(session: Session, unit: Unit) -> Json:
    return {
        "moved": session.motion.in_words(unit),
        "hidden": [layer.value for layer in Layer if layer in session.hidden],
        "wider": session.width_step,
        "colours": session.colour,
    }


def _length(name: str, value: Fraction, unit: Unit) -> Json:
    return {name: show_cut(value, unit), f"{name}_in": float(value)}
