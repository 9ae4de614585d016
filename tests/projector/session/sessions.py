"""Sessions for tests, begun in one line, and runs of actions."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

from calibration.table import Table
from jobs.model.plan import Plan
from projector.scene.marks import Scene
from projector.session.actions import Action
from projector.session.cutting import scene
from projector.session.cutting.begin import Before, begin
from projector.session.cutting.journal import Event, Record, not_kept
from projector.session.cutting.light import KeepLight, forget_light
from projector.session.cutting.mode import Cutting
from projector.session.cutting.pages import Page
from projector.session.cutting.reducer import DELIBERATE_S, press
from projector.session.cutting.startup_check import StartupCheck
from projector.session.cutting.state import Session, Setup, setup_of
from projector.session.keys import DEFAULT_KEYS, Keys
from projector.session.mode import Mode
from tests.projector.session.plans import plan_of
from tests.projector.session.tables import table_of

QUICK_S = DELIBERATE_S / 2
TABLE = table_of(960, 540)
AREA = ((-30.0, -10.0), (180.0, -10.0), (180.0, 80.0), (-30.0, 80.0))


def setup(plan: Plan | None = None, area: Sequence[tuple[float, float]] = AREA, keys: Keys = DEFAULT_KEYS) -> Setup:
    """A setup with room for words where the test says, in which no line is doubted."""
    return Setup(plan or plan_of(), TABLE, tuple(area), keys)


def begun(
    plan: Plan | Setup | None = None,
    done: Sequence[str] = (),
    check: StartupCheck | None = None,
    *,
    may_replan: bool = False,
    **before: Any,
) -> Session:
    """A session of a plan, cautions lit; ``before`` is what an earlier one left."""
    what = plan if isinstance(plan, Setup) else setup(plan)
    return begin(what, Before(done=tuple(done), **before), check, may_replan=may_replan)


def at_work(
    cuts: int = 3, pulls: int = 2, done: tuple[str, ...] = (), *, plan: Plan | Setup | None = None, **before: Any
) -> Session:
    """A session whose cautions have been read."""
    return press(begun(plan or plan_of(cuts, pulls), done, **before), Action.ANY_OTHER)[0]


def cutting_of(
    plan: Plan | Setup,
    table: Table = TABLE,
    record: Record = not_kept,
    check: StartupCheck | None = None,
    keep_light: KeepLight = forget_light,
    **before: Any,
) -> Cutting:
    """The mode of a session of a plan on a table."""
    what = plan if isinstance(plan, Setup) else setup_of(plan, table)
    may_replan = before.pop("may_replan", False)
    return Cutting(begin(what, Before(**before), check, may_replan=may_replan), record, keep_light)


def seen(session: Session) -> Session:
    """The session with every question about the way of a turned panel answered."""
    while session.page is Page.ORIENTATION:
        session, _ = press(session, Action.NEXT_STOP)
    return session


def after(session: Session, *actions: Action, quiet_s: float = math.inf) -> tuple[Session, list[Event]]:
    events: list[Event] = []
    for action in actions:
        session, new = press(session, action, quiet_s)
        events += new
    return session, events


def key(mode: Mode[Any, Any], name: str, quiet_s: float = math.inf) -> bool:
    """A key pressed: what it asks for as things stand."""
    return mode.act(mode.action_for(name), quiet_s)


def lit(session: Session) -> Scene:
    """Everything that a session lights, in one scene."""
    over, under = scene.lit(session)
    return Scene((*under.marks, *over.marks))
