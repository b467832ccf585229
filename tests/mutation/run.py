#!/usr/bin/env python3
"""Change one operator of the core at a time and see whether the unit tests notice.

Usage: tests/mutation/run.py [--only N-M] [--folder DIR] [--jobs N] [--list]

tests/mutation/changes.json holds the changes: the file, the text to find (once in the file), what stands in for
it, why that matters, and the tests that should notice. Each is made in a scratch copy of the sources below
build/mutation, what depends on it is built anew, and those tests run; if they pass, all unit tests do. A change
is noticed when a test fails, crashes or hangs. The answers are kept in build/mutation/answers.jsonl, with the
state of the sources they hold for: a run that was broken off goes on where it was. Exit code 0 when every change
asked for was tried and each one that stayed unnoticed is explained in its entry ("unnoticed": why).
"""
import argparse
import hashlib
import json
import os
import pathlib
import shutil
import subprocess
import sys
import time

ROOT = pathlib.Path(__file__).resolve().parents[2]
CHANGES = pathlib.Path(__file__).with_name("changes.json")
COPIED = ("CMakeLists.txt", "CMakePresets.json", "CHANGELOG.md", "DEVELOPERS.md", "README.md", "LICENSE", "setup",
          "data", "docs", "include", "src", "tests")
FILTER_SECONDS, ALL_SECONDS = 300, 1200  # a change can make a loop endless: that is noticed, too


def state_of_sources():
    """A hash of everything that decides the answers, the list of changes left out."""
    digest = hashlib.sha256()
    for name in ("CMakeLists.txt", "data", "include", "src", "tests"):
        path = ROOT / name
        files = [path] if path.is_file() else sorted(p for p in path.rglob("*") if p.is_file())
        for file in files:
            if "mutation" in file.parts or "node_modules" in file.parts or "__pycache__" in file.parts:
                continue
            digest.update(str(file.relative_to(ROOT)).encode() + b"\0" + file.read_bytes() + b"\0")
    return digest.hexdigest()[:16]


def name_of(change):
    return hashlib.sha256("\0".join((change["file"], change["find"], change["instead"])).encode()).hexdigest()[:16]


class Scratch:
    """A copy of the sources with a build of its own. Files keep their times where nothing has changed."""

    def __init__(self, folder, jobs):
        self.source, self.build, self.jobs = folder / "source", folder / "build", jobs
        self.source.mkdir(parents=True, exist_ok=True)
        self.refresh()
        if not (self.build / "build.ninja").exists():
            self.call(["cmake", "-S", self.source, "-B", self.build, "-G", "Ninja",
                       "-DCMAKE_BUILD_TYPE=RelWithDebInfo"])

    def refresh(self):
        """Make every file what it is in the project; touch only those that differ."""
        wanted = set()
        for name in COPIED:
            path = ROOT / name
            for file in [path] if path.is_file() else path.rglob("*"):
                if not file.is_file() or "node_modules" in file.parts or "__pycache__" in file.parts:
                    continue
                here = self.source / file.relative_to(ROOT)
                wanted.add(here)
                if here.exists() and here.read_bytes() == file.read_bytes():
                    continue
                here.parent.mkdir(parents=True, exist_ok=True)
                shutil.copy(file, here)
                os.utime(here)  # now, or the build would not see that it has changed
        for here in self.source.rglob("*"):
            if here.is_file() and here not in wanted:
                here.unlink()

    @staticmethod
    def call(command):
        subprocess.run([str(word) for word in command], check=True, stdout=subprocess.DEVNULL)

    def make(self, change):
        """Apply a change; False when its text is not there exactly once."""
        path = self.source / change["file"]
        text = path.read_text(encoding="utf-8")
        if text.count(change["find"]) != 1:
            return False
        path.write_text(text.replace(change["find"], change["instead"]), encoding="utf-8")
        return True

    def builds(self):
        done = subprocess.run(["cmake", "--build", str(self.build), "--target", "unit_tests", "-j", str(self.jobs)],
                              stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True, check=False)
        if done.returncode != 0:
            print(done.stdout[-2000:])
        return done.returncode == 0

    def noticed_by(self, tests, seconds):
        """The first test that fails; None when all pass."""
        command = [str(self.build / "tests" / "unit_tests"), "--gtest_filter=" + tests, "--gtest_fail_fast",
                   "--gtest_brief=1"]
        try:
            done = subprocess.run(command, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True,
                                  errors="replace", timeout=seconds, check=False, cwd=self.build)
        except subprocess.TimeoutExpired:
            return f"no end in {seconds} s"
        if done.returncode == 0:
            return None
        failed = [line for line in done.stdout.splitlines() if line.startswith("[  FAILED  ]")]
        return failed[0].split("]", 1)[1].split("(")[0].strip() if failed else f"exit code {done.returncode}"


