"""Checks printed sheets with poppler: what another program sees in them.

    pdf.py --paper a4|letter [--language en] [--says TEXT]… FILE.pdf [FILE.pdf …]

Each file must be tagged (so that a screen reader can follow), carry a title and name its language, have every
page of the paper's size within half a point, embed every font, run no script, have no word that stands over
another, and say each TEXT. Blanks, line ends and soft hyphens do not count.
"""

import argparse
import re
import subprocess

from say import Failures

# Width and height in points: ISO 216 A4 210 × 297 mm; US Letter 8.5 × 11 inch; a point is 1/72 inch.
PAPERS = {"a4": (210 / 25.4 * 72, 297 / 25.4 * 72), "letter": (8.5 * 72, 11 * 72)}
WITHIN = 0.5


def main():
    arguments = argparse.ArgumentParser(description="Check PDF files with poppler.")
    arguments.add_argument("--paper", choices=PAPERS, required=True)
    arguments.add_argument("--language", help="the language that each file must name")
    arguments.add_argument("--says", action="append", default=[], metavar="TEXT")
    arguments.add_argument("files", nargs="+")
    asked = arguments.parse_args()
    failures = Failures("PDF")
    for path in asked.files:
        check(path, asked, failures)
    failures.leave(f"{len(asked.files)} files on {asked.paper}: tagged, in size, fonts embedded, words found")


def check(path, asked, failures):
    info = fields(run(["pdfinfo", path], path, failures))
    if info is None:
        return
    for field, wanted in (("Tagged", "yes"), ("JavaScript", "no"), ("Encrypted", "no")):
        if info.get(field) != wanted:
            failures.add(f"{path}: pdfinfo says {field}: {info.get(field)}, wanted {wanted}")
    if not info.get("Title"):
        failures.add(f"{path} has no title")
    check_language(path, asked.language, failures)
    check_pages(path, int(info.get("Pages", "0")), PAPERS[asked.paper], failures)
    check_fonts(path, failures)
    check_texts(path, asked.says, failures)
    check_words_apart(path, failures)


def check_language(path, wanted, failures):
    """Who reads aloud needs to know the language: the catalogue names it outside any compressed stream."""
    with open(path, "rb") as file:
        named = re.findall(rb"/Lang\s*\(([A-Za-z-]+)\)", file.read())
    languages = {language.decode("ascii").split("-")[0].lower() for language in named}
    if not languages:
        failures.add(f"{path} does not name its language")
    elif wanted and languages != {wanted}:
        failures.add(f"{path} names the language {', '.join(sorted(languages))}, wanted {wanted}")


def check_pages(path, count, paper, failures):
    if count < 1:
        failures.add(f"{path} has no pages")
        return
    told = run(["pdfinfo", "-f", "1", "-l", str(count), path], path, failures) or ""
    sizes = re.findall(r"^Page\s+(\d+) size:\s+([\d.]+) x ([\d.]+) pts", told, re.MULTILINE)
    if len(sizes) != count:
        failures.add(f"{path}: pdfinfo tells the size of {len(sizes)} of {count} pages")
    for page, width, height in sizes:
        off = max(abs(float(width) - paper[0]), abs(float(height) - paper[1]))
        if off > WITHIN:
            failures.add(f"{path} page {page} is {width} × {height} pt, wanted {paper[0]:.3f} × {paper[1]:.3f}")


def check_fonts(path, failures):
    told = run(["pdffonts", path], path, failures)
    if told is None:
        return
    lines = told.splitlines()
    if len(lines) < 3 or "emb" not in lines[0]:
        failures.add(f"{path}: pdffonts lists no fonts")
        return
    # The columns may hold blanks; the heading tells where `emb` stands.
    column = lines[0].index("emb")
    for line in lines[2:]:
        if line[column:column + 3].strip() != "yes":
            failures.add(f"{path}: the font {line.split()[0]} is not embedded")


def check_texts(path, texts, failures):
    told = run(["pdftotext", "-enc", "UTF-8", path, "-"], path, failures)
    if told is None:
        return
    words = plain(told)
    if not words:
        failures.add(f"{path} has no text that can be read out")
    for text in texts:
        if plain(text) not in words:
            failures.add(f"{path} does not say “{text}”")


# A word is as high as its font; where the next line begins within so much of that, one stands over the other.
OVER = 0.62


def check_words_apart(path, failures):
    told = run(["pdftotext", "-bbox", "-enc", "UTF-8", path, "-"], path, failures) or ""
    box = r'<word xMin="([\d.]+)" yMin="([\d.]+)" xMax="([\d.]+)" yMax="([\d.]+)">(.*?)</word>'
    for page, words in enumerate(told.split("<page ")[1:], 1):
        found = [(*map(float, one[:4]), one[4]) for one in re.findall(box, words)]
        found.sort(key=lambda word: word[1])
        for at, (left, top, right, bottom, word) in enumerate(found):
            for left2, top2, right2, bottom2, other in found[at + 1:]:
                if top2 >= bottom:
                    break
                beside = min(right, right2) - max(left, left2) <= 2
                height = min(bottom - top, bottom2 - top2)
                # Words of one line end at one height.
                if not beside and 0.5 < bottom2 - bottom < OVER * height:
                    failures.add(f"{path} page {page}: “{other}” stands over “{word}”")


def plain(text):
    """Without what only breaks lines."""
    return re.sub(r"[\s\u00ad\u200b]+", "", text)


def fields(told):
    if told is None:
        return None
    pairs = (line.split(":", 1) for line in told.splitlines() if ":" in line)
    return {name.strip(): value.strip() for name, value in pairs}


def run(command, path, failures):
    """What a program prints; None, and a failure, where it cannot be run or fails."""
    try:
        done = subprocess.run(command, capture_output=True, check=False, timeout=60)
    except FileNotFoundError:
        failures.add(f"{command[0]} is missing: install poppler-utils")
        return None
    except subprocess.TimeoutExpired:
        failures.add(f"{command[0]} does not come to an end with {path}")
        return None
    if done.returncode != 0:
        words = done.stderr.decode("utf-8", "replace").strip().splitlines()
        failures.add(f"{command[0]} fails on {path}: {words[0] if words else done.returncode}")
        return None
    return done.stdout.decode("utf-8", "replace")


if __name__ == "__main__":
    main()
