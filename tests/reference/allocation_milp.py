#!/usr/bin/env python3
"""Solve the seasons that allocation_cases prints by general-purpose engines, and judge our answers by theirs.

Usage: allocation_milp.py ALLOCATION_CASES [NUMBER OF SEASONS] [--first N] [--seconds N] [--cbc] [--each]

Each season is stated as a mixed-integer programme: how many weeks of each group take each pack (integers), and
the value of each event on the grid that the planner values by, in both dimensions, S and L. A point of the grid
is a mixture of its nodes; binaries keep the mixture to the corners of one cell (both sets of weights are special
ordered sets of type 2, written incrementally). Inside a cell the planner's value is bilinear, the mixture may be
better than that: so the engine's bound is over the best season, and its season, valued by the bilinear
interpolation, is under it. Both are used where they are the harder judge:

  value   ours must not be under the engine's season by more than 0.1 point
  bound   ours must not be under the engine's season

The packs come from trying every count of every kind, not from the planner's search. HiGHS is scipy's; with
--cbc, Debian's `cbc` solves the same programme from an MPS file. Needs python3-scipy 1.9 or later and, for
--cbc, coinor-cbc; without them the script fails, it never skips. Exit code 0 when both claims hold in all.
"""
import os
import re
import subprocess
import sys
import tempfile
import time

import numpy
import scipy
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import coo_matrix

from cases import cases_of, parser_of, tell

AGREED = 0.1  # points that ours may be under the engine's season
SAME = 1e-6   # points: rounding of two ways to add up the same season
GAP = 0.05    # points at which the engines may stop: where our own proof stops


MOST_VALUE = 1000.0  # points: no season is worth more, so that a share of the value is at most GAP


class Programme:
    """Maximise worth x with low <= matrix x <= high, 0 <= x <= most."""

    def __init__(self):
        self.worth, self.most, self.whole = [], [], []
        self.entries, self.low, self.high = [], [], []

    def variables(self, number, most, whole=False, worth=None):
        first = len(self.worth)
        self.worth += list(worth) if worth is not None else [0.0] * number
        self.most += [most] * number
        self.whole += [whole] * number
        return range(first, first + number)

    def row(self, terms, low, high):
        self.entries += [(len(self.low), variable, factor) for variable, factor in terms if factor != 0.0]
        self.low.append(low)
        self.high.append(high)

    def matrix(self):
        rows, columns, factors = zip(*self.entries)
        return coo_matrix((factors, (rows, columns)), shape=(len(self.low), len(self.worth)))


def reachable(grid, low, high):
    """The nodes of the cells that values from low to high can lie in."""
    first = max(0, int(numpy.searchsorted(grid, low, side="right")) - 1)
    last = min(len(grid) - 1, int(numpy.searchsorted(grid, high, side="left")))
    return (max(0, last - 1), last) if first >= last else (first, last)


def only_neighbours(programme, sums):
    """SOS2, incrementally: sums[i] are the variables of node i; only two neighbours may have weight."""
    if len(sums) < 3:
        return
    bits = programme.variables(len(sums) - 2, 1.0, whole=True)
    for i, bit in enumerate(bits, start=1):
        # Weight beyond node i <= bit <= weight from node i on.
        beyond = [v for node in sums[i + 1:] for v in node]
        programme.row([(v, 1.0) for v in beyond] + [(bit, -1.0)], -numpy.inf, 0.0)
        programme.row([(bit, 1.0)] + [(v, -1.0) for v in list(sums[i]) + beyond], -numpy.inf, 0.0)


def add_event(programme, event, weeks_s, weeks_loss, s_range, loss_range):
    """The event's value; its S is at most what the weeks give, its L at least what they cost."""
    s, loss, f = (numpy.array(event[key]) for key in ("s", "loss", "f"))
    i_from, i_to = reachable(s, *s_range)
    j_from, j_to = reachable(loss, *loss_range)
    s, loss, f = s[i_from:i_to + 1], loss[j_from:j_to + 1], f[i_from:i_to + 1, j_from:j_to + 1]
    weight = numpy.array(programme.variables(f.size, 1.0, worth=f.ravel())).reshape(f.shape)
    programme.row([(v, 1.0) for v in weight.ravel()], 1.0, 1.0)
    programme.row([(weight[i, j], s[i]) for i in range(len(s)) for j in range(len(loss))]
                  + [(v, -factor) for v, factor in weeks_s], -numpy.inf, 0.0)
    programme.row([(weight[i, j], loss[j]) for i in range(len(s)) for j in range(len(loss))]
                  + [(v, -factor) for v, factor in weeks_loss], 0.0, numpy.inf)
    only_neighbours(programme, list(weight))
    only_neighbours(programme, list(weight.T))


