#!/usr/bin/env python3
"""The fit of a two-year journal beside the same fit by a general-purpose library, in one run.

  beside_scipy.py FIT_ROWS       the program that tests/bench/fit_rows.cpp makes

scipy gets the same rows: readings whitened by a dense Cholesky factor of their covariance, lower bounds as the
logarithm of a normal distribution function, the priors as rows, and one call of least_squares for ln k and all
else. It finds the mode only; the program also leaves rows out to judge them, gives those that are too far off
less weight (so the two fits differ where any is flagged) and integrates over k.
"""
import json
import subprocess
import sys
import time

import numpy
import scipy
from scipy import linalg, optimize
from scipy.special import log_ndtr

RUNS = 5


def residuals_of(task):
    rows = task["rows"]
    read = [r for r in rows if not r["bound"]]
    bounds = [r for r in rows if r["bound"]]
    stray = numpy.array([r["stray"] for r in read])
    covariance = numpy.minimum.outer(stray, stray) + numpy.diag([r["variance"] for r in read])
    factor = linalg.cholesky(covariance, lower=True)
    # The straying of a bound is taken as its own: what it shares with the readings is small beside its spread.
    spread = numpy.sqrt([max(r["variance"] + r["stray"], 1e-8) for r in bounds])

    def columns(part):
        return (numpy.array([r["y"] for r in part]), numpy.array([r["s"] for r in part]),
                numpy.array([r["headroom"] for r in part]), numpy.array([r["shared"] for r in part]))

    y, s, _, shared = columns(read)
    bound_y, bound_s, headroom, bound_shared = columns(bounds)

    def residuals(x):
        k = numpy.exp(x[0])
        off = y - x[1] - x[2] * (1.0 - numpy.exp(-k * s)) - shared @ x[3:]
        level = numpy.where(headroom, x[2], x[1] + x[2] * (1.0 - numpy.exp(-k * bound_s)))
        over = (level + bound_shared @ x[3:] - bound_y) / spread
        priors = [(x[0] - task["log_k"][0]) / task["log_k"][1], (x[2] - task["h"][0]) / task["h"][1], *x[3:]]
        if task["v0"]:
            priors.append((x[1] - task["v0"][0]) / task["v0"][1])
        return numpy.concatenate([linalg.solve_triangular(factor, off, lower=True),
                                  numpy.sqrt(-2.0 * log_ndtr(over)), priors])

    return residuals, (y.mean() if len(y) else bound_y.mean())


def fit(task):
    residuals, level = residuals_of(task)
    start = [task["log_k"][0], level, task["h"][0], 0.0, 0.0, 0.0]
    found = optimize.least_squares(residuals, start, method="trf", xtol=1e-10, ftol=1e-10)
    linalg.inv(found.jac.T @ found.jac)
    return found.x[1] + found.x[2] * (1.0 - numpy.exp(-numpy.exp(found.x[0]) * task["s_now"]))


def main():
    tasks = json.loads(subprocess.run([sys.argv[1]], check=True, capture_output=True, text=True).stdout)
    print(f"scipy {scipy.__version__}, numpy {numpy.__version__}")
    print("event  rows  backplan ms  scipy ms  ratio  flagged  apart, in spreads of the level")
    ours = theirs = 0.0
    for task in tasks:
        began = time.perf_counter()
        for _ in range(RUNS):
            level = fit(task)
        took = 1000.0 * (time.perf_counter() - began) / RUNS
        apart = (level - task["now"][0]) / numpy.sqrt(task["now"][1])
        print(f"{task['event']:5}  {len(task['rows']):4}  {task['ms']:11.2f}  {took:8.1f}  "
              f"{took / task['ms']:5.1f}  {task['flagged']:7}  {apart:+.2f}")
        ours += task["ms"]
        theirs += took
    print(f"all          {ours:11.2f}  {theirs:8.1f}  {theirs / ours:5.1f}")


main()
