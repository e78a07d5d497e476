"""How the outside checks speak: one line a finding on standard error, exit status 1 where there is one."""

import sys


class Failures:
    """Gathers what is wrong and says it as it is found."""

    def __init__(self, check):
        self.check = check
        self.count = 0

    def add(self, words):
        self.count += 1
        print(f"{self.check}: {words}", file=sys.stderr)

    def leave(self, passed):
        """Ends the program: says what was found right, or fails."""
        if self.count:
            print(f"{self.check}: {self.count} wrong", file=sys.stderr)
            sys.exit(1)
        print(f"{self.check}: {passed}")
        sys.exit(0)
