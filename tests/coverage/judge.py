#!/usr/bin/env python3
"""Print the line coverage of every file of ours, and fail where a file of the core is under the least share.

  judge.py SUMMARY      what `gcovr --json-summary` wrote; paths are from the root of the project

Exit code 1 when a file of src/core or include/backplan is under 90 %, or when there is none of them: then the
counting went wrong.
"""
import json
import pathlib
import sys

LEAST = 90.0  # per cent of the lines of a file
CORE = ("src/core/", "include/backplan/")
SHORT = 10    # lines: in a shorter file one that is not reached is more than a tenth


def main():
    files = json.loads(pathlib.Path(sys.argv[1]).read_text())["files"]
    under, core = [], 0
    print(f"{'lines':>6} {'covered':>8}        file")
    for one in sorted(files, key=lambda one: one["filename"]):
        name, lines, covered = one["filename"], one["line_total"], one["line_covered"]
        share = 100.0 * covered / lines if lines else 100.0
        is_core = name.startswith(CORE)
        core += is_core
        bad = is_core and share < LEAST and lines >= SHORT
        under += [name] if bad else []
        print(f"{lines:6} {covered:8} {share:5.1f} %  {name}{'   under ' + str(LEAST) + ' %' if bad else ''}")
    lines, covered = (sum(one[key] for one in files) for key in ("line_total", "line_covered"))
    print(f"{lines:6} {covered:8} {100.0 * covered / max(1, lines):5.1f} %  all {len(files)} files")
    print(f"{core} files of the core, {len(under)} of them under {LEAST} %")
    return 1 if under or not core else 0


sys.exit(main())
