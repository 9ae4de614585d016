"""The same problem given to a general solver of constraints (OR-tools CP-SAT), as a second opinion and as a peer."""

from __future__ import annotations

from ortools.sat.python import cp_model

from jobs.layout.many.house import House


def solved_by_constraints(house: House, seconds: float, workers: int = 1) -> tuple[int | None, bool]:
    """The least use found in so many seconds (None: no layout at all), and whether it was proved to be the least.

    Every bundle on one strip (so each lot must be one strip), every item an interval that is there only on that strip,
    on its own place in the repeat, and no two intervals or flaws overlap.
    """
    model = cp_model.CpModel()
    strips = range(len(house.strips))
    on = {(b, s): model.new_bool_var("") for b in range(len(house.bundles)) for s in strips}
    for bundle in range(len(house.bundles)):
        model.add_exactly_one(on[bundle, strip] for strip in strips)
    useds = [_add_strip(model, house, strip, on) for strip in strips]
    model.minimize(sum(useds))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = workers
    solver.parameters.max_time_in_seconds = seconds
    status = solver.solve(model)
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return None, status == cp_model.INFEASIBLE
    return int(solver.objective_value), status == cp_model.OPTIMAL


def _add_strip(
    model: cp_model.CpModel, house: House, number: int, on: dict[tuple[int, int], cp_model.IntVar]
) -> cp_model.IntVar:
    strip, end = house.strips[number], house.ends[number]
    used = model.new_int_var(0, end, "")
    intervals = [model.new_fixed_size_interval_var(start, stop - start, "") for start, stop in strip.flaws]
    for item, shape_number in enumerate(house.item_shapes):
        shape, there = house.shapes[shape_number], on[house.item_bundles[item], number]
        if strip.repeat:
            first = strip.begin + (strip.first_row + shape.residue - strip.begin) % strip.repeat
            count = model.new_int_var(0, max(0, (end - shape.length - first) // strip.repeat), "")
            start = first + strip.repeat * count
        else:
            start = model.new_int_var(strip.begin, max(strip.begin, end - shape.length), "")
        model.add(used >= start + shape.length).only_enforce_if(there)
        intervals.append(model.new_optional_fixed_size_interval_var(start, shape.length, there, ""))
    model.add_no_overlap(intervals)
    return used
