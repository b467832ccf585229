#!/usr/bin/env python3
"""Judge what the program answers in JSON by the published schema.

Usage: check_answers.py PROGRAM SCHEMA COMMAND FILE...

Runs `PROGRAM COMMAND --json` for each FILE, a candidate.json, in a folder of its own, on the day on which
the demonstration begins. Prints one line a fault; exit code 0 when every answer is valid, 1 otherwise, 2 on
a usage fault.
"""
import pathlib
import shutil
import subprocess
import sys
import tempfile

from check_schema import faults_of_text, validator_of

AS_OF = "2026-12-01"  # data/demo/README.md
DONE, ANSWER_IS_NO = 0, 1  # an answer in either case
# What a command needs to have been done before it.
BEFORE = {"replan": [["plan"], ["log", "push_up", "--minutes", "20", "--set", "15"], ["log", "pain", "shin", "--level", "3"]]}


def answer(program, words, folder):
    return subprocess.run(
        [program, *words, "--as-of", AS_OF, "-C", folder],
        capture_output=True, text=True, encoding="utf-8", check=False,
    )


def faults_of_answer(program, command, validator, candidate):
    with tempfile.TemporaryDirectory() as folder:
        shutil.copy(candidate, pathlib.Path(folder) / "candidate.json")
        for words in BEFORE.get(command, []):
            answer(program, words, folder)
        run = answer(program, [command, "--json"], folder)
    if run.returncode not in (DONE, ANSWER_IS_NO):
        return [f"{candidate}: {command} ended with exit code {run.returncode}: {run.stderr}"]
    return faults_of_text(validator, candidate, run.stdout)


def main(arguments):
    if len(arguments) < 4:
        print(__doc__, file=sys.stderr)
        return 2
    program, schema, command, *candidates = arguments
    validator = validator_of(schema)
    faults = [fault for one in candidates for fault in faults_of_answer(program, command, validator, one)]
    print("\n".join(faults + [f"{command}: {len(candidates)} answers, {len(faults)} faults"]))
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
