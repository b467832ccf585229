#!/usr/bin/env python3
"""Change one operator of the core at a time and see whether the unit tests notice.

Usage: tests/mutation/run.py [--only N-M] [--named] [--build DIR] [--answers FILE] [--list]

tests/mutation/changes.json holds the changes: the file, the text to find (once in the file), what stands in for
it, why that matters, and the tests that should notice. DIR is a build folder in which `unit_tests` is up to date
(./setup prove makes build/prove). A changed copy of the one file is compiled as that build compiles it, and the
unit tests are linked anew with it in front of the core's library; nothing else is touched. The tests named run,
and if they pass, all unit tests. A change is noticed when a test fails, crashes or hangs. The answers are kept,
with the state of the sources that they hold for: a run that was broken off goes on where it was. Exit code 0
when every change asked for was tried and each one that stayed unnoticed is explained in its entry ("unnoticed").
"""
import argparse
import hashlib
import json
import pathlib
import shlex
import subprocess
import sys
import time

ROOT = pathlib.Path(__file__).resolve().parents[2]
CHANGES = pathlib.Path(__file__).with_name("changes.json")
FILTER_SECONDS, ALL_SECONDS = 300, 1200  # a change can make a loop endless: that is noticed, too
BUILT_FROM = ("CMakeLists.txt", "data", "include", "src", "tests/support", "tests/unit", "tests/golden")


def state_of_sources():
    """A hash of what decides the answers, the list of changes left out."""
    digest = hashlib.sha256()
    for name in BUILT_FROM:
        path = ROOT / name
        for file in [path] if path.is_file() else sorted(p for p in path.rglob("*") if p.is_file()):
            digest.update(str(file.relative_to(ROOT)).encode() + b"\0" + file.read_bytes() + b"\0")
    return digest.hexdigest()[:16]


def name_of(change):
    return hashlib.sha256("\0".join((change["file"], change["find"], change["instead"])).encode()).hexdigest()[:16]


class Build:
    """A build folder, and how it compiles a file of the core and links the unit tests."""

    def __init__(self, folder):
        self.folder, self.scratch = folder, folder / "changed"
        self.scratch.mkdir(exist_ok=True)
        subprocess.run(["cmake", "--build", str(folder), "--target", "unit_tests"], check=True,
                       stdout=subprocess.DEVNULL)
        self.compiling = {}
        for command in self.commands("src/core/libbackplan_core.a"):
            words = shlex.split(command)
            if "-c" in words:
                self.compiling[pathlib.Path(words[words.index("-c") + 1])] = words
        self.link = next(part for command in self.commands("tests/unit_tests") for part in command.split(" && ")
                         if " -o tests/unit_tests " in part)

    def commands(self, target):
        return subprocess.run(["ninja", "-C", str(self.folder), "--quiet", "-t", "commands", target],
                              capture_output=True, text=True, check=True).stdout.splitlines()

    def call(self, words):
        """What went wrong; empty when nothing did."""
        done = subprocess.run(words, cwd=self.folder, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True,
                              check=False)
        return done.stdout[-2000:] if done.returncode else ""

    def make(self, file, text):
        """The unit tests with this text for the file; what went wrong, if anything."""
        source = ROOT / file
        changed = self.scratch / source.name
        changed.write_text(text, encoding="utf-8")
        made = changed.with_suffix(".o")
        words = [str(changed) if word == str(source) else word for word in self.compiling[source]]
        words[words.index("-o") + 1] = str(made)
        for option in ("-MT", "-MF"):  # what ninja knows of the real file stays as it is
            if option in words:
                del words[words.index(option):words.index(option) + 2]
        if "-MD" in words:
            words.remove("-MD")
        # The file has left the folder of the headers that it names without a path. Changes may leave something
        # unused, which is no reason to refuse them.
        fault = self.call(words + ["-iquote", str(source.parent), "-Wno-error"])
        # A symbol that an object defines is not looked for in the library.
        link = self.link.replace(" -o tests/unit_tests ", f" -o {self.tests} {made} ")
        return fault or self.call(["sh", "-c", link])

    @property
    def tests(self):
        return self.scratch / "unit_tests"

    def noticed_by(self, tests, seconds):
        """The first test that fails; None when all pass."""
        command = [str(self.tests), "--gtest_filter=" + tests, "--gtest_fail_fast", "--gtest_brief=1"]
        try:
            done = subprocess.run(command, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True,
                                  errors="replace", timeout=seconds, check=False, cwd=self.folder / "tests")
        except subprocess.TimeoutExpired:
            return f"no end in {seconds} s"
        if done.returncode == 0:
            return None
        failed = [line for line in done.stdout.splitlines() if line.startswith("[  FAILED  ]")]
        return failed[0].split("]", 1)[1].split("(")[0].strip() if failed else f"exit code {done.returncode}"


