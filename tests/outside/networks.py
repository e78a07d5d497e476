"""Compares times by the critical path with networkx, an independent library of graphs.

    networks.py NETWORKS.jsonl

Each line: a network of activities with shortest, likely and longest times, and the compiler's answers: mean and
variance along the longest path, the path itself, each activity's slack; fractions as text. Both sides are exact.
"""

import json
import pathlib
import sys
from fractions import Fraction

import networkx

from say import Failures


def mean(takes):
    shortest, likely, longest = takes
    return Fraction(shortest + 4 * likely + longest, 6)


def length(graph, path):
    return sum((graph.nodes[activity]["mean"] for activity in path), Fraction(0))


def longest(graph):
    """The length of the longest path: an edge into each activity weighs as long as it takes."""
    weighed = networkx.DiGraph()
    for activity, data in graph.nodes(data=True):
        weighed.add_edge("start", activity, weight=data["mean"])
        for before in graph.predecessors(activity):
            weighed.add_edge(before, activity, weight=data["mean"])
    return networkx.dag_longest_path_length(weighed)


def longest_by_way_of(graph, activity):
    """No time is below nothing, so the longest path among what comes before an activity leads up to it."""
    before = graph.subgraph(networkx.ancestors(graph, activity) | {activity})
    behind = graph.subgraph(networkx.descendants(graph, activity) | {activity})
    return longest(before) + longest(behind) - graph.nodes[activity]["mean"]


def main():
    failures = Failures("networkx")
    compared = 0
    for line in pathlib.Path(sys.argv[1]).read_text(encoding="utf-8").splitlines():
        network = json.loads(line)
        graph = networkx.DiGraph()
        for at, activity in enumerate(network["activities"]):
            graph.add_node(at, mean=mean(activity["takes"]))
            graph.add_edges_from((before, at) for before in activity["after"])
        whole = longest(graph)
        if Fraction(network["mean"]) != whole:
            failures.add(f"mean {network['mean']} is not {whole}: {line}")
        path = network["critical"]
        if not networkx.is_path(graph, path) or length(graph, path) != whole:
            failures.add(f"{path} is not a longest path: {line}")
        spread = sum(Fraction(b - a, 6) ** 2 for a, _, b in (network["activities"][at]["takes"] for at in path))
        if Fraction(network["variance"]) != spread:
            failures.add(f"variance {network['variance']} is not {spread}: {line}")
        for at, slack in enumerate(network["slack"]):
            own = whole - longest_by_way_of(graph, at)
            if Fraction(slack) != own:
                failures.add(f"slack of {at}: {slack} is not {own}: {line}")
        compared += 1
    if compared < 100:
        failures.add(f"only {compared} networks were compared")
    failures.leave(f"{compared} networks, exact")


if __name__ == "__main__":
    main()
