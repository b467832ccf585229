#!/usr/bin/env python3
"""Judge the lines of journals by their published schema.

Usage: check_journal.py PROGRAM SCHEMA CANDIDATE SQUAD_FOLDER

Logs one of each kind of entry for a candidate (candidate.json), a table of results for a squad, and a person
taken into that squad with older results; every line of both journals must be as the schema says. Exit code 0
when it is, 1 otherwise, 2 on a usage fault.
"""
import pathlib
import shutil
import subprocess
import sys
import tempfile

from check_schema import faults_of_text, validator_of

AS_OF = "2026-12-15"  # two weeks after the demonstration begins
ENTRIES = [
    ["deadlift", "--set", "5@155", "--in-reserve", "2", "--minutes", "45", "--note", "good"],
    ["intervals", "--distance", "2mi", "--time", "17:05", "--hard", "--effort", "9"],
    ["result", "HRP", "31", "--setting", "practice", "--first"],
    ["missed", "--reason", "duty"],
    ["pain", "lower back", "--level", "4", "--night"],
]
# A result of a roster and an older one, which goes into the squad's journal when the person is taken in.
OLDER = (
    '{"date": "2026-08-01", "event": "HRP", "value": 20}, {"date": "2026-11-01", "event": "HRP", "value": 24}'
)
TAKEN_IN = (
    '{"format": "backplan-candidate/1", "id": "N-01", "birth_date": "1999-04-12", "column": "male",'
    ' "standard": "us-army-aft", "test_date": "2027-03-01", "target": {"total": 350}, "week": {"mon": 60},'
    ' "results": [' + OLDER + "]}"
)


def run(program, words, folder):
    answer = subprocess.run(
        [program, *words, "--as-of", AS_OF, "-C", folder],
        capture_output=True, text=True, encoding="utf-8", check=False,
    )
    if answer.returncode != 0:
        raise SystemExit(f"{' '.join(words)}: exit code {answer.returncode}: {answer.stderr}")


def lines_of(folder):
    return (folder / "journal.jsonl").read_text(encoding="utf-8").splitlines()


def candidates_lines(program, candidate, folder):
    """One of each kind, a replacement of the last and a void of the one before."""
    folder.mkdir()
    shutil.copy(candidate, folder / "candidate.json")
    for words in ENTRIES:
        run(program, ["log", *words], folder)
    ids = [line.split('"id":"')[1][:36] for line in lines_of(folder)[1:]]
    run(program, ["log", "replace", ids[-1], "pain", "lower back", "--level", "2"], folder)
    run(program, ["log", "void", ids[-2]], folder)
    return lines_of(folder)


def squads_lines(program, squad, folder):
    shutil.copytree(squad, folder)
    table = folder / "day.csv"
    table.write_text("id,date,HRP,2MR\nL-01,2026-12-14,26,21:10\nL-03,2026-12-14,14,\n", encoding="utf-8")
    run(program, ["squad", "log", str(table)], folder)
    newcomer = folder / "newcomer"
    newcomer.mkdir()
    (newcomer / "candidate.json").write_text(TAKEN_IN, encoding="utf-8")
    run(program, ["squad", "take", str(newcomer)], folder)
    return lines_of(folder)


def main(arguments):
    if len(arguments) != 4:
        print(__doc__, file=sys.stderr)
        return 2
    program, schema, candidate, squad = arguments
    validator = validator_of(schema)
    with tempfile.TemporaryDirectory() as scratch:
        own = candidates_lines(program, candidate, pathlib.Path(scratch) / "candidate")
        squads = squads_lines(program, squad, pathlib.Path(scratch) / "squad")
    faults = []
    for whose, lines in (("candidate", own), ("squad", squads)):
        for number, line in enumerate(lines, 1):
            faults += faults_of_text(validator, f"{whose}'s journal, line {number}", line)
    if not any('"who":"N-01"' in line for line in squads):
        faults.append("the squad's journal has no older result of the person taken in")
    print("\n".join(faults + [f"{len(own) + len(squads)} lines, {len(faults)} faults"]))
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
