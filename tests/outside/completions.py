"""Checks that shells complete by the scripts that `locknut completions` writes.

    completions.py --locknut PROGRAM

bash reads its script and is asked what may follow; for the other shells every command and the options of one of them must
stand in the script.
"""

import argparse
import re
import subprocess
import sys

SHELLS = ("bash", "zsh", "fish", "elvish", "powershell")
ASK = """
{script}
COMP_WORDS=({words}); COMP_CWORD=$(( ${{#COMP_WORDS[@]}} - 1 )); COMP_LINE="${{COMP_WORDS[*]}}"; COMP_POINT=${{#COMP_LINE}}
_locknut locknut "${{COMP_WORDS[COMP_CWORD]}}" "${{COMP_WORDS[COMP_CWORD-1]}}"
printf '%s\\n' "${{COMPREPLY[@]}}"
"""


def main():
    arguments = argparse.ArgumentParser(description="Check completion scripts.")
    arguments.add_argument("--locknut", required=True)
    locknut = arguments.parse_args().locknut
    told = subprocess.run([locknut, "--help"], check=True, capture_output=True, text=True).stdout
    commands = re.findall(r"^  ([a-z]+) ", told.partition("Commands:")[2].partition("Options:")[0], re.MULTILINE)
    if len(commands) < 10 or "template" not in commands:
        sys.exit(f"completions: no commands are told: {commands}")
    scripts = {shell: written(locknut, shell) for shell in SHELLS}
    for shell, script in scripts.items():
        missing = [word for word in [*commands, "language"] if word not in script]
        if missing:
            sys.exit(f"completions: {shell} does not know {missing}")
    for words, wanted in (("locknut ''", commands), ("locknut te", ["template"]), ("locknut print --l", ["--library", "--language"]),
                          ("locknut template card --as ''", ["pdf", "svg"]), ("locknut completions ''", list(SHELLS))):
        found = asked(scripts["bash"], words)
        if not set(wanted) <= set(found):
            sys.exit(f"completions: after “{words}” bash offers {found}, wanted {wanted}")
    print(f"completions: {len(commands)} commands in {len(SHELLS)} shells")


def written(locknut, shell):
    return subprocess.run([locknut, "completions", shell], check=True, capture_output=True, text=True).stdout


def asked(script, words):
    ask = ASK.format(script=script, words=words)
    return subprocess.run(["bash", "-c", ask], check=True, capture_output=True, text=True).stdout.split()


if __name__ == "__main__":
    main()
