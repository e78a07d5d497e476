"""Everything that is checked by programs of other people.

    run.py --locknut PROGRAM --judged PROGRAM --out DIR --networks FILE --choices FILE

DIR holds what `locknut build procedures` made, the files random networks of activities with their times, and random
choices with what is taken at each reading. Units go to
pint, networks to networkx, choices to z3, small systems in two languages to SPIN, mutants of the demo procedures to an explorer written apart, step graphs and findings to a JSON Schema
validator, sheets and templates to poppler, completion scripts to bash; a second build must give the same bytes.
"""

import argparse
import filecmp
import json
import pathlib
import subprocess
import sys
import tempfile

HERE = pathlib.Path(__file__).parent


def main():
    arguments = argparse.ArgumentParser(description="Check what comes out with other programs.")
    arguments.add_argument("--locknut", required=True)
    arguments.add_argument("--out", required=True)
    arguments.add_argument("--networks", required=True)
    arguments.add_argument("--choices", required=True)
    arguments.add_argument("--judged", required=True)
    asked = arguments.parse_args()
    check("networks.py", asked.networks)
    check("choices_z3.py", asked.choices)
    check("true_scale.py", "--locknut", asked.locknut)
    check("unbroken.py", "--locknut", asked.locknut)
    check("completions.py", "--locknut", asked.locknut)
    check("spin.py", "--locknut", asked.locknut)
    check("mutants.py", "--judged", asked.judged, "--library", "procedures", "--library", "examples")
    out = pathlib.Path(asked.out)
    with tempfile.TemporaryDirectory() as folder:
        work = pathlib.Path(folder)
        units(out, work)
        graphs(asked.locknut, out, work)
        sheets(asked.locknut, out, work)
        same_bytes(asked.locknut, out, work)
        sarif(asked.locknut)


def check(script, *words):
    done = subprocess.run([sys.executable, "-B", str(HERE / script), *map(str, words)], check=False)
    if done.returncode:
        sys.exit(done.returncode)


def units(out, work):
    graph = json.loads(next(out.glob("*/step-graph.json")).read_text(encoding="utf-8"))
    listed = [
        {"name": key.removesuffix(unit["kind"]).strip(), **unit} for key, unit in graph["units"].items()
    ]
    (work / "units.json").write_text(json.dumps(listed), encoding="utf-8")
    check("units_pint.py", work / "units.json")


def graphs(locknut, out, work):
    schema = subprocess.run([locknut, "graph", "--schema"], check=True, capture_output=True).stdout
    (work / "schema.json").write_bytes(schema)
    check("schema.py", work / "schema.json", *sorted(out.glob("*/step-graph.json")))


def sheets(locknut, out, work):
    for graph in sorted(out.glob("*/step-graph.json")):
        document = json.loads(graph.read_text(encoding="utf-8"))
        for language, own in (("en", True), ("de", False)):
            says = [word for text in said(document, own) for word in ("--says", text)]
            found = sorted(graph.parent.glob(f"checklist.{language}.*.pdf"))
            check("pdf.py", "--paper", "a4", "--language", language, *says, *found)
    check(
        "pdf.py", "--paper", "a4", "--says", "Slewing brake: set the air gap", "--says", "at most 0.15 mm",
        "--says", "The drive can kill for 10 min", out / "slew-brake-gap" / "checklist.en.si.pdf",
    )
    check(
        "pdf.py", "--paper", "a4", "--says", "Drehwerksbremse", "--says", "höchstens 0,15 mm", "--says", "GEFAHR",
        out / "slew-brake-gap" / "checklist.de.si.pdf",
    )
    # 300 mm are 11.811 inch and 350 mm 13.779: a lower limit goes up, an upper one down, never outside (ASTM SI 10;
    # ISO 80000-1 Annex B, from memory). What cannot be converted is told as it is written.
    check("pdf.py", "--paper", "a4", "--says", "11.812 to 13.779 inch", out / "hoist-limit-switch" / "checklist.en.us.pdf")
    check("pdf.py", "--paper", "a4", "--says", "at most 0.15 mm", "--says", "Read this in mm", out / "slew-brake-gap" / "checklist.en.us.pdf")
    letter = work / "letter.pdf"
    subprocess.run(
        [locknut, "print", "slew-brake-gap", "--library", "procedures", "--paper", "letter", "--into", letter],
        check=True, capture_output=True,
    )
    check("pdf.py", "--paper", "letter", letter)


def said(document, own_language):
    """What a sheet must say: publisher, name and revision in any language; title and steps in the author's own."""
    procedure = document["procedure"]
    texts = [procedure["publisher"], procedure["name"], *filter(None, [procedure.get("revision")])]
    if not own_language:
        return texts
    prose = [procedure["title"], *[step["text"] for step in document["steps"] if step.get("text")]]
    # Text with a checked place in it is shown in the reader's units; the plain ones must stand as written.
    return texts + ["".join(text) for text in prose if all(isinstance(piece, str) for piece in text)]


def same_bytes(locknut, out, work):
    again = work / "again"
    subprocess.run([locknut, "build", "procedures", "--into", again], check=True, capture_output=True)
    names = sorted(str(path.relative_to(out)) for path in out.rglob("*") if path.is_file())
    same, other, failed = filecmp.cmpfiles(out, again, names, shallow=False)
    if other or failed or len(same) < 20:
        sys.exit(f"bytes: {len(same)} files are the same, these are not: {other + failed}")
    print(f"bytes: {len(same)} files are the same in a second build")


def sarif(locknut):
    """SARIF 2.1.0: what the standard asks of every log, checked by hand; its schema is not on board."""
    done = subprocess.run([locknut, "check", "procedures", "--as", "sarif"], check=True, capture_output=True)
    log = json.loads(done.stdout)
    run = log["runs"][0]
    rules = [rule["id"] for rule in run["tool"]["driver"]["rules"]]
    if log["version"] != "2.1.0" or len(rules) < 60 or len(rules) != len(set(rules)):
        sys.exit("SARIF: version or rules are wrong")
    print(f"SARIF: version 2.1.0 with {len(rules)} rules")
    done = subprocess.run(
        [locknut, "check", "procedures", "--as", "sarif", "--show", "proof"], check=True, capture_output=True
    )
    passed = [result for result in json.loads(done.stdout)["runs"][0]["results"] if result.get("kind") == "pass"]
    # 2.1.0, 3.27.9 and 3.27.10: what passed has the level "none".
    if len(passed) < 200 or any(one["level"] != "none" or one["ruleId"] not in rules for one in passed):
        sys.exit(f"SARIF: {len(passed)} obligations are listed, or some of them wrongly")
    print(f"SARIF: {len(passed)} obligations that hold")


if __name__ == "__main__":
    main()