def try_change(scratch, change):
    """(answer, by what)"""
    scratch.refresh()
    if not scratch.make(change):
        return "not found", "the text does not stand in the file exactly once"
    if not scratch.builds():
        return "not built", "the change does not compile"
    by = scratch.noticed_by(change["tests"], FILTER_SECONDS)
    if by:
        return "noticed", by
    by = scratch.noticed_by("*", ALL_SECONDS)
    return ("noticed elsewhere", by) if by else ("unnoticed", "")


def known_answers(path, state):
    if not path.exists():
        return {}
    lines = [json.loads(line) for line in path.read_text(encoding="utf-8").splitlines()]
    return {line["change"]: (line["answer"], line["by"]) for line in lines if line["state"] == state}


def selected(text, number):
    if text is None:
        return range(1, number + 1)
    first, _, last = text.partition("-")
    return range(int(first), int(last or first) + 1)


def options():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--only", metavar="N-M", help="changes by number, from 1")
    parser.add_argument("--folder", type=pathlib.Path, default=ROOT / "build" / "mutation")
    parser.add_argument("--jobs", type=int, default=2)
    parser.add_argument("--list", action="store_true", help="only check that every change can be made")
    return parser.parse_args()


def check_list(changes):
    wrong = 0
    for number, change in enumerate(changes, start=1):
        count = (ROOT / change["file"]).read_text(encoding="utf-8").count(change["find"])
        if count != 1 or change["find"] == change["instead"]:
            wrong += 1
            print(f"{number} {change['file']}: found {count} times: {change['find']}")
    print(f"{len(changes)} changes in {len({change['file'] for change in changes})} files, {wrong} cannot be made")
    return 1 if wrong else 0


def run(asked, changes):
    scratch = Scratch(asked.folder, asked.jobs)
    state, path = state_of_sources(), asked.folder / "answers.jsonl"
    known = known_answers(path, state)

    def keep(name, answer, by):
        known[name] = (answer, by)
        with path.open("a", encoding="utf-8") as out:
            out.write(json.dumps({"state": state, "change": name, "answer": answer, "by": by}) + "\n")

    if "nothing" not in known:
        by = "the build" if not scratch.builds() else scratch.noticed_by("*", ALL_SECONDS)
        if by:
            print(f"the tests fail without any change: {by}")
            return 1
        keep("nothing", "unnoticed", "")
    counts, explained = {}, 0
    for number in selected(asked.only, len(changes)):
        change, start = changes[number - 1], time.monotonic()
        if name_of(change) not in known:
            keep(name_of(change), *try_change(scratch, change))
        answer, by = known[name_of(change)]
        counts[answer] = counts.get(answer, 0) + 1
        reason = change.get("unnoticed", "") if answer == "unnoticed" else ""
        explained += bool(reason)
        print(f"{number:3} {answer:17} {change['file']}: {change['why']} ({by or reason or 'no explanation yet'}; "
              f"{time.monotonic() - start:.0f} s)", flush=True)
    scratch.refresh()
    print(", ".join(f"{count} {answer}" for answer, count in sorted(counts.items()))
          + f"; {explained} of the unnoticed explained")
    good = counts.get("noticed", 0) + counts.get("noticed elsewhere", 0) + explained
    return 0 if good == sum(counts.values()) else 1


def main():
    asked = options()
    changes = json.loads(CHANGES.read_text(encoding="utf-8"))
    return check_list(changes) if asked.list else run(asked, changes)


if __name__ == "__main__":
    sys.exit(main())
