#!/usr/bin/env python3
"""Write docs/performance.md: measure on this machine, and put the figures between fixed text.

  write_performance.py BUILD_FOLDER PAGE      the folder holds the programs of the benchmarks

BACKPLAN_STREAM=N sends N candidates through `backplan batch` instead of two thousand; 1000000 is the whole
claim and takes an hour or two. BACKPLAN_TIMES=N judges the slowest tenth of N candidates, BACKPLAN_SEASONS=N
takes N seasons to the general-purpose engine. Needs python3-scipy.
"""
import datetime
import json
import os
import pathlib
import platform
import re
import subprocess
import sys
import textwrap
import time

SOURCE = pathlib.Path(__file__).resolve().parents[2]
AS_OF = "2026-12-01"  # tests/bench/subjects.cpp
MILLION = 1_000_000
GOAL_MINUTES = 10.0
JOBS = 2
TENTH = 0.1
WIDTH = 118  # of a line of text

# The slowest tenth before and after the work on it: candidate_times over the same 2,000 people, both programs one
# after the other (AMD EPYC, two cores, 26 November 2026). The processor's time of a person in milliseconds: mean,
# median, slowest tenth, its share of all, the slowest.
WORKED_ON = [["before", "16.9", "11.1", "60.7", "36 %", "906"], ["after", "10.3", "8.29", "27.9", "27 %", "57.0"]]


def table(head, rows):
    lines = ["| " + " | ".join(head) + " |", "|" + " --- |" * len(head)]
    return "\n".join(lines + ["| " + " | ".join(str(cell) for cell in row) + " |" for row in rows])


def setting(name, usual):
    text = os.environ.get(name, "")
    if text and not re.fullmatch("[1-9][0-9]*", text):
        sys.exit(f'{name} is "{text}": expected a whole number from 1')
    return int(text or usual)


def figure(value, unit=""):
    """Three figures, without an exponent."""
    digits = 0 if value >= 100 else 1 if value >= 10 else 2
    return f"{value:,.{digits}f}{unit}"


class Benchmarks:
    """What the program of the benchmarks says, by name."""

    def __init__(self, program, names):
        told = subprocess.run(
            [program, "--benchmark_format=json", "--benchmark_min_time=0.2", f"--benchmark_filter={names}"],
            check=True, capture_output=True, text=True).stdout
        self.by_name = {one["name"].removesuffix("/iterations:1"): one for one in json.loads(told)["benchmarks"]}

    def ms(self, name):
        """The processor's time of one run."""
        one = self.by_name[name]
        return one["cpu_time"] * {"ns": 1e-6, "us": 1e-3, "ms": 1.0, "s": 1e3}[one["time_unit"]]

    def a_person(self, name):
        return 1e3 * self.by_name[name]["s_a_person"]


def machine():
    cpu = re.search("^model name\\s*: (.*)$", pathlib.Path("/proc/cpuinfo").read_text(), re.M)
    compiler = subprocess.run(["g++", "--version"], capture_output=True, text=True, check=True).stdout.splitlines()[0]
    busy = os.getloadavg()[0]
    return (f"{cpu.group(1) if cpu else platform.machine()}, {os.cpu_count()} cores, {platform.system()} "
            f"{platform.machine()}, {compiler};\n{datetime.date.today():%d %B %Y}. {busy:.1f} programs were running or "
            "waiting when the measuring began.")


def stream(build, number):
    """Seconds, processor's seconds and peak memory of `backplan batch` over so many candidates."""
    with subprocess.Popen([build / "candidate_lines", str(number)], stdout=subprocess.PIPE) as lines:
        began = time.monotonic()
        batch = subprocess.Popen([build / "backplan", "batch", "--as-of", AS_OF, "--jobs", str(JOBS)],
                                 stdin=lines.stdout, stdout=subprocess.DEVNULL)
        lines.stdout.close()
        _, status, used = os.wait4(batch.pid, 0)
        took = time.monotonic() - began
        batch.returncode = os.waitstatus_to_exitcode(status)
    if batch.returncode or lines.returncode:
        sys.exit(f"batch ended with {batch.returncode}, candidate_lines with {lines.returncode}")
    return {"number": number, "s": took, "cpu": used.ru_utime + used.ru_stime, "mib": used.ru_maxrss / 1024}


