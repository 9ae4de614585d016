"""From windows to cuts: how many, how long, where their rows lie, how their sides are sewn, which selvedge leads."""

from jobs.cutting.columns import columns_across
from jobs.cutting.cut_list import cut_list
from jobs.cutting.hands import leading_selvedge, top_is_first
from jobs.cutting.level_problems import unlevel_rooms
from jobs.cutting.problems import cut_problems
from jobs.cutting.sizes import cut_length, handbook_cut
from jobs.cutting.told import fewer_cuts, panel_steps
from jobs.cutting.unanswered import unanswered

__all__ = [
    "columns_across",
    "cut_length",
    "cut_list",
    "cut_problems",
    "fewer_cuts",
    "handbook_cut",
    "leading_selvedge",
    "panel_steps",
    "top_is_first",
    "unanswered",
    "unlevel_rooms",
]
