"""Piles of boards: answers are cut out one by one, and the questions solved again with CP-SAT.

The question is that of src/search/cutting/mod.rs, without places to avoid and pieces that belong together.
"""

import math

from ortools.sat.python import cp_model


def faults(problem, solved):
    """What is wrong with a plan, in words."""
    found, cut, taken = [], {}, {}
    for number, board in enumerate(solved["boards"]):
        stock = problem["stock"][board["stock"]]
        taken[board["stock"]] = taken.get(board["stock"], 0) + 1
        free = 0
        for section in board["sections"]:
            start, end = section["from"], section["to"]
            if not free <= start < end <= stock["long"]:
                found.append(f"board {number}: a section from {start} to {end}")
            free = end + problem["kerf"]
            across = -problem["kerf"]
            for lane in section["lanes"]:
                kind = problem["classes"][lane["class"]]
                across += problem["kerf"] + kind["wide"]
                if kind["thick"] > stock["thick"]:
                    found.append(f"board {number}: too thin")
                if not kind["is_block"] and end - start < problem["least_section"]:
                    found.append(f"board {number}: ripped too short")
                found += [f"board {number}: {bad}" for bad in lane_faults(kind, lane, start, end, problem["kerf"])]
                for run in lane["runs"]:
                    key = (lane["class"], run["piece"])
                    cut[key] = cut.get(key, 0) + run["count"]
            if across > stock["wide"]:
                found.append(f"board {number}: {across} across")
    for kind, count in taken.items():
        there = problem["stock"][kind]["count"]
        if there is not None and count > there:
            found.append(f"{count} boards of kind {kind}, {there} there")
    for kind, piece, count in solved["lacks"]:
        cut[kind, piece] = cut.get((kind, piece), 0) + count
    for at, kind in enumerate(problem["classes"]):
        for number, piece in enumerate(kind["pieces"]):
            if cut.get((at, number), 0) != piece["count"]:
                found.append(f"class {at}, piece {number}: {cut.get((at, number), 0)} of {piece['count']}")
    cost = [sum(problem["stock"][b["stock"]]["cost"][part] for b in solved["boards"]) for part in ("money", "wood")]
    if cost != [solved["cost"]["money"], solved["cost"]["wood"]]:
        found.append(f"told to cost {solved['cost']}, costs {cost}")
    return found


def lane_faults(kind, lane, start, end, kerf):
    free, settings, pieces = start, set(), 0
    for run in lane["runs"]:
        piece = kind["pieces"][run["piece"]]
        if piece["setting"] not in settings:
            settings.add(piece["setting"])
            free += piece["first"]
        if run["from"] < free:
            yield "no room for a first cut"
        free = run["from"] + run["count"] * piece["pitch"]
        pieces += run["count"]
    is_alone = pieces == 1 and free - kerf == end
    if not is_alone and free + kind["tail"] > end:
        yield "no tail"