def streams(build):
    many = setting("BACKPLAN_STREAM", 2000)
    runs = [stream(build, max(1, many // 4)), stream(build, many)]
    rows = [[f"{run['number']:,}", figure(run["s"], " s"), figure(run["cpu"], " s"),
             figure(1e3 * run["cpu"] / run["number"], " ms"), figure(run["number"] / run["s"]),
             f"{run['mib']:.1f} MiB"] for run in runs]
    last = runs[-1]
    on_two = MILLION * last["cpu"] / last["number"] / JOBS / 60
    if last["number"] >= MILLION:
        verdict = f"The million took {last['s'] / 60:.0f} minutes"
    else:
        verdict = (f"The million was not run: at this cost it takes {on_two:.0f} minutes of two cores that have nothing "
                   "else to do")
    times = on_two / GOAL_MINUTES
    verdict += (f". The goal of {GOAL_MINUTES:.0f} minutes that we set ourselves is " +
                ("reached." if times <= 1 else f"missed by a factor of {times:.1f}; it would take "
                 f"{JOBS * times:.0f} such cores."))
    growth = last["mib"] - runs[0]["mib"]
    memory = (f"Four times as many candidates took {abs(growth):.1f} MiB {'more' if growth >= 0 else 'less'} at the peak: "
              "the program holds the lines that are being answered and the tables of the standards, nothing else.")
    head = ["candidates", "time", "of the processor", "a candidate", "a second", "peak memory"]
    words = [textwrap.fill(paragraph, WIDTH) for paragraph in (verdict, memory)]
    return "\n\n".join([table(head, rows), *words]), last


def mean(values):
    values = list(values)
    return sum(values) / len(values)


def tenth(build):
    number = setting("BACKPLAN_TIMES", 2000)
    told = subprocess.run([build / "candidate_times", str(number)], check=True, capture_output=True, text=True).stdout
    people = sorted((json.loads(line) for line in told.splitlines()), key=lambda one: one["ms"])
    cut = len(people) - max(1, int(TENTH * len(people)))
    rest, slow = people[:cut], people[cut:]
    all_ms = sum(one["ms"] for one in people)
    now = ["in this run", figure(all_ms / number), figure(people[number // 2]["ms"]),
           figure(mean(p["ms"] for p in slow)), f"{100 * sum(p['ms'] for p in slow) / all_ms:.0f} %",
           figure(people[-1]["ms"])]
    first = table(["ms of the processor", "mean", "median", "slowest tenth", "its share of all", "slowest"], WORKED_ON + [now])

    def described(name, group):
        return [name] + [f"{mean(one[key] for one in group):.1f}" for key in ("weeks", "minutes", "days_apart")] + [
            f"{100 * mean(one['looks_for_least'] for one in group):.0f} %"]

    second = table(["", "weeks", "minutes a week", "days and spells of their own", "look for the fewest minutes"],
                   [described("slowest tenth", slow), described("the rest", rest)])
    return first + "\n\n" + second


def engine(build):
    number = setting("BACKPLAN_SEASONS", 20)
    told = subprocess.run([sys.executable, SOURCE / "tests/reference/allocation_milp.py",
                           build / "tests/allocation_cases", str(number), "--seconds", "20"],
                          check=True, capture_output=True, text=True).stdout
    return "```\n" + told.rstrip() + "\n```"


def one_person(bench):
    solve = bench.ms("least_squares_200_by_20")
    names = [("plan, proven (Rowan: reaches the target)", "plan_of/rowan_proven"),
             ("plan, not proven", "plan_of/rowan_unproven"),
             ("plan, proven, with the ways out (Hazel: does not)", "plan_of/hazel_proven"),
             ("plan, not proven, with the ways out", "plan_of/hazel_unproven"),
             ("the fit of two years of daily entries", "refit_of/rowan_two_years"),
             ("replan from them, proven", "replan_of/rowan_two_years"),
             ("outlook alone", "outlook_of/rowan"),
             ("yardstick: a least-squares problem of 200 rows and 20 columns (Eigen)", "least_squares_200_by_20"),
             ("yardstick: the distribution of a sum of five events of 41 rows", "convolution_of_five_by_41")]
    return table(["what", "ms", "in yardsticks of the first kind"],
                 [[what, figure(bench.ms(name)) if bench.ms(name) >= 0.1 else f"{bench.ms(name):.3f}",
                   figure(bench.ms(name) / solve)] for what, name in names])


def squads(bench):
    rows = [[f"{n} people, programme and check", figure(bench.ms(f"squad_of/{n}") / 1e3, " s"),
             figure(bench.ms(f"squad_of/{n}") / n, " ms")] for n in (12, 40, 120)]
    replan = bench.ms("replan_squad")
    rows.append(["120 people, each planned anew from two years of entries", figure(replan / 1e3, " s"),
                 figure(replan / 120, " ms")])
    return table(["squad", "in all", "a person"], rows)


def growth(bench):
    weeks = table(["weeks to the test", "not proven", "proven"],
                  [[n, figure(bench.a_person(f"weeks_of/quick/{n}"), " ms"),
                    figure(bench.a_person(f"weeks_of/proven/{n}"), " ms")] for n in (4, 8, 16, 26)])
    minutes = table(["minutes a week", "not proven", "proven"],
                    [[n, figure(bench.a_person(f"minutes_of/quick/{n}"), " ms"),
                      figure(bench.a_person(f"minutes_of/proven/{n}"), " ms")] for n in (90, 180, 300)])
    events = sorted((one for name, one in bench.by_name.items() if name.startswith("events_of/")),
                    key=lambda one: one["events"])
    events = table(["events", "standard", "not proven"],
                   [[int(one["events"]), one["name"].removeprefix("events_of/quick_").replace("_", "-"),
                     figure(1e3 * one["s_a_person"], " ms")] for one in events])
    return weeks + "\n\n" + minutes + "\n\n" + events


def roll_out(last):
    """Candidates and processor's time by level, at the cost that was measured."""
    each = last["cpu"] / last["number"]
    rows = []
    for level, people in (("squad", 12), ("company", 120), ("battalion", 700), ("brigade", 4_000),
                          ("division", 15_000), ("theatre", 100_000)):
        seconds = people * each
        rows.append([level, f"{people:,}", f"{max(1, people // 120):,}",
                     figure(seconds, " s") if seconds < 600 else figure(seconds / 60, " min"),
                     f"{people * 2.5 / 1e3:,.1f} MB"])
    return table(["level", "people, about", "files, one a company", "of one core", "lines in"], rows)


def main():
    build, page = pathlib.Path(sys.argv[1]).resolve(), pathlib.Path(sys.argv[2])
    where = machine()
    bench = Benchmarks(build / "backplan_bench",
                       "plan_of|outlook_of|refit_of|replan|squad_of|least_squares|convolution|weeks_of|minutes_of|events_of")
    stream_text, last = streams(build)
    text = (SOURCE / "tests/bench/performance.md.in").read_text()
    for name, value in {"machine": where, "one_person": one_person(bench), "squads": squads(bench),
                        "stream": stream_text, "tenth": tenth(build), "growth": growth(bench),
                        "engine": engine(build), "roll_out": roll_out(last)}.items():
        if f"@{name}@" not in text:
            sys.exit(f"performance.md.in has no place for {name}")
        text = text.replace(f"@{name}@", value)
    page.write_text(text)
    print(f"wrote {page}")


if __name__ == "__main__":
    main()
