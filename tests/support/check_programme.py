#!/usr/bin/env python3
"""Judge programme.json by its published schema.

Usage: check_programme.py PROGRAM SCHEMA SQUAD_FOLDER

Runs `backplan squad` in a copy of the folder; what it writes, and what it prints with --json, must be as the
schema says. Exit code 0 when it is, 1 otherwise, 2 on a usage fault.
"""
import pathlib
import shutil
import subprocess
import sys
import tempfile

from check_schema import faults_of, faults_of_text, validator_of


def main():
    if len(sys.argv) != 4:
        print(__doc__, file=sys.stderr)
        return 2
    program, schema, squad = sys.argv[1:]
    validator = validator_of(schema)
    with tempfile.TemporaryDirectory() as folder:
        for file in pathlib.Path(squad).iterdir():
            shutil.copy(file, folder)
        answer = subprocess.run(
            [program, "squad", "--json", "--as-of", "2026-12-01", "-C", folder],
            capture_output=True, text=True, encoding="utf-8", check=False)
        written = pathlib.Path(folder) / "programme.json"
        faults = faults_of_text(validator, "standard output", answer.stdout) + faults_of(validator, written)
    if answer.returncode > 1:
        faults.append(f"exit code {answer.returncode}: {answer.stderr}")
    for fault in faults:
        print(fault)
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())
