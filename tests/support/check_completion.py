#!/usr/bin/env python3
"""Let a real shell complete the command line of backplan by the script that the program prints.

Usage: check_completion.py PROGRAM SHELL

SHELL is bash, zsh or fish. What is completed is held against `backplan man --list` and the options that each
`--help` names. Exit code 0 when all is well, 1 with one line a fault, 77 when there is no such shell.
"""
import os
import pathlib
import re
import shutil
import subprocess
import sys
import tempfile

SKIPPED = 77  # ctest's SKIP_RETURN_CODE

# Stand-ins for what only a running line editor has; each prints what it was given, a word a line.
ZSH_STUBS = """
compdef() { :; }
compadd() { shift; print -l -- "$@"; }
_describe() { local -a all; all=("${(@P)2}"); print -l -- "${all[@]%%:*}"; }
_files() { if [[ "$1" == -/ ]]; then print -l -- *(/N); else print -l -- *(N); fi; }
"""


def output(words, **more):
    return subprocess.run(words, capture_output=True, text=True, encoding="utf-8", check=True, **more).stdout


class Shell:
    def __init__(self, name, script, folder):
        self.name, self.script, self.folder = name, script, folder

    def check_syntax(self):
        output([self.name, "-n", self.script])

    def complete(self, words):
        """What may stand in the place of the last word."""
        if self.name == "fish":
            line = " ".join(words)
            out = output(["fish", "--no-config", "-c", f"source {self.script}; complete -C '{line}'"],
                         cwd=self.folder, env={**os.environ, "HOME": self.folder})
            return [one.split("\t")[0] for one in out.splitlines()]
        if self.name == "zsh":
            quoted = " ".join(f"'{word}'" for word in words)
            code = (f"{ZSH_STUBS}\nsource {self.script}\nwords=({quoted})\nCURRENT={len(words)}\n"
                    f"PREFIX='{words[-1]}'\n_backplan")
            found = output(["zsh", "-f", "-c", code], cwd=self.folder).splitlines()
            return [one for one in found if one.startswith(words[-1])]
        quoted = " ".join(f"'{word}'" for word in words)
        code = (f"source {self.script}; COMP_WORDS=({quoted}); COMP_CWORD={len(words) - 1}; _backplan; "
                'printf "%s\\n" "${COMPREPLY[@]}"')
        return output(["bash", "--norc", "-c", code], cwd=self.folder).splitlines()


def named_options(program, command):
    """The options of the list that ends a help text, those of every command too."""
    text = output([program, *command.split(), "--help"])
    return set(re.findall(r"--[a-z-]+", text[text.rindex("Options:"):]))


def faults_of(program, shell):
    commands = [line.partition(" ")[2] for line in output([program, "man", "--list"]).splitlines()][1:]
    faults = []

    def expect(words, wanted, exactly=False):
        found = set(shell.complete(["backplan", *words])) - {""}
        if not (found == wanted if exactly else found >= wanted):
            faults.append(f"{shell.name}: {words}: found {sorted(found)}, expected {sorted(wanted)}")

    expect([""], {one for one in commands if " " not in one})
    expect(["standard", ""], {one.split()[1] for one in commands if one.startswith("standard ")})
    expect(["-C", "plan", "stan"], {"standard"}, exactly=True)
    expect(["rep"], {"replan"}, exactly=True)
    for command in commands:
        expect([*command.split(), "--"], named_options(program, command))
    expect(["plan", "--as"], {"--as-of"}, exactly=True)
    expect(["plan", "--as-of", ""], set(), exactly=True)
    expect(["log", "result", "HRP", "31", "--setting", "pr"], {"practice"}, exactly=True)
    expect(["completion", ""], {"bash", "zsh", "fish"})
    expect(["standard", "check", "ru"], {"run.csv"}, exactly=True)
    return faults


def main(arguments):
    if len(arguments) != 2:
        print(__doc__, file=sys.stderr)
        return 2
    program, name = os.path.abspath(arguments[0]), arguments[1]
    if shutil.which(name) is None:
        print(f"{name} is not there")
        return SKIPPED
    with tempfile.TemporaryDirectory() as folder:
        script = pathlib.Path(folder) / f"script.{name}"
        script.write_text(output([program, "completion", name]), encoding="utf-8")
        inside = pathlib.Path(folder) / "inside"
        inside.mkdir()
        (inside / "run.csv").touch()
        shell = Shell(name, str(script), str(inside))
        shell.check_syntax()
        faults = faults_of(program, shell)
    print("\n".join(faults + [f"{name}: {len(faults)} faults"]))
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
