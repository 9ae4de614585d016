"""The worked example of the document, worked out again."""

import re
from fractions import Fraction
from pathlib import Path

from jobs.io.reader import read_job
from jobs.model.lengths import show_cut
from jobs.ordering import order
from jobs.planning.planner import plan_job
from projector.words.arithmetic import order_lines

DOCUMENT = (Path(__file__).parents[3] / "docs" / "cutting-arithmetic.md").read_text(encoding="utf-8")


def block(language: str) -> str:
    (found,) = re.findall(rf"```{language}\n(.*?)```", DOCUMENT, re.DOTALL)
    return found


def test_the_worked_example_is_what_the_program_works_out(tmp_path):
    file = tmp_path / "example.yaml"
    file.write_text(block("yaml"), encoding="utf-8")
    made = read_job(file)
    plan = plan_job(made)
    assert tuple(block("text").splitlines()) == order_lines(plan.resolved, order(plan.resolved))
    rows = []
    for placement in plan.placements:
        cut, ends = placement.cut, (placement.start, placement.end, placement.top)
        shown = [cut.panel, cut.way, *(show_cut(place, made.unit) for place in ends), cut.leading_edge]
        rows.append(f"| {' | '.join(shown)} |")
        assert cut.row == Fraction(21, 2)
    assert "\n".join(rows) + "\n" in DOCUMENT
    assert plan.proved_shortest
    assert f"ends at {show_cut(plan.used, made.unit)}, and that is proved the shortest" in DOCUMENT
