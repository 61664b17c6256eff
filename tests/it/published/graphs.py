"""Writes graphs.tsv: random graphs, and what networkx says of them.

An outside check of the engine's reach, rings, dominators and hitting sets. Nodes are letters; `a` is where calls start.
The minimal hitting sets of two-element conflicts are the minimal vertex covers of a graph, that is, what the maximal
independent sets of it leave, and these are the maximal cliques of its complement; networkx finds cliques.
Run: python3 graphs.py
"""

import platform
import random
from pathlib import Path

import networkx as nx

SEED = 20_261_125
MANY = 1_000
# Covers are listed for small graphs: their number grows fast.
MOST_COVERED = 7


def letter(node):
    return "abcdefghijkl"[node]


def letters(nodes):
    return "".join(letter(node) for node in sorted(nodes)) or "."


def made(chance):
    """A graph of 2 to 12 nodes: every other one without a way round, the others with any edges, some of them twice."""
    many = chance.randint(2, 12)
    edges = chance.randint(1, 2 * many)
    acyclic = chance.random() < 0.5
    graph = nx.MultiDiGraph()
    graph.add_nodes_from(range(many))
    for _ in range(edges):
        one, other = chance.randrange(many), chance.randrange(many)
        if acyclic:
            if one == other:
                continue
            one, other = min(one, other), max(one, other)
        graph.add_edge(one, other)
    return graph


def rings(graph):
    components = nx.strongly_connected_components(graph)
    round_ = [part for part in components if len(part) > 1 or graph.has_edge(*(list(part) * 2))]
    return ",".join(sorted(letters(part) for part in round_)) or "."


def nearest(graph):
    found = nx.immediate_dominators(graph, 0)
    return "".join(letter(found[node]) if node and node in found else "." for node in graph)


def covers(graph):
    if len(graph) > MOST_COVERED:
        return "-"
    # An edge from a node to itself is a conflict that only this node is in.
    forced = {node for node in graph if graph.has_edge(node, node)}
    free = nx.Graph(graph.subgraph(set(graph) - forced))
    cliques = nx.find_cliques(nx.complement(free)) if free else [[]]
    return ",".join(sorted(letters(forced | (set(free) - set(clique))) for clique in cliques))


def main():
    chance = random.Random(SEED)
    lines = [
        f"# networkx {nx.__version__}, Python {platform.python_version()}, seed {SEED}; written by graphs.py.",
        "# `.` is none; `-` is not listed.",
        "# nodes\tedges\twhat each node leads to\trings\tnearest dominators\tminimal vertex covers",
    ]
    for _ in range(MANY):
        graph = made(chance)
        edges = " ".join(letter(one) + letter(other) for one, other in graph.edges())
        ahead = ",".join(letters(nx.descendants(graph, node) | {node}) for node in graph)
        columns = [str(len(graph)), edges or ".", ahead, rings(graph), nearest(graph), covers(graph)]
        lines.append("\t".join(columns))
    Path(__file__).with_suffix(".tsv").write_text("\n".join(lines) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
