"""Delete, swap or weaken one line of every demo procedure at every place; brute force and the proof must agree.

    mutants.py --judged PROGRAM --library DIR [--library DIR]

The explorer (`explore.py`) works on the published step graph and shares no code with the compiler.
"""

import argparse
import json
import pathlib
import re
import shutil
import subprocess
import tempfile

from explore import TooLarge, failing
from say import Failures

# Lines that do something; each stands alone on its line.
ACT = re.compile(r"^\s+(set|remove|fit|renew|tighten|slacken|nip|lock|unlock|drain|fill|apply|disconnect|connect|wait|do|hold|sign)\b[^{]*$")


def mutants(text):
    lines = text.splitlines(keepends=True)
    acts = [at for at, line in enumerate(lines) if ACT.match(line)]
    for at in acts:
        yield f"line {at + 1} deleted", "".join(lines[:at] + lines[at + 1:])
        if at + 1 in acts:
            yield f"lines {at + 1} and {at + 2} swapped", "".join(lines[:at] + [lines[at + 1], lines[at]] + lines[at + 2:])
        weaker = re.sub(r"wait \S+( min)?", "wait 1 min", lines[at])
        if weaker != lines[at]:
            yield f"line {at + 1} weakened", "".join(lines[:at] + [weaker] + lines[at + 1:])
    for at, line in enumerate(lines):
        for word in (r", proves [^{\n]*(?= \{)", r" needs [^{\n]*(?= \{)"):
            weaker = re.sub(word, "", line)
            if weaker != line and "step" not in line:
                yield f"line {at + 1} weakened", "".join(lines[:at] + [weaker] + lines[at + 1:])
        # A step of one line, whose only act is taken out of it.
        emptied = re.sub(r"\{ (set|remove|fit) [^}]*\}", '{ confirm "It is so." }', line)
        if emptied != line and "step" in line and "otherwise" not in line:
            yield f"line {at + 1} emptied", "".join(lines[:at] + [emptied] + lines[at + 1:])


def main():
    arguments = argparse.ArgumentParser(description="Compare verdicts on mutants.")
    arguments.add_argument("--judged", required=True)
    arguments.add_argument("--library", action="append", required=True)
    asked = arguments.parse_args()
    failures = Failures("mutants")
    tried = faulty = unread = large = 0
    for library in map(pathlib.Path, asked.library):
        for source in sorted(library.glob("*.lkn")):
            for what, text in mutants(source.read_text(encoding="utf-8")):
                with tempfile.TemporaryDirectory() as folder:
                    copy = pathlib.Path(folder, "library")
                    shutil.copytree(library, copy)
                    (copy / source.name).write_text(text, encoding="utf-8")
                    told = subprocess.run([asked.judged, copy], check=True, capture_output=True, text=True).stdout
                judged = [one for one in json.loads(told) if touches(one, source, text)]
                unread += not judged
                for one in judged:
                    # Whether a reading was taken is not gone through here.
                    ours = {(duty, node) for duty, node in one["failed"] if not duty.startswith("taken")}
                    try:
                        theirs = failing(one["graph"])
                    except TooLarge:
                        large += 1
                        continue
                    tried += 1
                    faulty += bool(theirs)
                    if ours != theirs:
                        more, less = sorted(map(str, theirs - ours)), sorted(map(str, ours - theirs))
                        failures.add(f"{source.name}, {what}, {one['name']}: brute force alone {more}; the proof alone {less}")
    if tried < 150 or faulty * 3 < tried:
        failures.add(f"only {tried} mutants were tried, {faulty} of them faulty")
    failures.leave(f"{tried} mutants, {faulty} of them faulty, agree at every place ({unread} do not compile, {large} are too large)")


def touches(one, source, text):
    """Whether a procedure stands in the changed file, or calls a subtask that does."""
    names = re.findall(r"^(?:procedure|subtask) (\S+)", text, re.MULTILINE)
    called = {node.get("subtask") for node in one["graph"]["nodes"]}
    return one["name"] in names or bool(called & set(names))


if __name__ == "__main__":
    main()
