"""Brute force over a published step graph: every state, nothing sliced, written from the description alone.

A state is where everybody stands, what the machine's variables are, what is proved, and how long each has stood so.
`failing(graph)` gives what fails: (duty, node), named as the compiler's own `failed` names them.
"""

from collections import deque
from fractions import Fraction

# More states than this are not gone through.
MOST = 60_000


class TooLarge(Exception):
    """The graph has more states than are gone through."""


class Explorer:
    def __init__(self, graph):
        self.graph = graph
        self.nodes = graph["nodes"]
        self.cap = max([Fraction(test["seconds"]) for test in self.tests() if test["is"] == "held"], default=Fraction(0))
        self.failed = set()

    def tests(self):
        """Every condition anywhere in the graph, and its parts."""
        left = [self.graph]
        while left:
            part = left.pop()
            if isinstance(part, dict):
                if "is" in part and part["is"] in ("held", "proved", "value"):
                    yield part
                left.extend(part.values())
            elif isinstance(part, list):
                left.extend(part)

    # A state: marking, values, proved, waited, then, found. The marking: node, open blocks, rounds.
    # An open block: node, done, lane under way, lanes (node, open blocks inside) or nothing where freed.

    def starts(self):
        values = {at: (variable["normal"],) for at, variable in enumerate(self.graph["variables"])}
        proved, waited = set(), {}
        for start in self.graph["starts"]:
            values[start["variable"]] = tuple(start["values"])
            if start["proved"]:
                proved.add(start["variable"])
            if start.get("held"):
                waited[start["variable"]] = min(Fraction(start["held"]), self.cap)
        combined = [()]
        for choices in values.values():
            combined = [so_far + (choice,) for so_far in combined for choice in choices]
        for chosen in combined:
            times = tuple(waited.get(at, Fraction(0)) for at in range(len(chosen)))
            marking = self.arrive((self.graph["start"], (), (0,) * len(self.graph["repeats"])))
            yield (marking, chosen, frozenset(proved), times, (), ())

    def way(self, node, word):
        return next((way for way in self.nodes[node]["ways"] if way["way"] == word), None)

    def arrive(self, marking):
        at, blocks, rounds = marking
        node = self.nodes[at]
        if node["node"] == "any-order":
            return at, blocks + ((at, (False,) * node["children"], None, None),), rounds
        if node["node"] == "together":
            lanes = []
            for lane in range(len(node["lanes"])):
                first = self.way(at, f"child {lane}")["to"]
                inner, inside, _ = self.arrive((first, (), ()))
                lanes.append((inner, inside))
            done = tuple(self.nodes[lane]["node"] == "lane-done" for lane, _ in lanes)
            return at, blocks + ((at, done, None, tuple(lanes)),), rounds
        if node["node"] == "child-done":
            block, done, child, lanes = blocks[-1]
            done = tuple(True if at == child else one for at, one in enumerate(done))
            return node["order"], blocks[:-1] + ((block, done, None, lanes),), rounds
        return marking

    def park(self, marking):
        """After each node of a lane anyone may be next; an end ends the job for all."""
        at, blocks, rounds = marking
        if self.nodes[at]["node"] == "end":
            return marking
        for position, (block, done, lane, lanes) in enumerate(blocks):
            if lanes is not None and lane is not None:
                inside = blocks[position + 1:]
                lanes = tuple((at, inside) if one == lane else other for one, other in enumerate(lanes))
                ended = self.nodes[at]["node"] == "lane-done"
                done = tuple(ended if one == lane else other for one, other in enumerate(done))
                return block, blocks[:position] + ((block, done, None, lanes),), rounds
        return marking

    def holds(self, condition, state):
        """Whether a condition holds; None where a reading decides."""
        _, values, proved, waited, _, _ = state
        kind = condition["is"]
        if kind == "always":
            return condition["so"]
        if kind == "within":
            return None
        if kind == "not":
            inner = self.holds(condition["of"], state)
            return None if inner is None else not inner
        if kind in ("all", "any"):
            parts = [self.holds(part, state) for part in condition["of"]]
            decides = kind == "any"
            if decides in parts:
                return decides
            return None if None in parts else not decides
        variable = condition["variable"]
        if values[variable] not in condition["values"]:
            return False
        if kind == "proved":
            return variable in proved
        if kind == "held":
            return (waited[variable] >= Fraction(condition["seconds"])) != condition["under"]
        return True

    def brought(self, state, effects):
        marking, values, proved, waited, then, found = state
        values, proved, waited, then = list(values), set(proved), list(waited), dict(then)
        for effect in effects:
            kind = effect["effect"]
            if kind == "set":
                variable = effect["variable"]
                values[variable] = effect["value"]
                proved.discard(variable)
                waited[variable] = Fraction(0)
                then = {key: time for key, time in then.items() if key[1] != variable}
            elif kind == "prove":
                proved.add(effect["variable"])
            elif kind == "wait":
                waited = [min(time + Fraction(effect["seconds"]), self.cap) for time in waited]
            elif kind == "mark":
                then.update({(effect["moment"], at): time for at, time in enumerate(waited)})
            elif kind == "wait-since":
                for at in range(len(waited)):
                    if (effect["moment"], at) in then:
                        floor = then[effect["moment"], at] + Fraction(effect["seconds"])
                        waited[at] = min(max(waited[at], floor), self.cap)
            elif kind == "void":
                proved.difference_update(effect["proofs"])
        return marking, tuple(values), frozenset(proved), tuple(waited), tuple(sorted(then.items())), found

    def words(self, state, node):
        """The ways that may be taken out of a node that is passed."""
        marking, ways = state[0], [way["way"] for way in self.nodes[node]["ways"]]
        kind = self.nodes[node]["node"]
        if kind == "branch":
            holds = self.holds(self.nodes[node]["condition"], state)
            return ways if holds is None else ["arm 0" if holds else "arm 1"]
        if kind == "repeat":
            repeat = self.nodes[node]["repeat"]
            return ["again" if marking[2][repeat] < self.graph["repeats"][repeat]["times"] else "failing"]
        return ways

    def moves(self, state):
        """Each node that may be passed, with the way out of it and the state after."""
        at, blocks, _ = state[0]
        node = self.nodes[at]
        if node["node"] in ("any-order", "together"):
            block, done, _, lanes = blocks[-1]
            if all(done):
                yield from self.passed(state, at, "next")
                return
            for child, one in enumerate(done):
                if one:
                    continue
                if lanes is None:
                    yield from self.passed(state, at, f"child {child}")
                    continue
                inner, inside = lanes[child]
                opened = blocks[:-1] + ((block, done, child, lanes),) + inside
                within = ((inner, opened, state[0][2]), *state[1:])
                if self.nodes[inner]["node"] == "await" and not self.holds(self.nodes[inner]["condition"], state):
                    continue
                yield from self.moves(within) if self.nodes[inner]["node"] == "any-order" else self.through(within)
            return
        yield from self.through(state)

    def through(self, state):
        for word in self.words(state, state[0][0]):
            yield from self.passed(state, state[0][0], word)

    def passed(self, state, node, word):
        way = self.way(node, word)
        if way is None:
            return
        effects = self.nodes[node].get("effects", []) + way.get("effects", [])
        after = self.brought(state, effects)
        (_, blocks, rounds), *rest = after
        rounds = list(rounds)
        for effect in effects:
            if effect["effect"] == "afresh":
                rounds[effect["repeat"]] = 0
        kind = self.nodes[node]["node"]
        found = dict(rest[4])
        if kind == "repeat" and word == "again":
            rounds[self.nodes[node]["repeat"]] += 1
        elif kind == "enter":
            found[self.nodes[node]["call"]] = state[1]
        elif kind in ("any-order", "together"):
            if word.startswith("child"):
                block, done, _, lanes = blocks[-1]
                blocks = blocks[:-1] + ((block, done, int(word[6:]), lanes),)
            else:
                blocks = blocks[:-1]
        rest[4] = tuple(sorted(found.items()))
        marking = self.park(self.arrive((way["to"], blocks, tuple(rounds))))
        yield node, (marking, *rest)

    def judge(self, state):
        """Whatever is asked where somebody stands."""
        at, blocks, _ = state[0]
        standing = [at]
        if self.nodes[at]["node"] == "together":
            lanes = [lane for lane, done in zip(blocks[-1][3], blocks[-1][1]) if not done]
            standing += [inner for inner, _ in lanes]
        for node in standing:
            self.judge_at(node, state)

    def judge_at(self, at, state):
        node, fail = self.nodes[at], lambda duty: self.failed.add((duty, at))
        asked = node["act"].get("needs", []) if node["node"] == "act" else node.get("needs", [])
        for need in asked:
            if self.holds(need["condition"], state) is False:
                fail(f"assertion {at} {need['written']}")
        if node["node"] == "leave":
            before = dict(state[5])[node["call"]]
            for variable in node["as_found"]:
                if state[1][variable] != before[variable] and variable in self.written():
                    fail(f"found {node['call']} {variable}")
            for owed in node.get("leaves", []):
                if state[1][owed["variable"]] not in owed["values"]:
                    fail(f"leaves {owed['variable']}")
        if node["node"] == "end":
            done = node["end"]["how"] == "done"
            for owed in self.graph["restore"]:
                hold = self.graph["variables"][owed["variable"]]["is"] == "hold"
                if (done or hold) and state[1][owed["variable"]] not in owed["values"]:
                    fail(f"restore {owed['variable']}")
            if not done and self.holds(self.graph["safe_to_leave"], state) is False:
                fail("leave")

    def written(self):
        if not hasattr(self, "_written"):
            ways = [way for node in self.nodes for way in node["ways"]]
            effects = [effect for part in self.nodes + ways for effect in part.get("effects", [])]
            self._written = {effect["variable"] for effect in effects if effect["effect"] == "set"}
        return self._written

    def explore(self):
        broken = lambda rule, state: self.holds(rule["holds"], state) is False
        queue, seen = deque(), set()
        for state in self.starts():
            for rule in self.graph["interlocks"]:
                if broken(rule, state):
                    self.failed.add((f"interlock {rule['written']}", None))
            queue.append(state)
            seen.add(state)
        while queue:
            state = queue.popleft()
            self.judge(state)
            moves = list(self.moves(state))
            if not moves and self.nodes[state[0][0]]["node"] == "together":
                self.failed.add(("stuck", state[0][0]))
            for node, after in moves:
                for rule in self.graph["interlocks"]:
                    if broken(rule, after) and not broken(rule, state):
                        self.failed.add((f"interlock {rule['written']}", node))
                if after not in seen:
                    if len(seen) >= MOST:
                        raise TooLarge
                    seen.add(after)
                    queue.append(after)
        return self.failed


def failing(graph):
    return Explorer(graph).explore()
