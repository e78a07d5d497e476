"""Compares verdicts and shortest paths with SPIN, a model checker, on small systems written in both languages.

    spin.py --locknut PROGRAM

Each system is written twice, apart from one another: as a procedure and as Promela. SPIN explores every state without
reduction and breadth first. Compared are: whether anything goes wrong, what sort of thing, in how many steps at least;
and, where the number of orders is known in closed form, that number.

Sources. The systems are common exercises: freed steps have N! orders and two chains C(2N, N) (textbook combinatorics);
deadlock by crossed waits (Coffman, Elphick, Shoshani 1971, from memory); the rest is made for this file.
"""

import argparse
import json
import math
import pathlib
import re
import subprocess
import tempfile

from say import Failures

HEAD = """model rig {
  title "Rig"
%s
}
procedure job on rig {
  title "Job"
  crew a, b
%s
}
"""


def lkn(model, body):
    indented = lambda text, by: "\n".join(by * " " + line for line in text.strip().splitlines())
    return HEAD % (indented(model, 2), indented(body, 2))


def plain_steps(names):
    return "\n".join(f'step "{name}." {{ confirm "{name}" }}' for name in names)


def free_steps(count):
    """N freed steps that share nothing."""
    names = [f"Step {at}" for at in range(count)]
    body = "any order {\n" + plain_steps(names) + "\n}"
    processes = "\n".join(f'active proctype P{at}() {{ over[{at}] = 1 }}' for at in range(count))
    return lkn("state lamp : off, lit", body), f"bit over[{count}];\n{processes}\n", math.factorial(count)


def two_chains(count):
    """Two people with N steps each, free against one another."""
    lanes = [f"{who} {{\n" + plain_steps([f"{who} {at}" for at in range(count)]) + "\n}" for who in "ab"]
    body = "together {\n" + "\n".join(lanes) + "\n}"
    process = f"() {{ byte k; do :: d_step {{ k < {count} -> k++ }} :: else -> break od }}\n"
    return lkn("state lamp : off, lit", body), f"active proctype A{process}active proctype B{process}", math.comb(2 * count, count)


def chain(letters, last=""):
    steps = [f'd_step {{ k == {at} -> k++; printf("STEP {name}\\n"); {effect} }}' for at, (name, effect) in enumerate(letters)]
    return "byte k; " + "; ".join(steps) + last


def tether(ordered):
    """A chain of five and a freed step that must come before its last."""
    names = ["cover off", "pin out", "wedge in", "lever up"]
    model = """state rope  : off, tied
state brake : set, released
never brake is released unless rope is tied because "the jib swings" """
    tie = 'step "Tie." { set rope to tied }'
    mate = "b { " + plain_steps(["look"]) + " }" if ordered else "b { " + tie + " }"
    body = f"""{tie if ordered else ""}
together {{
  a {{
    {plain_steps(names)}
    step "Release." {{ set brake to released }}
  }}
  {mate}
}}
step "Set." {{ set brake to set }}
step "Untie." {{ set rope to off }}"""
    acts = [(name, "skip") for name in names] + [("release", "assert(rope)")]
    start = "bit rope = 1;\n" if ordered else "bit rope;\n"
    other = '' if ordered else 'active proctype B() { d_step { rope = 1; printf("STEP tie\\n") } }\n'
    return lkn(model, body), start + f"active proctype A() {{ {chain(acts)} }}\n" + other


def cam(bound):
    """Six freed steps that do not commute: a cam moves a notch at the next bolt, and jams at any other."""
    values = ", ".join(f"notch-{at}" for at in range(7)) + ", jammed"
    model = f'state cam : {values}\nnever cam is notch-6 because "the cover flies off"\nsafe to leave when cam is not notch-6'
    turn = lambda at: f'when cam is notch-{at} {{ set cam to notch-{at + 1} }} otherwise {{ set cam to jammed }}'
    step = lambda at: f'step "Bolt {at + 1}." {{ {turn(at)} }}'
    last = f"{{\n{step(5)}\n{step(4)}\n}}" if bound else f"{step(4)}\n{step(5)}"
    body = "any order {\n" + "\n".join(step(at) for at in range(4)) + f"\n{last}\n}}\nstep \"Put back.\" {{ set cam to notch-0 }}"
    act = lambda at: f'cam = (cam == {at} -> {at + 1} : 7); printf("STEP {at + 1}\\n"); assert(cam != 6)'
    processes = [f"active proctype P{at}() {{ d_step {{ {act(at)} }} }}" for at in range(4)]
    if bound:
        processes.append(f"active proctype Q() {{ d_step {{ {act(5)} }}; d_step {{ {act(4)} }} }}")
    else:
        processes += [f"active proctype P{at}() {{ d_step {{ {act(at)} }} }}" for at in (4, 5)]
    return lkn(model, body), "byte cam;\n" + "\n".join(processes) + "\n"


def crossed(fixed):
    """Two people who each hold something until the other is done."""
    first = 'hold left by a until there is done\nstep here "A." { confirm "a" }'
    second = 'hold right by b until here is done\nstep there "B." { confirm "b" }'
    if fixed:
        second = 'step there "B." { confirm "b" }\nhold right by b until here is done'
    body = f"together {{\n a {{\n{first}\n}}\n b {{\n{second}\n}}\n}}"
    # left, right: 0 not held, 1 held, 2 let go. A step begins when it is held for, and lets go at its end.
    a = 'd_step { left = 1; printf("STEP hold left\\n") }; left == 2; right != 0; d_step { right = 2; printf("STEP here\\n") }'
    hold, wait = 'd_step { right = 1; printf("STEP hold right\\n") }', "right == 2"
    step = 'left != 0; d_step { left = 2; printf("STEP there\\n") }'
    b = f"{step}; {hold}; {wait}" if fixed else f"{hold}; {wait}; {step}"
    return lkn("part left\npart right", body), f"byte left, right;\nactive proctype A() {{ {a} }}\nactive proctype B() {{ {b} }}\n"


