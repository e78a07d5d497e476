"""Checks that templates are printed at true scale: poppler draws the page, and the drawn lines are measured.

    true_scale.py --locknut PROGRAM

Every length is taken from the middle of one line to the middle of another and must be true to 0.1 mm. The expected
lengths are those in the sources below, by hand.
"""

import argparse
import pathlib
import subprocess
import sys
import tempfile

DOTS = 600
PER_MM = DOTS / 25.4
TRUE_TO = 0.1

LIBRARY = {
    "library.yaml": "publisher: The corner workshop\nlanguage: en\npaper: A4\n",
    "cards.lkn": """
limit usable-length = at most 254 mm
template chain-card {
  rectangle 280 mm x 30 mm
  notch bottom at 10 mm, width 6 mm, depth 8 mm
  notch bottom at 10 mm + usable-length, width 6 mm, depth 8 mm
  label "Worn if both notches drop over rollers" at 140 mm, 20 mm
}
template tall-card {
  rectangle 90 mm x 200 mm
  notch left at 25 mm, width 7.5 mm, depth 20 mm
  notch right at 150 mm, width 12 mm, depth 30 mm
}
template turned-card {
  rectangle 205 mm x 190 mm
  notch top at 40 mm, width 10 mm, depth 15 mm
}
template gasket {
  disc 62 mm
  hole 38 mm
  holes 4 of 6.5 mm on pitch circle 50 mm, first at 45°
}
/// It takes all of the sheet.
template great-gasket {
  rectangle 198 mm x 211 mm
  notch bottom at 20 mm, width 6 mm, depth 8 mm
  notch bottom at 40 mm, width 6 mm, depth 8 mm
  notch bottom at 60 mm, width 6 mm, depth 8 mm
}
template jig {
  rectangle 4 inch x 2 inch
  hole 10 mm at 1 inch, 1 inch
}
""",
}


def main():
    arguments = argparse.ArgumentParser(description="Measure printed templates.")
    arguments.add_argument("--locknut", required=True)
    locknut = arguments.parse_args().locknut
    with tempfile.TemporaryDirectory() as folder:
        library = pathlib.Path(folder)
        for name, text in LIBRARY.items():
            (library / name).write_text(text, encoding="utf-8")
        pages = {name: Page.printed(locknut, library, name, paper) for name, paper in (
            ("chain-card", "a4"), ("tall-card", "a4"), ("turned-card", "a4"), ("gasket", "a4"), ("jig", "a4"), ("jig", "letter"),
        )}
        told_behind(locknut, library, "great-gasket")
        gasket_on_letter = Page.printed(locknut, library, "gasket", "letter")
    measured = 0
    for page in [*pages.values(), gasket_on_letter]:
        measured += page.proof()
    # The card lies across; its bottom is interrupted by both notches.
    page = pages["chain-card"]
    top = page.long_line(280)
    measured += same("chain card", page.along_row(top + 26), [0, 7, 13, 261, 267, 280])
    page = pages["tall-card"]
    top = page.long_line(90)
    # 25 mm and 150 mm from the bottom are 175 mm and 50 mm from the top.
    measured += same("tall card", page.along_row(top + 175), [20, 90])
    measured += same("tall card", page.along_row(top + 50), [0, 60])
    left = page.first_line
    measured += same("tall card", page.along_column(left + 10, top - 1, top + 201), [0, 171.25, 178.75, 200])
    # Turned by a quarter clockwise, the top is at the right: the notch stands 40 mm from the new top.
    page = pages["turned-card"]
    top = page.long_line(190)
    measured += same("turned card", page.along_row(top + 40), [0, 175])
    for page in (pages["gasket"], gasket_on_letter):
        middle = page.width / 2
        measured += same("gasket", page.along_column(middle, page.below_proof, page.below_proof + 75), [0, 12, 50, 62])
    page = pages["jig"]
    top = page.long_line(101.6)
    measured += same("jig", page.along_row(top + 25.4), [0, 20.4, 30.4, 101.6])
    print(f"templates: {measured} lengths true to {TRUE_TO} mm")


