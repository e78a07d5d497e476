"""Measurements, as ratios in one run: the machine is shared, so single times mean little.

    run.py --locknut PROGRAM --parse PROGRAM --proofs PROGRAM --work DIR [--before PROGRAM] [--procedures N] [--large N]

The last line of standard output is one JSON object of all figures.
"""

import argparse
import json
import os
import pathlib
import re
import statistics
import subprocess
import sys
import time

from generate import generate

sys.path.append(str(pathlib.Path(__file__).parent.parent / "outside"))
from spin import SYSTEMS  # noqa: E402

ROUNDS = 3


def main():
    arguments = argparse.ArgumentParser(description="Measure Locknut beside other programs.")
    arguments.add_argument("--locknut", required=True)
    arguments.add_argument("--parse", required=True)
    arguments.add_argument("--proofs", required=True)
    arguments.add_argument("--work", required=True)
    arguments.add_argument("--before")
    arguments.add_argument("--procedures", type=int, default=1000)
    arguments.add_argument("--large", type=int, default=10000)
    asked = arguments.parse_args()
    work = pathlib.Path(asked.work) / "bench"
    library, xml = generate(work, asked.procedures)
    lines = sum(path.read_text(encoding="utf-8").count("\n") for path in library.glob("*.lkn"))
    say(f"{asked.procedures} procedures, {lines} lines")
    sound(asked.locknut, library, xml)
    figures = checking(asked, library, xml, lines)
    figures |= printing(asked.locknut, work)
    figures |= proving(asked.proofs)
    figures |= beside_spin(asked.locknut, work)
    figures |= large(asked, work)
    if asked.before:
        figures |= cost_of_readings(asked, work)
    for name, value in figures.items():
        say(f"{name} {value}")
    print(json.dumps(figures))


def say(words):
    print(words, flush=True)


def sound(locknut, library, xml):
    """What is measured must be right, or the figures say nothing."""
    done = subprocess.run([locknut, "check", library], capture_output=True, text=True, check=False)
    if done.returncode or "nothing wrong" not in done.stderr:
        sys.exit(f"the generated library is not clean:\n{done.stderr[-3000:]}")
    files = sorted(map(str, xml.glob("*.xml")))
    done = subprocess.run(["xmllint", "--noout", "--schema", xml / "procedure.xsd", *files], capture_output=True, text=True, check=False)
    if done.returncode:
        sys.exit(f"the generated XML does not fit its schema:\n{done.stderr[:3000]}")


def checking(asked, library, xml, lines):
    xml_files = sorted(map(str, xml.glob("*.xml")))
    lkn_files = sorted(map(str, library.glob("*.lkn")))
    commands = {
        "parse": [asked.parse, str(library)],
        "check": [asked.locknut, "check", "--forget", str(library)],
        "xmllint": ["xmllint", "--noout", "--schema", str(xml / "procedure.xsd"), *xml_files],
        "sha256sum": ["sha256sum", *lkn_files],
    }
    taken = {name: [] for name in commands}
    for _ in range(ROUNDS):
        for name, command in commands.items():
            taken[name].append(timed(command))
    wall = {name: statistics.median(one[0] for one in all) for name, all in taken.items()}
    cpu = {name: statistics.median(one[1] for one in all) for name, all in taken.items()}
    for name in commands:
        say(f"{name}: {wall[name]:.3f} s wall, {cpu[name]:.3f} s CPU (medians of {ROUNDS})")
    return {
        "parse_lines_per_s": round(lines / wall["parse"]),
        "check_lines_per_s": round(lines / wall["check"]),
        "check_vs_xmllint_wall": round(wall["check"] / wall["xmllint"], 3),
        "check_vs_xmllint_cpu": round(cpu["check"] / cpu["xmllint"], 3),
        "check_vs_sha256sum_cpu": round(cpu["check"] / max(cpu["sha256sum"], 0.001), 3),
    }


def cost_of_readings(asked, work):
    """CPU time beside the command from before readings were weighed and joints reckoned, on a library of that time."""
    home = pathlib.Path(asked.before)
    make = "import pathlib, sys; sys.path.insert(0, sys.argv[1]); from generate import generate; generate(pathlib.Path(sys.argv[2]), int(sys.argv[3]))"
    folder = work / "before"
    subprocess.run([sys.executable, "-B", "-c", make, home / "tests" / "bench", folder, str(asked.procedures)], check=True)
    library = str(folder / "library")
    # The earlier command remembered nothing, so this one is told to forget.
    rounds = [(timed([asked.locknut, "check", "--forget", library])[1], timed([home / "locknut", "check", library])[1]) for _ in range(2 * ROUNDS)]
    now, then = (statistics.median(one[at] for one in rounds) for at in (0, 1))
    say(f"{asked.procedures} procedures of an earlier library: {now:.2f} s CPU, {then:.2f} s by the command of that time")
    return {"check_cost_of_readings_ratio": round(now / then, 2)}


