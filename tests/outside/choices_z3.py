"""Compares choices with z3, a solver that knows nothing of stacks, rows or digits.

    choices_z3.py CHOICES.jsonl

Each line: a choice in whole hundredths, `lower <= read * gap + chosen * sum + fixed <= upper`, where `sum` is what the taken
pieces come to, and for each reading the pieces that compiler, proof and terminal take, or none. z3 is asked at each reading
how many of each size make the best sum: first by the preference, then the smaller sum, then the fewest pieces.
"""

import json
import pathlib
import sys

import z3

from say import Failures


def best(choice, gap):
    """The best sum and its number of pieces; None where nothing fits."""
    solver = z3.Optimize()
    counts = [z3.Int(f"pieces_of_{size}") for size in choice["sizes"]]
    pieces = z3.Sum(counts)
    total = z3.Sum([count * size for count, size in zip(counts, choice["sizes"])])
    result = choice["read"] * gap + choice["chosen"] * total + choice["fixed"]
    solver.add(*[count >= 0 for count in counts])
    if choice["each_once"]:
        solver.add(*[count <= 1 for count in counts])
    solver.add(pieces >= 1, pieces <= choice["most"], result >= choice["lower"], result <= choice["upper"])
    away = result - choice["to"]
    solver.minimize({
        "smallest": total, "largest": -total, "fewest": pieces, "nearest": z3.If(away < 0, -away, away),
    }[choice["prefer"]])
    solver.minimize(total)
    solver.minimize(pieces)
    if solver.check() == z3.unsat:
        return None
    model = solver.model()
    return model.eval(total).as_long(), model.eval(pieces).as_long()


def legal(choice, pieces):
    once = len(set(pieces)) == len(pieces) or not choice["each_once"]
    return once and set(pieces) <= set(choice["sizes"]) and 1 <= len(pieces) <= choice["most"]


def main():
    failures = Failures("z3")
    compared, fitting = 0, 0
    for line in pathlib.Path(sys.argv[1]).read_text(encoding="utf-8").splitlines():
        case = json.loads(line)
        if "choice" not in case:
            continue  # A table of its author's: nothing is sought there.
        choice = case["choice"]
        taken = dict(case["rows"])
        for gap in range(choice["first"], choice["last"] + 1, choice["step"]):
            pieces = taken.get(gap) if case["never"] else taken[gap]
            if pieces is not None and not legal(choice, pieces):
                failures.add(f"{pieces} is no stack: {choice}")
            own = None if pieces is None else (sum(pieces), len(pieces))
            wanted = best(choice, gap)
            if own != wanted:
                failures.add(f"at {gap} {own} is taken, and the best is {wanted}: {choice}")
            compared += 1
            fitting += wanted is not None
    if compared < 500 or fitting < 200:
        failures.add(f"only {compared} readings were compared, and at {fitting} something fits")
    failures.leave(f"{compared} readings of random choices, of which {fitting} have something that fits")


if __name__ == "__main__":
    main()
