#!/usr/bin/env python3
"""Judge the README by what the program really prints.

Usage: check_readme.py PROGRAM REPOSITORY

The printed examples (the blocks that begin with "$ backplan", with a command or several) must be lines of the
program's answers for the first demonstration candidate (of "squad" for the squad), one after the other in one folder, in their order,
shortened only where a line is "..."; the commands of the tables must be known to the program. Prints one line a fault; exit code 0 when there is none, 1 otherwise, 2 on a usage
fault.
"""
import pathlib
import re
import shlex
import shutil
import subprocess
import sys
import tempfile


def run(program, arguments, folder=None):
    return subprocess.run(
        [program, *arguments], cwd=folder, capture_output=True, text=True, encoding="utf-8", check=False
    )


def faults_of_answer(printed, shown):
    at, faults, gap = 0, [], False
    for line in shown:
        if line.strip() == "...":
            gap = True
            continue
        there = printed.index(line, at) if line in printed[at:] else None
        if there is None:
            faults.append(f"the program does not print: {line}")
        elif there > at and not gap:
            faults.append(f"something is left out before: {line}")
        at, gap = (at if there is None else there + 1), there is None
    return faults


def faults_of_examples(program, repository, readme):
    blocks = re.findall(r"^```\n(\$ backplan (?:.*\n)*?)```$", readme, re.MULTILINE)
    if not blocks:
        return ["there is no printed example"]
    faults = []
    with tempfile.TemporaryDirectory() as person, tempfile.TemporaryDirectory() as squad:
        shutil.copy(repository / "data/demo/rowan/candidate.json", person)
        for file in (repository / "data/demo/larch").iterdir():
            shutil.copy(file, squad)
        for block in blocks:
            for part in block.split("$ backplan ")[1:]:
                command, *shown = part.splitlines()
                words = shlex.split(command)
                answer = run(program, words, squad if words[0] == "squad" else person)
                faults += faults_of_answer(answer.stdout.splitlines(), shown)
    return faults


def faults_of_commands(program, readme):
    commands = re.findall(r"^\| `backplan (\w+)` \|", readme, re.MULTILINE)
    unknown = [one for one in commands if run(program, [one, "--help"]).returncode != 0]
    return [f"the program does not know: {one}" for one in unknown] or (
        [] if commands else ["there is no table of commands"]
    )


def main(arguments):
    if len(arguments) != 2:
        print(__doc__, file=sys.stderr)
        return 2
    program, repository = arguments[0], pathlib.Path(arguments[1])
    readme = (repository / "README.md").read_text(encoding="utf-8")
    faults = faults_of_examples(program, repository, readme) + faults_of_commands(program, readme)
    print("\n".join(faults + [f"README.md: {len(faults)} faults"]))
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
