#!/usr/bin/env python3
"""Judge candidate files or lines of a journal by the published schema.

Usage: check_schema.py SCHEMA FILE...   each FILE must be valid
       check_schema.py --refuse SCHEMA FILE...   each FILE must be refused

Prints one line a fault; exit code 0 when every file is judged as expected, 1 otherwise, 2 on a
usage fault. Needs python3-jsonschema 4 (Draft 2020-12).
"""
import json
import sys

from jsonschema import Draft202012Validator


def faults_of(validator, path):
    """The faults of one file in words, by place."""
    try:
        with open(path, encoding="utf-8") as file:
            candidate = json.load(file)
    except ValueError as error:
        return [f"{path}: not JSON: {error}"]
    faults = sorted(validator.iter_errors(candidate), key=lambda e: [str(step) for step in e.absolute_path])
    return [f"{path}: /{'/'.join(str(s) for s in e.absolute_path)}: {e.message}" for e in faults]


def main(arguments):
    refuse = bool(arguments) and arguments[0] == "--refuse"
    paths = arguments[1:] if refuse else arguments
    if len(paths) < 2:
        print(__doc__, file=sys.stderr)
        return 2
    with open(paths[0], encoding="utf-8") as file:
        schema = json.load(file)
    Draft202012Validator.check_schema(schema)
    validator = Draft202012Validator(schema, format_checker=Draft202012Validator.FORMAT_CHECKER)
    wrong = 0
    for path in paths[1:]:
        faults = faults_of(validator, path)
        if refuse and not faults:
            print(f"{path}: accepted, but should be refused")
        elif not refuse:
            print("\n".join(faults), end="\n" if faults else "")
        wrong += bool(faults) != refuse
    print(f"{len(paths) - 1} files, {wrong} judged otherwise than expected")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