def programme_of(case):
    """The programme, and the variables of each group's packs, which come first."""
    programme = Programme()
    counts = []
    for group in case["groups"]:
        counts.append(programme.variables(len(group["columns"]), float(group["weeks"]), whole=True))
        programme.row([(v, 1.0) for v in counts[-1]], group["weeks"], group["weeks"])
    for e, event in enumerate(case["events"]):
        terms, ranges = [], []
        for side in (0, 1):
            terms.append([(v, column[side][e]) for group, variables in zip(case["groups"], counts)
                          for v, column in zip(variables, group["columns"])])
            low = sum(g["weeks"] * min(c[side][e] for c in g["columns"]) for g in case["groups"])
            high = sum(g["weeks"] * max(c[side][e] for c in g["columns"]) for g in case["groups"])
            ranges.append((low, high))
        add_event(programme, event, terms[0], terms[1], ranges[0], ranges[1])
    return programme, counts


def bilinear(event, s, loss):
    """The value of one event as the planner defines it, at sums that need not be nodes."""
    grid_s, grid_loss, f = (numpy.array(event[key]) for key in ("s", "loss", "f"))
    i = int(numpy.clip(numpy.searchsorted(grid_s, s, side="right") - 1, 0, len(grid_s) - 2))
    j = int(numpy.clip(numpy.searchsorted(grid_loss, loss, side="right") - 1, 0, len(grid_loss) - 2))
    a = numpy.clip((s - grid_s[i]) / (grid_s[i + 1] - grid_s[i]), 0.0, 1.0)
    b = numpy.clip((loss - grid_loss[j]) / (grid_loss[j + 1] - grid_loss[j]), 0.0, 1.0)
    return ((1 - a) * ((1 - b) * f[i, j] + b * f[i, j + 1]) + a * ((1 - b) * f[i + 1, j] + b * f[i + 1, j + 1]))


def value_of(case, columns):
    """The value of a season: `columns` are its weeks' (s, loss) by event, as often as they are taken."""
    sums = [[sum(n * column[side][e] for n, column in columns) for side in (0, 1)]
            for e in range(len(case["events"]))]
    return float(sum(bilinear(event, s, loss) for event, (s, loss) in zip(case["events"], sums)))


def season_value(case, counts, x):
    """The value of the season that an engine's answer stands for. Its counts must fill the weeks."""
    columns = []
    for group, variables in zip(case["groups"], counts):
        taken = [round(x[v]) for v in variables]
        if sum(taken) != group["weeks"]:
            return None
        columns += [(n, column) for n, column in zip(taken, group["columns"]) if n]
    return value_of(case, columns)


def by_highs(programme, seconds):
    """(values of the variables or None, bound, finished)"""
    result = milp(-numpy.array(programme.worth), integrality=numpy.array(programme.whole, dtype=int),
                  bounds=Bounds(0, numpy.array(programme.most)),
                  constraints=LinearConstraint(programme.matrix().tocsr(), programme.low, programme.high),
                  options={"mip_rel_gap": GAP / MOST_VALUE, "time_limit": seconds})
    bound = -result.mip_dual_bound if result.mip_dual_bound is not None else numpy.inf
    return result.x, bound, result.status == 0


def write_mps(programme, path):
    """The programme as a minimisation in the MPS form."""
    matrix = programme.matrix().tocsc()
    with open(path, "w", encoding="ascii") as out:
        out.write("NAME SEASON FREE\nROWS\n N WORTH\n")
        for row, (low, high) in enumerate(zip(programme.low, programme.high)):
            kind = "E" if low == high else ("L" if high < numpy.inf else "G")
            out.write(f" {kind} R{row}\n")
        out.write("COLUMNS\n")
        for v, worth in enumerate(programme.worth):
            if v == 0 or programme.whole[v] != programme.whole[v - 1]:
                if programme.whole[v]:
                    out.write(f" M{v} 'MARKER' 'INTORG'\n")
                elif v:
                    out.write(f" M{v} 'MARKER' 'INTEND'\n")
            out.write(f" X{v} WORTH {-worth:.15g}\n")
            for at in range(matrix.indptr[v], matrix.indptr[v + 1]):
                out.write(f" X{v} R{matrix.indices[at]} {matrix.data[at]:.15g}\n")
        if programme.whole[-1]:
            out.write(" MEND 'MARKER' 'INTEND'\n")
        out.write("RHS\n")
        for row, (low, high) in enumerate(zip(programme.low, programme.high)):
            out.write(f" RHS R{row} {(high if high < numpy.inf else low):.15g}\n")
        out.write("BOUNDS\n")
        for v, most in enumerate(programme.most):
            out.write(f" UP BND X{v} {most:.15g}\n")
        out.write("ENDATA\n")


def by_cbc(programme, seconds):
    """The same as by_highs."""
    with tempfile.TemporaryDirectory() as folder:
        model, answer = os.path.join(folder, "season.mps"), os.path.join(folder, "answer.txt")
        write_mps(programme, model)
        told = subprocess.run(["cbc", model, "-seconds", str(seconds), "-allowableGap", str(GAP), "-solve",
                               "-solution", answer], capture_output=True, text=True, check=True).stdout
        with open(answer, encoding="ascii") as lines:
            status, *rows = lines.read().splitlines()
    x = numpy.zeros(len(programme.worth))
    for row in rows:
        name, value = row.replace("**", "").split()[1:3]
        x[int(name[1:])] = float(value)
    finished = status.startswith("Optimal")
    bound = re.search(r"^(?:Lower|best possible) bound:\s*([-+.\deE]+)", told, re.M)
    if finished and not bound:  # solved before any branching
        bound = re.search(r"^Objective value:\s*([-+.\deE]+)", told, re.M)
    return (None if "nfeasible" in status else x), (-float(bound.group(1)) if bound else numpy.inf), finished