def repeated():
    """Tighten and measure, three times at most; the shortest and the longest way."""
    body = """step tighten "Tighten." { confirm "tight" }
step "Measure." {
  observe good "Is it good?" {
    yes -> go on
    no  -> { confirm "slack" } then repeat tighten up to 2 times, failing that { confirm "changed" }
  }
}
step "Close." { confirm "closed" }"""
    pml = """byte n; active proctype P() { tight: n++; if :: skip :: n < 3 -> goto tight :: n == 3 -> skip fi }\n"""
    return lkn("state lamp : off, lit", body), pml


def again(waited):
    """A wait that is begun again at every switching-on, in a straight line."""
    model = """state supply : live, off
part  cover
never cover is removed unless supply is off for 5 min because "it stores charge" """
    wait = "wait 5 min\n" if waited else ""
    body = f"""step "Off." {{ set supply to off }}
wait 5 min
step "On." {{ set supply to live }}
step "Off again." {{ set supply to off }}
{wait}step "Open." {{ remove cover }}
step "Shut." {{ fit cover }}
step "On again." {{ set supply to live }}"""
    acts = [("off", "off = 1"), ("wait", "charge = 0"), ("on", "off = 0; charge = 1"), ("off again", "off = 1")]
    acts += [("wait", "charge = 0")] if waited else []
    acts += [("open", "assert(off && !charge)"), ("shut", "skip"), ("on again", "off = 0; charge = 1")]
    return lkn(model, body), f"bit off; bit charge = 1;\nactive proctype P() {{ {chain(acts)} }}\n"


# What a code means in SPIN's words.
SORTS = {"LN502": "assertion violated", "LN506": "assertion violated", "LN703": "invalid end state"}

SYSTEMS = {
    **{f"{count} freed steps": free_steps(count) for count in range(3, 9)},
    "two chains of 5": two_chains(5),
    "two chains of 30": two_chains(30),
    "tether, free": tether(False),
    "tether, first": tether(True),
    "cam, free": cam(False),
    "cam, bolt 6 before bolt 5": cam(True),
    "crossed holds": crossed(False),
    "holds in turn": crossed(True),
    "three rounds": repeated(),
    "switched on again": again(False),
    "switched on again, waited": again(True),
}


def spun(text, folder):
    """SPIN's verdict, and the steps of a shortest trail."""
    (folder / "m.pml").write_text(text, encoding="utf-8")
    run = lambda *words: subprocess.run(words, cwd=folder, check=False, capture_output=True, text=True).stdout
    run("spin", "-a", "m.pml")
    run("gcc", "-O1", "-w", "-DNOREDUCE", "-DSAFETY", "-DBFS", "-o", "pan", "pan.c")
    said = run("./pan", "-m100000")
    if "errors: 0" in said:
        return "safe", 0
    trail = run("spin", "-t", "m.pml")
    sort = next((sort for sort in SORTS.values() if sort in said), f"neither: {said[:300]}")
    return sort, trail.count("STEP")


def checked(locknut, text, folder):
    """Our verdict, the steps of the path that is shown, and the figures of what was proved."""
    (folder / "library.yaml").write_text("publisher: Kestmoor\n", encoding="utf-8")
    (folder / "job.lkn").write_text(text, encoding="utf-8")
    done = subprocess.run([locknut, "check", folder, "--as", "json"], check=False, capture_output=True, text=True)
    told = json.loads(done.stdout)
    errors = [one for one in told["findings"] if one["severity"] == "error"]
    if not errors:
        return "safe", 0, told["procedures"][0]
    steps = 0
    for point in errors[0]["path"]:
        folded = re.match(r"… (\d+) steps? that", point["text"])
        steps += int(folded.group(1)) if folded else point["text"].startswith("step ")
    return SORTS.get(errors[0]["code"], json.dumps(errors)), steps, {}


def main():
    arguments = argparse.ArgumentParser(description="Compare with SPIN.")
    arguments.add_argument("--locknut", required=True)
    asked = arguments.parse_args()
    failures = Failures("SPIN")
    for name, system in SYSTEMS.items():
        ours, theirs, *orders = system
        with tempfile.TemporaryDirectory() as folder:
            library, model = pathlib.Path(folder, "library"), pathlib.Path(folder, "model")
            library.mkdir()
            model.mkdir()
            verdict, steps, figures = checked(asked.locknut, ours, library)
            wanted, trail = spun(theirs, model)
        if verdict != wanted:
            failures.add(f"{name}: {verdict}, SPIN says {wanted}")
        elif steps != trail:
            failures.add(f"{name}: a path of {steps} steps, SPIN's has {trail}")
        if orders and int(figures.get("orders", 0)) != orders[0]:
            failures.add(f"{name}: {figures.get('orders')} orders are told, there are {orders[0]}")
        if name == "three rounds" and (figures.get("shortestActs"), figures.get("longestActs")) != (3, 11):
            # Tighten, measure, close; or three rounds of three acts, then change and close.
            failures.add(f"{name}: {figures.get('shortestActs')} to {figures.get('longestActs')} acts")
    failures.leave(f"{len(SYSTEMS)} systems agree on verdict, shortest path and orders")


if __name__ == "__main__":
    main()
