#!/usr/bin/env python3
"""Lets every call that changes a file fail once, and looks at what is left.

Usage: every_call.py PROGRAM PRELOADED DEMO

For each command below, on the demonstration data in a folder of its own, and for N = 1, 2, 3 ... until the command
makes no Nth call: the Nth call fails, writes only half, or is the last thing that the process does. Afterwards each
file must have its old bytes or the whole new ones; a journal, which grows, must hold all that was acknowledged, and
nothing half. A run that fails leaves no other file behind, and the next run of the same command works. Prints one
line a command and a fault; exit code 0 when there is no fault.
"""
import json
import os
import pathlib
import shutil
import subprocess
import sys
import tempfile

AS_OF = "2026-12-01"  # data/demo/README.md
TOO_MANY = 60  # calls: no command makes so many
ANSWERS = (0, 1)  # the work is done
REFUSALS = (73, 74)  # it could not be written, and the program says so
HOWS = ("error", "half", "kill")
RESULTS = "id,date,HRP\nL-01,2026-12-01,26\nL-02,2026-12-01,44\n"

# name, demo folder, what is done before, the command, the files that it writes whole, whether it adds to a journal
CASES = [
    ("plan", "rowan", [], ["plan"], ["plan.json"], False),
    ("plan over a plan", "rowan", [["plan"], ["log", "result", "HRP", "40"]], ["plan"], ["plan.json"], False),
    ("log, the first entry", "rowan", [], ["log", "result", "HRP", "34"], [], True),
    ("log, a further entry", "rowan", [["log", "result", "HRP", "34"]], ["log", "missed", "--reason", "duty"], [], True),
    ("log import", "rowan", [], ["log", "import", "history.csv"], [], True),
    ("replan", "rowan", [["plan"], ["log", "pain", "shin", "--level", "5"]], ["replan"], ["plan.json"], False),
    ("squad", "larch", [], ["squad"], ["programme.json"], False),
    ("squad log", "larch", [], ["squad", "log", "results.csv"], [], True),
    ("squad replan", "larch", [["squad"], ["squad", "log", "results.csv"]], ["squad", "replan"], ["programme.json"], False),
    ("squad extract", "larch", [], ["squad", "extract", "L-01", "own"], ["own/candidate.json"], False),
    ("export html", "rowan", [["plan"]], ["export", "html", "-o", "plan.html"], ["plan.html"], False),
    ("export ics", "rowan", [["plan"]], ["export", "ics", "-o", "plan.ics"], ["plan.ics", "plan.json"], False),
    ("export xlsx", "rowan", [["plan"]], ["export", "xlsx", "-o", "plan.xlsx"], ["plan.xlsx"], False),
]
HISTORY = "date,kind,event,value\n2026-11-20,result,HRP,31\n2026-11-25,result,PLK,2:40\n"


class Bench:
    def __init__(self, program, preloaded, demo):
        self.program, self.preloaded, self.demo = program, preloaded, pathlib.Path(demo)

    def prepare(self, parent, who, before):
        """Once a case: the ids of what is logged are new each time."""
        start = pathlib.Path(parent) / "start"
        if start.exists():
            shutil.rmtree(start)
        shutil.copytree(self.demo / who, start)
        (start / "results.csv").write_text(RESULTS, encoding="utf-8")
        (start / "history.csv").write_text(HISTORY, encoding="utf-8")
        for words in before:
            self.run(start, words)

    @staticmethod
    def folder(parent):
        folder = pathlib.Path(parent) / "work"
        if folder.exists():
            shutil.rmtree(folder)
        shutil.copytree(pathlib.Path(parent) / "start", folder)
        return folder

    def run(self, folder, words, call=0, how="error"):
        """The exit code, and whether the call came."""
        told = folder.parent / "told"
        told.unlink(missing_ok=True)
        surroundings = {**os.environ, "TZ": "UTC"}
        if call:
            surroundings.update(LD_PRELOAD=self.preloaded, FAILING_CALL=str(call), FAILING_HOW=how, FAILING_TOLD=str(told))
        words = [self.program, *words, "--as-of", AS_OF, "-C", "."]
        done = subprocess.run(words, cwd=folder, env=surroundings, capture_output=True, check=False)
        return done.returncode, told.exists()

    def entries(self, folder):
        """What stands in the journal, without ids, which are new in every run."""
        journal = folder / "journal.jsonl"
        if not journal.exists():
            return 0
        lines, closed, open_batches = 0, set(), {}
        for text in journal.read_bytes().split(b"\n"):
            try:
                line = json.loads(text)
            except ValueError:
                continue  # torn: it does not count, and the program warns of it
            if "date" in line:
                open_batches[line.get("batch")] = open_batches.get(line.get("batch"), 0) + 1
            elif "batch" in line:
                closed.add(line["batch"])
        for batch, number in open_batches.items():
            lines += number if batch is None or batch in closed else 0
        return lines


