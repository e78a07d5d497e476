"""Where pages break, as poppler reads them: in a stretch `without a break` nobody turns the page.

    unbroken.py --locknut PROGRAM

However much stands ahead of it, a stretch that fits one page stands on one; of one that does not, every page but the
first says that it goes on, and no other page does.
"""

import argparse
import pathlib
import subprocess
import sys
import tempfile

GOES_ON = "Goes on without a break"
SOURCE = """model press {{
  title "Press"
  part lid
}}
procedure look on press {{
  title "Look"
{ahead}
  without a break {{
{inside}
  }}
  step "Last of all." {{ confirm "It is done." }}
}}
"""


def steps(word, count):
    return "\n".join(f'    step "{word} {number} is looked at." {{ confirm "{word} {number} is well." }}' for number in range(count))


def pages(locknut, ahead, inside):
    with tempfile.TemporaryDirectory() as folder:
        home = pathlib.Path(folder)
        (home / "library.yaml").write_text("publisher: Kestmoor\nlanguage: en\n", encoding="utf-8")
        text = SOURCE.format(ahead=steps("Bolt", ahead), inside=steps("Nut", inside))
        (home / "press.lkn").write_text(text, encoding="utf-8")
        subprocess.run([locknut, "build", home, "--into", home / "out"], check=True, capture_output=True)
        sheet = next((home / "out").glob("look/checklist.*.pdf"))
        told = subprocess.run(["pdftotext", "-enc", "UTF-8", sheet, "-"], check=True, capture_output=True)
        return told.stdout.decode("utf-8").split("\f")[:-1]


def main():
    arguments = argparse.ArgumentParser(description="Check where pages break.")
    arguments.add_argument("--locknut", required=True)
    locknut = arguments.parse_args().locknut
    failures = []
    for ahead in range(1, 30, 4):
        found = pages(locknut, ahead, 6)
        holding = [number for number, page in enumerate(found) if "Nut " in page]
        if len(holding) != 1:
            failures.append(f"behind {ahead} steps a stretch of six stands on pages {holding}")
        if any(GOES_ON in page for page in found):
            failures.append(f"behind {ahead} steps a stretch on one page is said to go on")
    found = pages(locknut, 3, 60)
    holding = [number for number, page in enumerate(found) if "Nut " in page]
    saying = [number for number, page in enumerate(found) if GOES_ON in page]
    if len(holding) < 3 or saying != holding[1:]:
        failures.append(f"a stretch on pages {holding} is said to go on at the head of {saying}")
    for failure in failures:
        print(f"unbroken.py: {failure}", file=sys.stderr)
    sys.exit(1 if failures else 0)


if __name__ == "__main__":
    main()
