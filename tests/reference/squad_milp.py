#!/usr/bin/env python3
"""Solve the problems that squad_cases prints by a general-purpose engine, and compare the objectives.

Usage: squad_milp.py SQUAD_CASES [NUMBER OF SQUADS]

The choice of patterns and the cut into lanes are stated from scratch as mixed-integer programmes and handed
to HiGHS (scipy.optimize.milp). Every objective must agree to 1e-6. Needs python3-scipy 1.9 or later; without
it the script fails, it never skips. Exit code 0 when all agree.
"""
import sys

import numpy
import scipy
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import lil_matrix

from cases import cases_of, parser_of

TOLERANCE = 1e-6


def solve_choice(case):
    """Largest sum of values: x[i,p] person i follows p, y[p] pattern p is used."""
    n, m, lanes = case["people"], case["patterns"], case["lanes"]
    x = lambda i, p: i * m + p
    y = lambda p: n * m + p
    rows, low, high = [], [], []

    def add(terms, least, most):
        rows.append(terms)
        low.append(least)
        high.append(most)

    for i in range(n):
        add({x(i, p): 1.0 for p in range(m)}, 1.0, 1.0)
        for p in range(m):
            add({x(i, p): 1.0, y(p): -1.0}, -numpy.inf, 0.0)
    most = min(case["most"], m, n)
    add({y(p): 1.0 for p in range(m)}, most if case["exactly"] else 0.0, most)
    if case["exactly"]:
        for p in range(m):
            add({y(p): -1.0, **{x(i, p): 1.0 for i in range(n)}}, 0.0, numpy.inf)
    for r in range(lanes):
        terms = {}
        for i in range(n):
            for p in range(m):
                use = case["use"][p * lanes + r] if case["needs"][i] else 0.0
                if use:
                    terms[x(i, p)] = use
        if terms:
            add(terms, -numpy.inf, case["capacity"][r])
    matrix = lil_matrix((len(rows), n * m + m))
    for row, terms in enumerate(rows):
        for column, factor in terms.items():
            matrix[row, column] = factor
    worth = numpy.concatenate([-numpy.array(case["value"]), numpy.zeros(m)])
    result = milp(worth, integrality=numpy.ones(n * m + m), bounds=Bounds(0, 1),
                  constraints=LinearConstraint(matrix.tocsr(), low, high),
                  options={"mip_rel_gap": 0.0, "time_limit": 120.0})
    return None if result.x is None else (-result.fun, result.status)


def solve_lanes(case):
    """Fewest moves: every person in exactly one of the chosen contiguous lanes."""
    cuts = case["cuts"]
    matrix = lil_matrix((case["people"] + 1, len(cuts)))
    for column, (first, size, _) in enumerate(cuts):
        for i in range(first, first + size):
            matrix[i, column] = 1.0
        matrix[case["people"], column] = 1.0
    low = numpy.ones(case["people"] + 1)
    high = numpy.ones(case["people"] + 1)
    low[-1], high[-1] = 0.0, case["lanes"]
    result = milp(numpy.array([moves for _, _, moves in cuts], dtype=float), integrality=numpy.ones(len(cuts)),
                  bounds=Bounds(0, 1), constraints=LinearConstraint(matrix.tocsr(), low, high))
    return result.fun


def judge(case):
    """What is wrong with our answer to the case; empty when it is right."""
    if case["kind"] == "lanes":
        reference = solve_lanes(case)
        return "" if abs(reference - case["moves"]) <= TOLERANCE else f"{case['moves']} moves, HiGHS {reference}"
    reference = solve_choice(case)
    if reference is None:
        return "" if not case["possible"] else "HiGHS finds no choice"
    if reference[1] != 0:
        return f"HiGHS ended with status {reference[1]}"
    if not case["possible"]:
        return f"we find no choice, HiGHS {reference[0]}"
    if case["bound"] < reference[0] - TOLERANCE:
        return f"our bound {case['bound']} is under HiGHS {reference[0]}"
    return "" if abs(reference[0] - case["found"]) <= TOLERANCE else f"{case['found']}, HiGHS {reference[0]}"


def main():
    asked = parser_of(__doc__, 20).parse_args()
    counts = {"choice": 0, "lanes": 0}
    wrong = 0
    for case in cases_of(asked.cases, asked.number):
        counts[case["kind"]] += 1
        fault = judge(case)
        if fault:
            wrong += 1
            print(f"{case['kind']} {counts[case['kind']]} of {case['people']} people: {fault}")
    print(f"scipy {scipy.__version__} (HiGHS): {counts['choice']} choices of patterns and {counts['lanes']} cuts "
          f"into lanes, {wrong} differ by more than {TOLERANCE}")
    if counts["choice"] < asked.number:
        print(f"expected at least {asked.number} choices")
        return 1
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
