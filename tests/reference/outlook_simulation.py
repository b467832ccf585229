#!/usr/bin/env python3
"""Draw test days and judge the outlooks that outlook_cases prints by how often each thing happens.

Usage: outlook_simulation.py OUTLOOK_CASES [NUMBER OF PEOPLE] [--days N] [--each]

A day is drawn as the model says it comes about (docs/mathematics.md, "Outlook"): the response rate of each event,
the common factor, the ability, the noise of the result; the result is rounded to what the scale can show, to the
harder side, and looked up in the official rows; points are added up. None of the planner's arithmetic is used:
no rows as abilities, no normal distribution values, no convolution.

Twice: with the five nodes that the planner takes for the common factor and for the rate, where every figure must
agree within the simulation's own error; and with both continuous (normal, log-normal), where the difference is
what the nodes cost. Needs numpy. Exit code 0 when the first agree and the second stay within the limits below.
"""
import sys

import numpy

from cases import cases_of, parser_of, tell

DEVIATIONS = 5.0  # of the simulation's error: of some 2,000 figures one in a thousand runs is outside by chance
CHUNK = 250_000   # days that are drawn at once
# What the nodes may cost (docs/proofs.md has what they do): chances, the mean total in points, rank of an end of
# the 80 % interval.
LIMITS = {"chance": 0.01, "mean": 0.1, "rank": 0.005}
EXACT = {"chance": 0.0, "mean": 0.0, "rank": 0.0}
# Five nodes of a normal variable: Abramowitz & Stegun, table 25.10, from the polynomial's own roots.
HERMITE_Z, HERMITE_W = numpy.polynomial.hermite_e.hermegauss(5)
HERMITE_W = HERMITE_W / HERMITE_W.sum()


class Person:
    """One case with its rows as arrays, and the floors by event (in tenths)."""

    def __init__(self, case):
        self.case, self.events = case, case["events"]
        self.rows = [numpy.array(event["rows"], dtype=float) for event in self.events]
        self.pass_floors = [case["pass_each"] if case["pass_each"] is not None else -1] * len(self.events)
        wanted = [(floor, case["target_each"], event["own_target"])
                  for floor, event in zip(self.pass_floors, self.events)]
        self.target_floors = [max(f for f in floors if f is not None) for floors in wanted]
        self.pass_total = case["pass_total"] or 0
        self.target_total = max(self.pass_total, case["target_total"] or 0)

    def points(self, e, results):
        """Tenths of a point of results that the scale can show; -1 below its lowest row."""
        event, rows = self.events[e], self.rows[e]
        step = event["resolution"]
        if event["more_is_better"]:
            shown = numpy.floor(results / step + 1e-9) * step
            reached = numpy.searchsorted(rows[:, 0], shown + 1e-6 * step, side="right")
        else:
            shown = numpy.ceil(results / step - 1e-9) * step
            reached = numpy.searchsorted(-rows[:, 0], -shown + 1e-6 * step, side="right")
        return numpy.where(reached > 0, rows[numpy.maximum(reached, 1) - 1, 1], -1.0)


def node_figures(event, at, z):
    """(k, v0, h, var v0, var h, cov) of each day: at the node `at`, or, without one, at k = e^(z sd) k0."""
    nodes = event["nodes"]
    if at is not None:
        return [numpy.array([node[key] for node in nodes])[at] for key in ("k", "v0", "h", "var_v0", "var_h", "cov")]
    # Without a journal all results are from before any work: they say nothing of k, and the fit is the same at
    # every node.
    first = nodes[0]
    for node in nodes[1:]:
        for key in ("v0", "h", "var_v0", "var_h", "cov"):
            if abs(node[key] - first[key]) > 1e-9:
                raise ValueError("a fit that depends on k: this needs the posterior of k")
    rates = event["k"] * numpy.exp(event["k_log_sd"] * z)
    return [rates] + [first[key] for key in ("v0", "h", "var_v0", "var_h", "cov")]


