"""The schedules of an instance file, checked and solved again by an outside solver (CP-SAT).

Written from the type documentation of src/search/scheduling/mod.rs alone.

    python solve.py INSTANCES.json [--seconds 20] [--first N]

The file: {"scheduling": [{"problem": {jobs, clamps, calendar}, "solved": {starts, takes, begin, end, bound}}]},
the fields named as in the types; times in whole seconds.
Exits with 1 when an answer is not feasible, a bound is above a proven optimum, or an end is before it.
"""

import argparse
import json
import sys

from ortools.sat.python import cp_model

DAY = 86_400


def works(calendar, day):
    return not calendar["days_off"][(calendar["first_day"] + day) % 7]


def windows(calendar, hands, horizon):
    """The closed ranges of seconds in which hands may begin."""
    opens, closes = calendar["opens"], calendar["closes"]
    last = closes - hands if hands <= closes - opens else opens
    days = range(horizon // DAY + 1)
    return [[day * DAY + opens, day * DAY + last] for day in days if works(calendar, day)]


def faults(problem, solved):
    """What is wrong with an answer, in words."""
    jobs, starts, takes = problem["jobs"], solved["starts"], solved["takes"]
    if len(starts) != len(jobs) or len(takes) != len(jobs):
        return ["not an answer for each job"]
    found = []
    handed = [start + job["hands"] for start, job in zip(starts, jobs)]
    out = [end + job["clamp"] for end, job in zip(handed, jobs)]
    for number, job in enumerate(jobs):
        allowed = windows(problem["calendar"], job["hands"], starts[number])
        if not any(first <= starts[number] <= last for first, last in allowed):
            found.append(f"job {number}: hands out of hours")
        if job["fits"] and takes[number] not in job["fits"]:
            found.append(f"job {number}: clamp does not fit")
        found += [f"job {number} before {other} is out" for other in job["after"] if starts[number] < out[other]]
    for number in range(len(jobs)):
        for other in range(number):
            if starts[number] < handed[other] and starts[other] < handed[number]:
                found.append(f"hands at {other} and {number} at once")
    for kind, count in enumerate(problem["clamps"]):
        users = [n for n, job in enumerate(jobs) if job["fits"] and takes[n] == kind]
        for at in users:
            if sum(starts[n] <= starts[at] < out[n] for n in users) > count:
                found.append(f"more than {count} clamps of kind {kind} when job {at} begins")
    if solved["end"] != max(out, default=solved["begin"]):
        found.append("the end told is not the last job's")
    return found


def optimum(problem, horizon, seconds):
    """The least end up to `horizon`, and the solver's verdict and bound."""
    model = cp_model.CpModel()
    hands, by_kind, outs = [], [[] for _ in problem["clamps"]], []
    for number, job in enumerate(problem["jobs"]):
        domain = cp_model.Domain.FromIntervals(windows(problem["calendar"], job["hands"], horizon))
        start = model.NewIntVarFromDomain(domain, f"start {number}")
        length = job["hands"] + job["clamp"]
        outs.append(start + length)
        hands.append(model.NewFixedSizeIntervalVar(start, job["hands"], f"hands {number}"))
        taken = []
        for kind in job["fits"]:
            here = model.NewBoolVar(f"{number} takes {kind}")
            taken.append(here)
            by_kind[kind].append(model.NewOptionalFixedSizeIntervalVar(start, length, here, f"{number} in {kind}"))
        if taken:
            model.AddExactlyOne(taken)
        for other in job["after"]:
            model.Add(start >= outs[other])
    model.AddNoOverlap(hands)
    for kind, intervals in enumerate(by_kind):
        model.AddCumulative(intervals, [1] * len(intervals), problem["clamps"][kind])
    end = model.NewIntVar(0, horizon, "end")
    for out in outs:
        model.Add(end >= out)
    model.Minimize(end)
    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = seconds
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = 1
    status = solver.Solve(model)
    best = int(solver.ObjectiveValue()) if status in (cp_model.OPTIMAL, cp_model.FEASIBLE) else None
    return status, best


def main():
    arguments = argparse.ArgumentParser()
    arguments.add_argument("instances")
    arguments.add_argument("--seconds", type=float, default=20)
    arguments.add_argument("--first", type=int)
    asked = arguments.parse_args()
    with open(asked.instances, encoding="utf-8") as file:
        instances = json.load(file)["scheduling"][: asked.first]
    wrong, proven, equal, excess = [], 0, 0, []
    for number, instance in enumerate(instances):
        problem, solved = instance["problem"], instance["solved"]
        bad = faults(problem, solved)
        wrong += [f"{number}: {fault}" for fault in bad]
        if bad:
            continue
        status, best = optimum(problem, solved["end"], asked.seconds)
        if status == cp_model.INFEASIBLE:
            wrong.append(f"{number}: the models disagree, nothing ends by {solved['end']}")
        if best is not None and solved["bound"] > best:
            wrong.append(f"{number}: bound {solved['bound']} above an end of {best} that can be had")
        if status != cp_model.OPTIMAL:
            continue
        proven += 1
        equal += solved["end"] == best
        excess.append((solved["end"] - best) / max(best - solved["begin"], 1))
    print(f"schedules {len(instances)}, proven optimal {proven}, ours optimal {equal}")
    if excess:
        print(f"makespan above the optimum: mean {sum(excess) / len(excess):.2%}, most {max(excess):.2%}")
    for line in wrong:
        print("WRONG", line)
    sys.exit(bool(wrong) or not proven)


if __name__ == "__main__":
    main()