class Judge:
    """What one engine says of all our answers."""

    def __init__(self, name, solve):
        self.name, self.solve = name, solve
        self.seasons, self.finished, self.better, self.faults = 0, 0, 0, []
        self.worst, self.least_room, self.open = -numpy.inf, numpy.inf, -numpy.inf
        self.seconds, self.ours, self.ratios = 0.0, 0.0, []

    def take(self, case, programme, counts, seconds):
        start = time.perf_counter()
        x, bound, finished = self.solve(programme, seconds)
        taken = time.perf_counter() - start
        theirs = None if x is None else season_value(case, counts, x)
        self.seasons += 1
        self.finished += finished
        self.seconds += taken
        self.ours += case["seconds"]
        self.ratios.append(taken / case["seconds"])
        if theirs is None:
            if finished:
                self.faults.append(f"season {case['seed']}: {self.name} has no season")
            return f"{self.name} none in {taken:.2f} s"
        self.better += case["found"] > theirs + SAME
        self.worst = max(self.worst, theirs - case["found"])
        self.least_room = min(self.least_room, case["bound"] - theirs)
        self.open = max(self.open, bound - case["found"]) if finished else self.open
        if theirs > case["found"] + AGREED:
            self.faults.append(f"season {case['seed']}: ours {case['found']:.4f}, {self.name} {theirs:.4f}")
        if theirs > case["bound"] + SAME:
            self.faults.append(f"season {case['seed']}: bound {case['bound']:.4f}, {self.name} {theirs:.4f}")
        return f"{self.name} {theirs:.4f} to {bound:.4f} in {taken:.2f} s{'' if finished else ', stopped'}"

    def summary(self):
        ratios = sorted(self.ratios)
        return (f"{self.name}: {self.seasons} seasons, {self.finished} solved to {GAP} points in the time allowed\n"
                f"  most that ours is under its season: {self.worst:.4f} points; ours is better in {self.better}\n"
                f"  most that ours is under what it proves to be out of reach: {self.open:.4f} points\n"
                f"  least room between its season and our bound: {self.least_room:.6f} points\n"
                f"  time: ours {self.ours:.1f} s, {self.name} {self.seconds:.1f} s: {self.seconds / self.ours:.1f} "
                f"times as long in all, {ratios[len(ratios) // 2]:.1f} times in the median season\n"
                f"  {len(self.faults)} faults")


def options():
    parser = parser_of(__doc__, 200)
    parser.add_argument("--first", type=int, default=1, help="season, to look at some only")
    parser.add_argument("--seconds", type=float, default=60.0, help="for an engine and season")
    parser.add_argument("--cbc", action="store_true")
    parser.add_argument("--each", action="store_true", help="a line for each season")
    return parser.parse_args()


def main():
    asked = options()
    judges = [Judge("HiGHS", by_highs)] + ([Judge("CBC", by_cbc)] if asked.cbc else [])
    seen, packs, unsure, listing, wrong, gaps = 0, 0, 0, 0.0, [], []
    for case in cases_of(asked.cases, asked.number, asked.first):
        seen += 1
        packs += sum(group["packs"] for group in case["groups"])
        unsure += sum(group["unsure"] for group in case["groups"])
        listing += case["listing_seconds"]
        gaps.append(case["bound"] - case["found"])
        ours = value_of(case, [(1, column) for column in case["weeks"]])
        if abs(ours - case["found"]) > SAME:
            wrong.append(f"season {case['seed']}: said to be worth {case['found']}, is {ours}")
        programme, counts = programme_of(case)
        told = [judge.take(case, programme, counts, asked.seconds) for judge in judges]
        if asked.each:
            print(f"season {case['seed']}: {sum(len(g['columns']) for g in case['groups'])} packs in "
                  f"{len(case['groups'])} groups, ours {case['found']:.4f} to {case['bound']:.4f} in "
                  f"{case['seconds']:.2f} s; " + "; ".join(told), flush=True)
    print(f"scipy {scipy.__version__} (HiGHS). {seen} seasons, {packs} packs listed in {listing:.1f} s (not in the "
          f"times below), {unsure} of them with a placing given up")
    print(f"our own gap: median {sorted(gaps)[len(gaps) // 2]:.4f}, most {max(gaps):.4f} points, over {AGREED} in "
          f"{sum(gap > AGREED for gap in gaps)}")
    for judge in judges:
        print(judge.summary())
        wrong += judge.faults
    tell(wrong)
    return 1 if wrong or seen != asked.number else 0


if __name__ == "__main__":
    sys.exit(main())
