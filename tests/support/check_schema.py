#!/usr/bin/env python3
"""Judge files by a published schema.

Usage: check_schema.py SCHEMA FILE...   each FILE must be valid
       check_schema.py --refuse SCHEMA FILE...   each FILE must be refused

Prints one line a fault; exit code 0 when every file is judged as expected, 1 otherwise, 2 on a
usage fault. Needs python3-jsonschema 4 (Draft 2020-12).
"""
import json
import pathlib
import sys

from jsonschema import Draft202012Validator, RefResolver


def validator_of(path):
    """The validator of a schema file; what it refers to is looked up beside it."""
    path = pathlib.Path(path).resolve()
    schema = json.loads(path.read_text(encoding="utf-8"))
    Draft202012Validator.check_schema(schema)
    return Draft202012Validator(
        schema, resolver=RefResolver(path.as_uri(), schema), format_checker=Draft202012Validator.FORMAT_CHECKER
    )


def faults_of_text(validator, name, text):
    """The faults of JSON text in words, by place; `name` says where it comes from."""
    try:
        value = json.loads(text)
    except ValueError as error:
        return [f"{name}: not JSON: {error}"]
    faults = sorted(validator.iter_errors(value), key=lambda e: [str(step) for step in e.absolute_path])
    return [f"{name}: /{'/'.join(str(s) for s in e.absolute_path)}: {e.message}" for e in faults]


def faults_of(validator, path):
    """The faults of one file in words, by place."""
    try:
        with open(path, encoding="utf-8") as file:
            text = file.read()
    except ValueError as error:
        return [f"{path}: not text: {error}"]
    return faults_of_text(validator, path, text)


def main(arguments):
    refuse = bool(arguments) and arguments[0] == "--refuse"
    paths = arguments[1:] if refuse else arguments
    if len(paths) < 2:
        print(__doc__, file=sys.stderr)
        return 2
    validator = validator_of(paths[0])
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
