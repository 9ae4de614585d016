"""A border along one selvedge that shall lead: which panels are turned or used face down for it.

Of two panels that lie upright one leads with the near selvedge and one with the far one. Where one of them is turned,
or used face down, the same selvedge leads in both: the far one where the tops point to the first end and the right
panel is the one that is turned, the near one where it is the left.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from jobs.cutting.mirroring import HANDS, top_edge
from jobs.model.choices import Border, BorderLeads, Facing, Hang, Panels, Run
from jobs.model.cloth import Cloth
from jobs.model.cuts import Edge, Hand, Way, leading_edge
from jobs.model.problems import Code, JobRefused, Path, problem
from jobs.model.resolved import Pairing, WayChoice
from jobs.model.window import Window
from jobs.prints.pairs import hand_ways, mirroring_ways

_EDGES = {Border.NEAR: Edge.NEAR, Border.FAR: Edge.FAR}
_MADE_BY = {Way.TURNED: Pairing.TURNED, Way.FACE_DOWN: Pairing.FACE_DOWN}


def with_border(choice: WayChoice, window: Window, cloth: Cloth, path: Path) -> WayChoice:
    """How the panels of a window lie so that the border of their cloth leads; as chosen where it has none.

    A panel for the whole window has no leading edge, and what is made beside the faces of windows is left as it is.
    Raises JobRefused where the print, or the way the panels hang, does not allow it.
    """
    if cloth.border is None or window.panels is Panels.WHOLE or window.made is not None:
        return choice
    if cloth.run is Run.SIDEWAYS:
        raise JobRefused([problem(("cloth", "border"), Code.BORDER_ALONG_THE_FOOT)])
    found = next((one for one in _ways(choice, window, cloth) if _leads(one, window, cloth)), None)
    if found is None:
        at = "hang" if window.panels is Panels.PAIR else "panels"
        one_way = int(cloth.print.one_way)
        raise JobRefused([problem((*path, at), Code.BORDER_CANNOT_LEAD, edge=cloth.border.value, one_way=one_way)])
    if window.facing is Facing.RIGHT and choice.first is not Way.UPRIGHT and found.first is Way.UPRIGHT:
        raise JobRefused([problem((*path, "facing"), Code.FACING_BY_BORDER, edge=cloth.border.value)])
    return found


def _ways(choice: WayChoice, window: Window, cloth: Cloth) -> Iterator[WayChoice]:
    """What may be cut, the nearest to what is chosen first."""
    yield choice
    for way in mirroring_ways(cloth):
        if window.panels is not Panels.PAIR:
            yield replace(choice, first=way)
        elif cloth.repeat is None or window.hang is Hang.MIRRORED:
            for first in (Way.UPRIGHT, way):
                yield WayChoice(_MADE_BY[way], first=first)


def _leads(choice: WayChoice, window: Window, cloth: Cloth) -> bool:
    """Whether the border is at the leading edge in as many panels as it must be, and nothing is trimmed there."""
    hands = HANDS[window.panels]
    leading = [_leading(hand, way, cloth) for hand, way in hand_ways(choice, hands).items()]
    with_it = leading.count(_EDGES[cloth.border]) if cloth.border is not None else 0
    whole = choice.pairing is not Pairing.TURNED_SLID
    return whole and with_it >= (1 if cloth.border_leads is BorderLeads.ONE else len(hands))


def _leading(hand: Hand, way: Way, cloth: Cloth) -> Edge:
    return leading_edge(hand, top_edge(way, cloth), way)