def try_change(build, change, named_only):
    """(answer, by what)"""
    text = (ROOT / change["file"]).read_text(encoding="utf-8")
    if text.count(change["find"]) != 1:
        return "not found", "the text does not stand in the file exactly once"
    fault = build.make(change["file"], text.replace(change["find"], change["instead"]))
    if fault:
        return "not built", fault
    by = build.noticed_by(change["tests"], FILTER_SECONDS)
    if by:
        return "noticed", by
    if named_only:
        return "open", "the tests named pass"
    by = build.noticed_by("*", ALL_SECONDS)
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


def check_list(changes):
    wrong = 0
    for number, change in enumerate(changes, start=1):
        count = (ROOT / change["file"]).read_text(encoding="utf-8").count(change["find"])
        if count != 1 or change["find"] == change["instead"]:
            wrong += 1
            print(f"{number} {change['file']}: found {count} times: {change['find']}")
    print(f"{len(changes)} changes in {len({change['file'] for change in changes})} files, {wrong} cannot be made")
    return 1 if wrong else 0


def fault_without_change(build, changes):
    """What fails when a copy is compiled and linked in the same way without any change."""
    file = changes[0]["file"]
    return (build.make(file, (ROOT / file).read_text(encoding="utf-8"))
            or build.noticed_by("*", ALL_SECONDS))


def run(asked, changes):
    build = Build(asked.build.resolve())
    state, path = state_of_sources(), asked.answers or build.scratch / "answers.jsonl"
    known = known_answers(path, state)

    def keep(name, answer, by):
        known[name] = (answer, by)
        if answer == "open":
            return
        with path.open("a", encoding="utf-8") as out:
            out.write(json.dumps({"state": state, "change": name, "answer": answer, "by": by}) + "\n")

    if "nothing" not in known and not asked.named:
        fault = fault_without_change(build, changes)
        if fault:
            print(f"the tests fail without any change: {fault}")
            return 1
        keep("nothing", "unnoticed", "")
    counts, explained = {}, 0
    for number in selected(asked.only, len(changes)):
        change, start = changes[number - 1], time.monotonic()
        if name_of(change) not in known:
            keep(name_of(change), *try_change(build, change, asked.named))
        answer, by = known[name_of(change)]
        counts[answer] = counts.get(answer, 0) + 1
        reason = change.get("unnoticed", "") if answer == "unnoticed" else ""
        explained += bool(reason)
        print(f"{number:3} {answer:17} {change['file']}: {change['why']} ({by or reason or 'no explanation yet'}; "
              f"{time.monotonic() - start:.0f} s)", flush=True)
    print(", ".join(f"{count} {answer}" for answer, count in sorted(counts.items()))
          + f"; {explained} of the unnoticed explained")
    good = counts.get("noticed", 0) + counts.get("noticed elsewhere", 0) + explained
    return 0 if good == sum(counts.values()) else 1


def options():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--only", metavar="N-M", help="changes by number, from 1")
    parser.add_argument("--named", action="store_true", help="only the tests named; what they miss stays open")
    parser.add_argument("--build", type=pathlib.Path, default=ROOT / "build" / "prove")
    parser.add_argument("--answers", type=pathlib.Path, help="where they are kept; else in the build folder")
    parser.add_argument("--list", action="store_true", help="only check that every change can be made")
    return parser.parse_args()


def main():
    asked = options()
    changes = json.loads(CHANGES.read_text(encoding="utf-8"))
    return check_list(changes) if asked.list else run(asked, changes)


if __name__ == "__main__":
    sys.exit(main())
