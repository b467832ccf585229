"""What the scripts share that judge cases: their options, and the cases of the program beside them."""
import argparse
import json
import subprocess


def parser_of(doc, number):
    """Options that begin with the program that prints cases and how many of them, `number` if not said."""
    parser = argparse.ArgumentParser(description=doc.splitlines()[0])
    parser.add_argument("cases", help="the program that prints them, a JSON object a line")
    parser.add_argument("number", nargs="?", type=int, default=number)
    return parser


def cases_of(program, *numbers):
    """Each case as soon as it is printed; an error at the end if the program failed."""
    command = [program, *map(str, numbers)]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True, encoding="utf-8") as printed:
        for line in printed.stdout:
            yield json.loads(line)
    if printed.returncode:
        raise subprocess.CalledProcessError(printed.returncode, command)


def tell(faults):
    """Prints the faults, if any, a line each."""
    print("\n".join(faults), end="\n" if faults else "")