def draw_results(random, event, s, loss, share, common, continuous):
    """Results of one event on days whose common factor is given, in the event's unit."""
    n = len(common)
    at = None if continuous else random.choice(len(event["nodes"]), n, p=[node["weight"] for node in event["nodes"]])
    z = random.standard_normal(n) if continuous else None
    k, v0, h, var_v0, var_h, cov = node_figures(event, at, z)
    growth = -numpy.expm1(-k * s)
    mean = v0 + h * growth - loss - event["fixed_loss"]
    sign = 1.0 if event["more_is_better"] else -1.0
    typical = numpy.exp(sign * mean)
    noise = numpy.maximum(event["noise_sd"], event["noise_least_units"] / numpy.maximum(typical, 1.0))
    sd = numpy.sqrt(var_v0 + 2.0 * growth * cov + growth * growth * var_h + event["var_ahead"] + noise * noise)
    own = random.standard_normal(n)
    return numpy.exp(sign * (mean + sd * (numpy.sqrt(share) * common + numpy.sqrt(1.0 - share) * own)))


class Tally:
    """What was counted over all days."""

    def __init__(self, person):
        top = sum(int(rows[-1, 1]) + 1 for rows in person.rows)
        self.days, self.on_scale, self.passed, self.target = 0, 0, 0, 0
        self.minimum, self.own = numpy.zeros(len(person.events)), numpy.zeros(len(person.events))
        self.totals = numpy.zeros(top + 1, dtype=numpy.int64)  # by tenths, of days with every event on the scale

    def add(self, person, points):
        total = numpy.zeros(points.shape[1])
        for event, row in zip(person.events, points):
            total += numpy.floor(row * event["weight"] + 0.5)
        on_scale = (points >= 0.0).all(axis=0)
        at_pass = points >= numpy.maximum(numpy.array(person.pass_floors), 0)[:, None]
        at_target = points >= numpy.maximum(numpy.array(person.target_floors), 0)[:, None]
        self.days += points.shape[1]
        self.on_scale += int(on_scale.sum())
        self.passed += int((on_scale & at_pass.all(axis=0) & (total >= person.pass_total)).sum())
        self.target += int((on_scale & at_target.all(axis=0) & (total >= person.target_total)).sum())
        self.minimum += (at_pass & (points >= 0.0)).sum(axis=1)
        self.own += (at_target & (points >= 0.0)).sum(axis=1)
        self.totals += numpy.bincount(total[on_scale].astype(int), minlength=len(self.totals))


def simulate(person, days, continuous, seed):
    random = numpy.random.default_rng(seed)
    tally = Tally(person)
    case = person.case
    while tally.days < days:
        n = min(CHUNK, days - tally.days)
        common = random.standard_normal(n) if continuous else random.choice(HERMITE_Z, n, p=HERMITE_W)
        points = numpy.empty((len(person.events), n))
        for e, event in enumerate(person.events):
            points[e] = person.points(e, draw_results(random, event, case["s"][e], case["loss"][e],
                                                      case["common_share"], common, continuous))
        tally.add(person, points)
    return tally


def chance(name, says, count, days):
    found = count / days
    # The error where the outlook is right; a chance of nothing may still be seen once.
    error = numpy.sqrt(max(says * (1.0 - says), 1.0 / days) / days)
    return name, "chance", says, found, error