def told_behind(locknut, library, name):
    """Words that have no room below a drawing stand on the next page, the first one says so, and none is on both."""
    file = library / f"{name}.pdf"
    subprocess.run([locknut, "template", name, "--library", library, "--into", file], check=True, capture_output=True)
    text = subprocess.run(["pdftotext", "-layout", file, "-"], check=True, capture_output=True, text=True).stdout
    first, second, *more = text.split("\f")
    if "on the next page" not in " ".join(first.split()) or "Outline:" in first or any(page.strip() for page in more):
        sys.exit(f"{name}: the words behind the drawing are not where its page says:\n{text}")
    if not all(part in second for part in ("great gasket", "It takes all of the sheet.", "Outline:", "60 mm from the left")):
        sys.exit(f"{name}: the second page does not say all:\n{second}")


def same(what, found, wanted):
    """Whether lines stand where they should, counted from the first that is found."""
    from_first = [line - found[0] for line in found]
    wanted = [line - wanted[0] for line in wanted]
    if len(found) != len(wanted) or any(abs(a - b) > TRUE_TO for a, b in zip(from_first, wanted)):
        sys.exit(f"{what}: lines at {[round(line, 2) for line in from_first]} mm, wanted {wanted}")
    return len(wanted) - 1


class Page:
    """A page as dots, and places on it in millimetres."""

    def __init__(self, name, dots, columns):
        self.name, self.dots, self.columns = name, dots, columns
        self.rows = len(dots) // columns
        self.width = columns / PER_MM
        self.below_proof = 0
        self.first_line = 0

    @classmethod
    def printed(cls, locknut, library, name, paper):
        file = library / f"{name}.{paper}.pdf"
        subprocess.run([locknut, "template", name, "--library", library, "--paper", paper, "--into", file], check=True, capture_output=True)
        pages = subprocess.run(["pdfinfo", file], check=True, capture_output=True, text=True).stdout
        if "Pages:           1\n" not in pages:
            sys.exit(f"{name}: the template and the lines that prove its scale are not on one page:\n{pages}")
        subprocess.run(["pdftoppm", "-r", str(DOTS), "-gray", "-singlefile", file, library / name], check=True)
        with open(library / f"{name}.pgm", "rb") as image:
            kind, size, most = image.readline().split(), image.readline().split(), image.readline()
            if kind != [b"P5"] or most != b"255\n":
                sys.exit(f"{name}: poppler draws in a form that is not known here")
            return cls(f"{name} on {paper}", image.read(), int(size[0]))

    def proof(self):
        """Measures the lines that prove the scale; they are the highest long line of the page, and what hangs on it."""
        top = self.long_line(100)
        left = self.first_line
        across = [line for line in self.along_row(top + 1.5) if left - 1 < line < left + 101]
        down = self.along_column(left + 1.5, top - 1, top + 41)
        self.below_proof = top + 43
        return same(f"{self.name}, across", across, list(range(0, 101, 10))) + same(f"{self.name}, down", down, list(range(0, 41, 10)))

    def long_line(self, length):
        """How far down the first line of this length is, within the width of what is drawn there."""
        for row in range(int(self.below_proof * PER_MM), self.rows):
            for start, end in runs(self.dots[row * self.columns:(row + 1) * self.columns]):
                if abs((end - start) / PER_MM - length) < 0.5:
                    self.first_line = start / PER_MM + 0.125
                    return row / PER_MM + 0.125
        sys.exit(f"{self.name}: there is no line of {length} mm")

    def along_row(self, down):
        row = round(down * PER_MM)
        return [(start + end) / 2 / PER_MM for start, end in runs(self.dots[row * self.columns:(row + 1) * self.columns])]

    def along_column(self, right, top, bottom):
        column = self.dots[round(top * PER_MM) * self.columns + round(right * PER_MM):round(bottom * PER_MM) * self.columns:self.columns]
        return [top + (start + end) / 2 / PER_MM for start, end in runs(column)]


def runs(dots):
    """Stretches of dark dots."""
    found, start = [], None
    for at, dot in enumerate(dots):
        if dot < 128 and start is None:
            start = at
        elif dot >= 128 and start is not None:
            found.append((start, at))
            start = None
    return found


main()