def proving(program):
    """The proof alone, in milliseconds; for freed steps also as a curve."""
    taken = json.loads(subprocess.run([program], check=True, capture_output=True, text=True).stdout)
    for point in taken.pop("proof_freed_curve"):
        say(f"{point['steps']} freed steps: {point['us'] / 1000} ms")
    return {name.replace("_us", "_ms"): value / 1000 for name, value in taken.items()}


def beside_spin(locknut, work):
    """Whole process from text to answer, on systems written for both: SPIN at its kindest, a process a step."""
    systems = {name: SYSTEMS[name] for name in ("8 freed steps", "two chains of 30", "cam, free")}
    ours, theirs = [], []
    for position, (name, (source, model, *_)) in enumerate(systems.items()):
        folder = work / f"spin-{position}"
        (folder / "library").mkdir(parents=True)
        (folder / "library" / "library.yaml").write_text("publisher: Kestmoor\n", encoding="utf-8")
        (folder / "library" / "job.lkn").write_text(source, encoding="utf-8")
        (folder / "m.pml").write_text(model, encoding="utf-8")
        check = [locknut, "check", "--forget", str(folder / "library")]
        spin = ["sh", "-c", f"cd {folder} && spin -a m.pml && gcc -O0 -w -DSAFETY -DMEMLIM=64 -o pan pan.c && ./pan -m10000 -w12"]
        fails = "cam" in name
        ours.append(statistics.median(timed(check, fails)[0] for _ in range(7)))
        theirs.append(statistics.median(timed(spin)[0] for _ in range(3)))
        say(f"{name}: {1000 * ours[-1]:.1f} ms, SPIN {1000 * theirs[-1]:.0f} ms")
    return {"proof_vs_spin": round(min(one / other for one, other in zip(theirs, ours)), 1)}


def large(asked, work):
    """A large library, cold, once more with nothing changed, and with one line changed, a different file each time."""
    library, xml = generate(work / "large", asked.large)
    xml_files = sorted(map(str, xml.glob("*.xml")))
    (work / "files.txt").write_text("\n".join(xml_files), encoding="utf-8")
    again = [asked.locknut, "check", str(library)]
    cold = [*again, "--forget"]
    lint = ["sh", "-c", f"xargs -s 2000000 -n 100000 xmllint --noout --schema {xml / 'procedure.xsd'} < {work / 'files.txt'}"]
    rounds = [(timed(cold), timed(lint)) for _ in range(ROUNDS)]
    wall, cpu = (statistics.median(mine[at] for mine, _ in rounds) for at in (0, 1))
    lint_wall, lint_cpu = (statistics.median(theirs[at] for _, theirs in rounds) for at in (0, 1))
    peak = subprocess.run(["/usr/bin/time", "-f", "%M", *cold], capture_output=True, text=True, check=True).stderr
    unchanged = statistics.median(timed(again)[0] for _ in range(ROUNDS))
    changed = []
    for edited in sorted(library.glob("gap-*.lkn"))[:ROUNDS]:
        edited.write_text(edited.read_text(encoding="utf-8") + "// One line more.\n", encoding="utf-8")
        changed.append(timed(again)[0])
    edit = statistics.median(changed)
    say(
        f"{asked.large} procedures: {wall:.2f} s wall, {cpu:.2f} s CPU; xmllint {lint_wall:.2f} s, {lint_cpu:.2f} s; "
        f"again {unchanged:.2f} s, after one edit {edit:.2f} s"
    )
    return {
        "check_10000_vs_xmllint_wall": round(wall / lint_wall, 2),
        "check_10000_vs_xmllint_cpu": round(cpu / lint_cpu, 2),
        "check_10000_peak_mib": round(int(peak.strip().splitlines()[-1]) / 1024),
        "check_10000_unchanged_ratio": round(unchanged / wall, 3),
        "check_10000_again_ratio": round(edit / wall, 3),
    }


def printing(locknut, work):
    small, _ = generate(work / "small", 50)
    start = time.monotonic()
    subprocess.run([locknut, "build", small, "--into", work / "out"], check=True, capture_output=True)
    wall = time.monotonic() - start
    pages = sum(pages_of(path) for path in (work / "out").glob("*/checklist.*.pdf"))
    firsts = [
        timed([locknut, "print", "slew-brake-gap", "--library", "procedures", "--into", str(work / "first.pdf")])[0]
        for _ in range(5)
    ]
    return {"print_pages_per_s": round(pages / wall, 1), "first_sheet_ms": round(1000 * statistics.median(firsts))}


def pages_of(path):
    told = subprocess.run(["pdfinfo", path], capture_output=True, text=True, check=True).stdout
    return int(re.search(r"Pages:\s+(\d+)", told).group(1))


def timed(command, fails=False):
    """Wall and CPU seconds of a whole process."""
    before = os.times()
    start = time.monotonic()
    done = subprocess.run(command, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, text=True, check=False)
    wall = time.monotonic() - start
    after = os.times()
    if bool(done.returncode) != fails:
        sys.exit(f"{command[0]} failed: {done.stderr[-2000:]}")
    return wall, (after.children_user - before.children_user) + (after.children_system - before.children_system)


if __name__ == "__main__":
    main()