def figures(person, tally):
    """(name, sort, what the outlook says, what was seen, the error of that) of everything the outlook claims."""
    says, days = person.case["outlook"], tally.days
    out = [chance("on the scale", says["p_on_scale"], tally.on_scale, days),
           chance("passes", says["p_pass"], tally.passed, days),
           chance("target", says["p_target"], tally.target, days)]
    for e, event in enumerate(person.events):
        out.append(chance(f"{event['id']} minimum", says["events"][e]["p_minimum"], tally.minimum[e], days))
        out.append(chance(f"{event['id']} target", says["events"][e]["p_own_target"], tally.own[e], days))
    if tally.on_scale < 1000:
        return out  # hardly ever on the scale: the total means little
    tenths = numpy.arange(len(tally.totals))
    mean = (tenths * tally.totals).sum() / tally.on_scale
    variance = ((tenths - mean) ** 2 * tally.totals).sum() / tally.on_scale
    out.append(("mean total", "mean", says["mean"], mean / 10.0, numpy.sqrt(variance / tally.on_scale) / 10.0))
    under = numpy.concatenate([[0], numpy.cumsum(tally.totals)]) / tally.on_scale  # share under so many tenths
    for name, wanted in (("low80", 0.1), ("high80", 0.9)):
        at = round(says[name] * 10.0)
        # Totals are steps: the wanted share must lie between the shares under and up to this one.
        found = float(numpy.clip(wanted, under[at], under[at + 1]))
        out.append((f"rank of {name}", "rank", wanted, found, numpy.sqrt(0.09 / tally.on_scale)))
    for low, high, p in person.case["bins"][1:-1]:  # the outermost hold what is rarer too
        seen = under[round(high * 10.0)] - under[round(low * 10.0)]
        out.append((f"total {low:.0f} to {high:.0f}", "chance", p, float(seen),
                    numpy.sqrt(max(p * (1.0 - p), 1.0 / tally.on_scale) / tally.on_scale)))
    return out


def judge(person, compared, limits, faults, worst, show):
    for name, sort, says, found, error in compared:
        off = says - found
        if show and not name.startswith("total"):
            print(f"  {name:22} outlook {says:10.5f}  seen {found:10.5f}  off {off:+9.5f}  error {error:8.5f}")
        worst.setdefault(sort, []).append((abs(off), error, f"person {person.case['seed']}, {name}"))
        if abs(off) > DEVIATIONS * error + limits[sort]:
            faults.append(f"person {person.case['seed']}, {name}: outlook {says:.6f}, seen {found:.6f} "
                          f"(error {error:.6f})")


def summary(title, worst):
    print(title)
    for sort, unit in (("chance", ""), ("mean", " points"), ("rank", "")):
        offs = sorted(worst.get(sort, []))
        if not offs:
            continue
        most, error, where = offs[-1]
        deviations = sorted(off / error for off, error, _ in offs)
        print(f"  {sort:6} {len(offs):5} figures: off by {offs[len(offs) // 2][0]:.5f}{unit} in the median, at most "
              f"{most:.5f}{unit} (error {error:.5f}; {where}); in errors: median "
              f"{deviations[len(deviations) // 2]:.2f}, most {deviations[-1]:.2f}")


def options():
    parser = parser_of(__doc__, 8)
    parser.add_argument("--days", type=int, default=10_000_000, help="drawn for each person, twice")
    parser.add_argument("--each", action="store_true", help="every figure of every person")
    return parser.parse_args()


def main():
    asked = options()
    people = [Person(case) for case in cases_of(asked.cases, asked.number)]
    ways = ((False, EXACT, "with the planner's nodes"), (True, LIMITS, "with everything continuous"))
    faults, worst = [], {title: {} for _, _, title in ways}
    for person in people:
        for continuous, limits, title in ways:
            if asked.each:
                print(f"person {person.case['seed']}, {person.case['standard']}, {title}")
            compared = figures(person, simulate(person, asked.days, continuous, person.case["seed"]))
            judge(person, compared, limits, faults, worst[title], asked.each)
    print(f"numpy {numpy.__version__}: {len(people)} people, {asked.days:,} test days each, twice")
    for _, _, title in ways:
        summary(f"outlook and days drawn {title}:", worst[title])
    print(f"{len(faults)} faults")
    tell(faults)
    return 1 if faults or len(people) != asked.number else 0


if __name__ == "__main__":
    sys.exit(main())
