"""The same problem given to a general solver of constraints (OR-tools CP-SAT), as a second opinion and as a peer."""

from __future__ import annotations

from ortools.sat.python import cp_model

from jobs.packing.instance import Instance


def solved_by_constraints(instance: Instance, work: float, workers: int = 1) -> tuple[int | None, bool]:
    """The least use found with so much work (None: no layout at all), and whether it was proved to be the least.

    ``work`` is the solver's own measure, about a second of one core each: with one worker the same answer everywhere.

    Every bundle on one roll (so each lot must be one roll), every item an interval that is there only on that roll,
    on its own place in the repeat, and no two intervals or flaws overlap.
    """
    model = cp_model.CpModel()
    rolls = range(len(instance.rolls))
    on = {(b, s): model.new_bool_var("") for b in range(len(instance.bundles)) for s in rolls}
    for bundle in range(len(instance.bundles)):
        model.add_exactly_one(on[bundle, roll] for roll in rolls)
    useds = [_add_roll(model, instance, roll, on) for roll in rolls]
    model.minimize(sum(useds))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = workers
    solver.parameters.max_deterministic_time = work
    status = solver.solve(model)
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return None, status == cp_model.INFEASIBLE
    return int(solver.objective_value), status == cp_model.OPTIMAL


def _add_roll(
    model: cp_model.CpModel, instance: Instance, number: int, on: dict[tuple[int, int], cp_model.IntVar]
) -> cp_model.IntVar:
    roll, end = instance.rolls[number], instance.ends[number]
    used = model.new_int_var(0, end, "")
    intervals = [model.new_fixed_size_interval_var(start, stop - start, "") for start, stop in roll.flaws]
    for item, shape_number in enumerate(instance.item_shapes):
        shape, there = instance.shapes[shape_number], on[instance.item_bundles[item], number]
        if roll.repeat:
            first = roll.begin + (roll.first_row + shape.phase - roll.begin) % roll.repeat
            count = model.new_int_var(0, max(0, (end - shape.length - first) // roll.repeat), "")
            start = first + roll.repeat * count
        else:
            start = model.new_int_var(roll.begin, max(roll.begin, end - shape.length), "")
        model.add(used >= start + shape.length).only_enforce_if(there)
        intervals.append(model.new_optional_fixed_size_interval_var(start, shape.length, there, ""))
    model.add_no_overlap(intervals)
    return used