def scaled(problem):
    """The same question in the largest unit that all its lengths are whole multiples of."""
    unit = math.gcd(problem["kerf"], problem["least_section"])
    for stock in problem["stock"]:
        unit = math.gcd(unit, stock["wide"], stock["long"])
    for kind in problem["classes"]:
        unit = math.gcd(unit, kind["wide"], kind["tail"], *(p[part] for p in kind["pieces"] for part in ("pitch", "first")))
    by = lambda it, parts: {name: of // unit if name in parts else of for name, of in it.items()}
    classes = [
        by(kind, ("wide", "tail")) | {"pieces": [by(p, ("pitch", "first")) for p in kind["pieces"]]}
        for kind in problem["classes"]
    ]
    stock = [by(stock, ("wide", "long")) for stock in problem["stock"]]
    return by(problem, ("kerf", "least_section")) | {"classes": classes, "stock": stock}


class Model:
    """Every way to cut boards that together cost no more than `most`."""

    def __init__(self, problem, most):
        self.problem, self.model = scaled(problem), cp_model.CpModel()
        # Money weighs more than all the wood there can be.
        weight = sum(max(1, most["money"]) * s["cost"]["wood"] * (s["count"] or 1) for s in problem["stock"]) + 1
        price = lambda cost: cost["money"] * weight + cost["wood"]
        self.weight, limit = weight, price(most)
        self.made = [[[] for _ in kind["pieces"]] for kind in self.problem["classes"]]
        self.price, self.taken = 0, []
        for stock in self.problem["stock"]:
            number = limit // price(stock["cost"])
            boards = [self.board(stock) for _ in range(number if stock["count"] is None else min(number, stock["count"]))]
            for (used, length), (next_used, next_length) in zip(boards, boards[1:]):
                self.model.Add(used >= next_used)
                self.model.Add(length >= next_length)
            self.taken += [used for used, _ in boards]
            self.price += sum(used * price(stock["cost"]) for used, _ in boards)
        for kind, made in zip(self.problem["classes"], self.made):
            for piece, variables in zip(kind["pieces"], made):
                self.model.Add(sum(variables) == piece["count"])
        self.model.Add(self.price <= limit)
        self.model.Minimize(self.price)

    def board(self, stock):
        kerf = self.problem["kerf"]
        here = [at for at, kind in enumerate(self.problem["classes"])
                if kind["thick"] <= stock["thick"] and kind["wide"] <= stock["wide"]]
        used = self.model.NewBoolVar("")
        if not here:
            return used, 0
        shortest = min(self.shortest(self.problem["classes"][at]) for at in here)
        lengths = [self.section(stock, here, used) for _ in range((stock["long"] + kerf) // (shortest + kerf))]
        for length, (next_length, _) in zip((it[0] for it in lengths), lengths[1:]):
            self.model.Add(length >= next_length)
        total = sum(length + kerf * is_cut for length, is_cut in lengths)
        self.model.Add(total <= (stock["long"] + kerf) * used)
        return used, total

    def shortest(self, kind):
        kerf = self.problem["kerf"]
        alone = min(p["first"] + p["pitch"] - kerf for p in kind["pieces"])
        return max(1, alone if kind["is_block"] else max(alone, self.problem["least_section"]))

    def section(self, stock, here, used):
        """Its length, 0 when there is none, and whether there is one."""
        model, kerf = self.model, self.problem["kerf"]
        length = model.NewIntVar(0, stock["long"], "")
        is_cut = model.NewBoolVar("")
        model.Add(length <= stock["long"] * is_cut)
        model.AddImplication(is_cut, used)
        across, area = [], []
        for at in here:
            kind = self.problem["classes"][at]
            most = (stock["wide"] + kerf) // (kind["wide"] + kerf)
            # What lies behind `used` in a lane, for the sum of the areas.
            lanes = [self.lane(kind, self.made[at], stock, length, is_cut) for _ in range(most)]
            for (one, _), (two, _) in zip(lanes, lanes[1:]):
                model.Add(one >= two)
            pitch = kind["wide"] + kerf
            across += [pitch * there for there, _ in lanes]
            area += [pitch * taken for _, taken in lanes]
        model.Add(sum(across) <= stock["wide"] + kerf)
        # Follows from the rest; it tells the solver's relaxation how full a section can be.
        model.Add(sum(area) <= (stock["wide"] + kerf) * length)
        return length, is_cut

    def lane(self, kind, made, stock, length, is_cut):
        """Whether it is there, and what is taken of its length at least."""
        model, kerf = self.model, self.problem["kerf"]
        there, alone = model.NewBoolVar(""), model.NewBoolVar("")
        model.AddImplication(there, is_cut)
        model.AddImplication(alone, there)
        counts, taken, alone_lengths = [], [kind["tail"] * there, -(kind["tail"] + kerf) * alone], []
        settings = {}
        for piece, variables in zip(kind["pieces"], made):
            most = min(piece["count"], max(1, (stock["long"] - kind["tail"] - piece["first"]) // piece["pitch"]))
            count = model.NewIntVar(0, most, "")
            variables.append(count)
            counts.append(count)
            model.Add(count <= most * there)
            if piece["setting"] not in settings:
                settings[piece["setting"]] = model.NewBoolVar("")
                taken.append(piece["first"] * settings[piece["setting"]])
            model.Add(count <= most * settings[piece["setting"]])
            taken.append(piece["pitch"] * count)
            alone_lengths.append((piece["first"] + piece["pitch"] - kerf) * count)
        model.Add(sum(counts) >= there)
        model.Add(sum(counts) == 1).OnlyEnforceIf(alone)
        model.Add(sum(taken) <= length)
        # A piece alone is as long as its section: nothing is cut off it.
        model.Add(length == sum(alone_lengths)).OnlyEnforceIf(alone)
        if not kind["is_block"]:
            model.Add(length >= self.problem["least_section"]).OnlyEnforceIf(there)
        return there, sum(taken)

    def least(self, seconds):
        """Verdict, least cost found as (money, wood), and how many boards it takes."""
        solver = cp_model.CpSolver()
        solver.parameters.max_time_in_seconds = seconds
        solver.parameters.num_workers = 1
        solver.parameters.random_seed = 1
        status = solver.Solve(self.model)
        if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
            return status, None, None
        return status, divmod(round(solver.ObjectiveValue()), self.weight), sum(map(solver.Value, self.taken))