def bytes_of(folder, names):
    return [(folder / name).read_bytes() if (folder / name).exists() else None for name in names]


def faults_of_run(bench, folder, words, writes, adds, call, how, old, new, names_before):
    """Runs with one failing call; None when the command makes fewer calls."""
    code, came = bench.run(folder, words, call, how)
    if not came:
        return None
    faults = []
    allowed = (-9,) if how == "kill" else ANSWERS + REFUSALS
    if code not in allowed:
        faults.append(f"exit code {code}")
    now = bytes_of(folder, writes)
    for name, one, before, after in zip(writes, now, old[0], new[0]):
        if one not in (before, after):
            faults.append(f"{name} is neither the old file nor the new one")
        if code in ANSWERS and one != after:
            faults.append(f"it says done, and {name} is the old one")
    if adds:
        count = bench.entries(folder)
        if count not in (old[1], new[1]):
            faults.append(f"{count} entries: half of them")
        if code in ANSWERS and count != new[1]:
            faults.append("it says done, and the entry is not there")
    left = {path.name for path in folder.iterdir()} - names_before - {pathlib.PurePath(w).parts[0] for w in writes} - {"journal.jsonl"}
    if how != "kill" and left:
        faults.append(f"left behind: {', '.join(sorted(left))}")
    again, _ = bench.run(folder, words)
    if again not in ANSWERS and not (again == 73 and now == new[0] and writes):
        faults.append(f"afterwards the command ends with exit code {again}")
    return faults


def try_case(bench, parent, case):
    name, who, before, words, writes, adds = case
    bench.prepare(parent, who, before)
    folder = bench.folder(parent)
    names_before = {path.name for path in folder.iterdir()}
    old = (bytes_of(folder, writes), bench.entries(folder))
    code, _ = bench.run(folder, words)
    if code not in ANSWERS:
        return 0, [f"{name}: exit code {code} although nothing failed"]
    new = (bytes_of(folder, writes), bench.entries(folder))
    tried, faults = 0, []
    for how in HOWS:
        for call in range(1, TOO_MANY):
            folder = bench.folder(parent)
            found = faults_of_run(bench, folder, words, writes, adds, call, how, old, new, names_before)
            if found is None:
                break
            tried += 1
            faults += [f"{name}, call {call}, {how}: {fault}" for fault in found]
    if tried == 0:
        faults.append(f"{name}: no call was seen")
    return tried, faults


def main(arguments):
    if len(arguments) != 3:
        print(__doc__, file=sys.stderr)
        return 2
    bench = Bench(*arguments)
    faults, tried = [], 0
    with tempfile.TemporaryDirectory() as parent:
        for case in CASES:
            number, found = try_case(bench, parent, case)
            print(f"{case[0]:22} {number:3} failing calls, {len(found)} faults")
            tried += number
            faults += found
    print("\n".join(faults + [f"{tried} failing calls in all, {len(faults)} faults"]))
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
