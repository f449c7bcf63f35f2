"""Ringwright's plans and schedules, checked and solved again by an outside solver (CP-SAT).

    python solve.py INSTANCES.json [--seconds 20] [--first N]

The file: {"cutting": [{"problem": …, "solved": …}], "scheduling": [{"problem": …, "solved": …}]}, the fields named as
in the types of src/search/cutting/mod.rs and src/search/scheduling/mod.rs.
Exits with 1 when an answer cannot be worked, when a bound is above what can be had, or when what is said of how near
ringwright comes (README.md beside this file) does not hold.
"""

import argparse
import json
import sys

from ortools.sat.python import cp_model

import cutting
import schedules

# What is promised, where the outside solver has proved its own answer.
LEAST_OPTIMAL, MOST_BOARDS_ABOVE, MEAN_ABOVE = 0.95, 1, 0.02


def both(cost):
    return cost["money"], cost["wood"]


def all_boards(problem):
    """The cost of all the boards there are; None where some can be had without end."""
    if any(stock["count"] is None for stock in problem["stock"]):
        return None
    return {
        part: sum(stock["cost"][part] * stock["count"] for stock in problem["stock"]) for part in ("money", "wood")
    }


def solve_piles(instances, seconds):
    wrong, proven, equal, same_boards, most_above, short, told = [], 0, 0, 0, 0, 0, 0
    for number, instance in enumerate(instances):
        problem, solved = instance["problem"], instance["solved"]
        bad = cutting.faults(problem, solved)
        wrong += [f"pile {number}: {fault}" for fault in bad]
        is_short = bool(solved["lacks"])
        most = all_boards(problem) if is_short else solved["cost"]
        if bad or most is None:
            continue
        status, best, taken = cutting.Model(problem, most).least(seconds)
        if status == cp_model.INFEASIBLE:
            if not is_short:
                wrong.append(f"pile {number}: the models disagree, nothing costs {solved['cost']}")
            proven += 1
            short += 1
            equal += 1
            same_boards += 1
            continue
        if best is not None and not is_short:
            if both(solved["bound"]) > best:
                wrong.append(f"pile {number}: bound {solved['bound']} above a plan of {best}")
            if solved["least_boards"] > taken:
                wrong.append(f"pile {number}: {taken} boards do, not {solved['least_boards']}")
        if status != cp_model.OPTIMAL:
            continue
        proven += 1
        told += solved["is_optimal"]
        equal += not is_short and both(solved["cost"]) == best
        above = len(solved["boards"]) - taken if not is_short else 0
        same_boards += above <= 0 and not is_short
        most_above = max(most_above, above)
        if is_short:
            wrong.append(f"pile {number}: called short, yet {taken} boards do")
    print(f"piles {len(instances)}: {proven} proven by the outside solver, {short} of them that nothing gives everything")
    if proven:
        print(f"  ours as good: {equal} ({equal / proven:.1%}); of the others proven by ringwright itself: {told}")
        print(f"  boards more than the optimum: none in {same_boards}, at most {most_above}")
        if equal < LEAST_OPTIMAL * proven or most_above > MOST_BOARDS_ABOVE:
            wrong.append("plans fall short of what is promised")
    return wrong, proven


def solve_schedules(instances, seconds):
    wrong, proven, equal, excess = [], 0, 0, []
    for number, instance in enumerate(instances):
        problem, solved = instance["problem"], instance["solved"]
        bad = schedules.faults(problem, solved)
        wrong += [f"schedule {number}: {fault}" for fault in bad]
        if bad:
            continue
        status, best = schedules.optimum(problem, solved["end"], seconds)
        if status == cp_model.INFEASIBLE:
            wrong.append(f"schedule {number}: the models disagree, nothing ends by {solved['end']}")
        if best is not None and solved["bound"] > best:
            wrong.append(f"schedule {number}: bound {solved['bound']} above an end of {best} that can be had")
        if status != cp_model.OPTIMAL:
            continue
        proven += 1
        equal += solved["end"] == best
        excess.append((solved["end"] - best) / max(best - solved["begin"], 1))
    print(f"schedules {len(instances)}: {proven} proven by the outside solver, ours as good: {equal}")
    if excess:
        mean = sum(excess) / len(excess)
        print(f"  makespan above the optimum: mean {mean:.2%}, most {max(excess):.2%}")
        if mean > MEAN_ABOVE:
            wrong.append("schedules fall short of what is promised")
    return wrong, proven


def main():
    arguments = argparse.ArgumentParser()
    arguments.add_argument("instances")
    arguments.add_argument("--seconds", type=float, default=20)
    arguments.add_argument("--first", type=int)
    asked = arguments.parse_args()
    with open(asked.instances, encoding="utf-8") as file:
        instances = json.load(file)
    wrong, proven = [], []
    for name, solve in (("cutting", solve_piles), ("scheduling", solve_schedules)):
        bad, count = solve(instances[name][: asked.first], asked.seconds)
        wrong += bad
        proven.append(count)
    for line in wrong:
        print("WRONG", line)
    sys.exit(bool(wrong) or not all(proven))


if __name__ == "__main__":
    main()
