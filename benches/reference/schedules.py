"""Schedules: answers are worked second by second, and the questions solved again with CP-SAT.

The question is that of src/search/scheduling/mod.rs, times in whole seconds.
"""

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
