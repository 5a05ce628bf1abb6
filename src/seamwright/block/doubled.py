"""Doubled lines: what was drawn twice becomes one run.

Knows:  two lines are one if they lie on one another to 0.001 in; or to the tolerance over their whole common
        run, and they border two filled shapes or one has a hanging end; or to a third of it in a sketch. All else
        stays two.
Leaves: curves (twins), closing, crossings, moving.
Units:  inches.
Method: pairs by search tree, merged nearest first; the two borders of one shape are never merged, so that a narrow
        patch between two others keeps its sides.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import shapely

from seamwright.block.net import Net, Run, Union, clusters, line_array, near_pairs, place_on, sine, usual
from seamwright.block.steps import Steps
from seamwright.block.strokes import SAME_IN, Stroke
from seamwright.block.twins import join_twins
from seamwright.geometry import Point, along, off_line

CHANCE = 3
"""Where no more than one in so many single ends lies on a line, it does so by chance: of ends that miss by up to
the usual tolerance one in twenty comes within 0.001 in of a line anyway."""
TRUE_IN = 1e-6
"""So near do places come by the rounding of floats alone."""
FAINT = 1 / 3
"""In a drawing with ends that hang, lines that lie apart by no more than this share of the tolerance are one."""
LEAN = 0.21
"""Sine of the largest angle (12 degrees) between lines that may be one."""


def net_of(
    strokes: Sequence[Stroke], tolerance: float, steps: Steps | None = None, close: float | None = None
) -> Net:
    """A net of the strokes: ends that coincide share a node, doubled strokes are one run, nodes know their runs.

    Args:
        close: how near to each other lines may lie that are meant to be two; as `tolerance` if not given.
    """
    purpose = SAME_IN
    steps = steps or Steps()
    net, places = _first_net(strokes, purpose, steps)
    if _by_chance(net, places):
        purpose = TRUE_IN
        net, _ = _first_net(strokes, purpose, steps)
    _merge(net, tolerance, FAINT * (tolerance if close is None else close))
    net.refresh()
    join_twins(net, tolerance)
    net.attach(net.nodes(), purpose)
    _loosen(net, tolerance)
    hanging = set(net.hanging())
    for node in net.nodes():
        net.fast[node] = node not in hanging
    return net


def _first_net(strokes: Sequence[Stroke], purpose: float, steps: Steps) -> tuple[Net, dict[int, set[Point]]]:
    """Strokes as runs; ends within `purpose` of each other share a node, those so near a run lie on it.

    Returns:
        The net, and for each node the places of its ends as drawn.
    """
    net = Net(steps)
    ends = [p for stroke in strokes for p in (stroke.points[0], stroke.points[-1])]
    node_of = [0] * len(ends)
    places: dict[int, set[Point]] = {}
    for group in clusters(ends, purpose):
        fixed = [ends[i] for i in group if strokes[i // 2].border]
        node = net.node(usual(fixed or [ends[i] for i in group]), len(group), bool(fixed))
        places[node] = {ends[i] for i in group}
        for i in group:
            node_of[i] = node
    net.runs = [
        Run(
            [node_of[2 * i], node_of[2 * i + 1]],
            curve=() if stroke.straight else stroke.points,
            source=stroke.source,
            border=stroke.border,
            shapes=frozenset() if stroke.shape is None else frozenset({stroke.shape}),
        )
        for i, stroke in enumerate(strokes)
    ]
    net.refresh()
    net.attach(net.nodes(), purpose)
    return net, places


def _by_chance(net: Net, places: dict[int, set[Point]]) -> bool:
    """Whether many ends of a sketch hang: those few that meet to 0.001 in, but not truly, do so by chance."""
    hanging = len(net.hanging())
    met = sum(
        len(net.ends_at[n]) == 1 and _beside(net, n) if n in net.through else _apart(ends)
        for n, ends in places.items()
        if n in net.ends_at
    )
    return 0 < met * CHANCE <= hanging + met


def _beside(net: Net, node: int) -> bool:
    """Whether a node lies beside every run that it is said to lie on, by more than the rounding of floats."""
    at = net.at[node]
    return all(
        math.dist(at, place_on(net.shape(net.runs[number]), at)[1]) > TRUE_IN for number in net.through[node]
    )


def _apart(ends: set[Point]) -> bool:
    """Whether places differ by more than the rounding of floats does."""
    xs, ys = [x for x, _ in ends], [y for _, y in ends]
    return math.hypot(max(xs) - min(xs), max(ys) - min(ys)) > TRUE_IN


def _loosen(net: Net, tolerance: float) -> None:
    """Let a single end hang that lies on a run which ends in the open near by: both are meant for one point."""
    hanging = set(net.hanging())
    single = [n for n in net.nodes() if n in net.through and len(net.ends_at.get(n, ())) == 1 and not net.pinned[n]]
    while single:
        loose = []
        for n in single:
            tips = [e for r in net.through[n] for e in net.runs[r].ends if e in hanging]
            if any(math.dist(net.at[n], net.at[e]) <= tolerance for e in tips):
                loose.append(n)
        for n in loose:
            for r in net.through[n]:
                net.runs[r].on.discard(n)
        hanging.update(loose)
        single = [n for n in single if n not in hanging] if loose else []
    net.refresh()


def _merge(net: Net, tolerance: float, faint: float) -> None:
    runs = net.runs
    hanging = set(net.hanging())
    places = [net.shape(run) for run in runs]
    straight = [i for i, run in enumerate(runs) if not run.curve]
    if len(straight) < 2:
        net.runs = [runs[i] for i in straight] + [run for run in runs if run.curve]
        return
    lines = line_array([places[i] for i in straight])
    near = near_pairs(shapely.STRtree(lines), lines, max(tolerance, SAME_IN), net.steps)
    pairs: list[tuple[float, int, int, bool]] = []
    settled: dict[int, list[int]] = {}
    for x, y in near:
        net.steps.take(2)
        i, j = straight[x], straight[y]
        gap = _gap(places[i], places[j], tolerance) if x < y else None
        if gap is None:
            continue
        loose = any(n in hanging for k in (i, j) for n in runs[k].ends)
        two_shapes = runs[i].shapes and runs[j].shapes and runs[i].shapes != runs[j].shapes
        if gap <= SAME_IN:
            settled.setdefault(i, []).append(j)
            settled.setdefault(j, []).append(i)
        if gap <= SAME_IN or (gap <= tolerance and (loose or two_shapes)) or (hanging and gap <= faint):
            pairs.append((gap, i, j, loose))
    union = Union(len(runs))
    members = {i: [i] for i in straight}
    for gap, i, j, loose in sorted(pairs, key=lambda p: (p[0] > SAME_IN, round(p[0], 6), p[1], p[2])):
        a, b = union.find(i), union.find(j)
        if a == b:
            continue
        if gap > SAME_IN:
            net.steps.take(len(settled.get(i, ())) + len(settled.get(j, ())))
            if not loose and (_paired(places, settled, i, j) or _paired(places, settled, j, i)):
                continue
            net.steps.take((len(members[a]) + len(members[b])) ** 2 // 4)
            if not _fit(runs, places, members[a] + members[b], tolerance):
                continue
        one = union.merge(a, b)
        members[one] = sorted(members.pop(a) + members.pop(b))
    kept = [run for run in runs if run.curve]
    for group in sorted(members.values()):
        kept += [runs[group[0]]] if len(group) == 1 else _one(net, [runs[i] for i in group], hanging, tolerance)
    net.runs = kept


def _paired(places: Sequence[tuple[Point, ...]], settled: dict[int, list[int]], i: int, j: int) -> bool:
    """Whether line i has, over most of its common run with j, another line exactly on it: it is a seam already."""
    low, high = _common(places[i], places[j])
    both = [_common(places[i], places[k]) for k in settled.get(i, ())]
    return sum(max(0.0, min(h, high) - max(g, low)) for g, h in both) > (high - low) / 2


def _common(p: tuple[Point, ...], q: tuple[Point, ...]) -> tuple[float, float]:
    """Where line q lies beside line p, in inches along p."""
    t, u = sorted(along(x, *p) for x in q)
    return max(0.0, t), min(math.dist(*p), u)


def _gap(p: tuple[Point, ...], q: tuple[Point, ...], tolerance: float) -> float | None:
    """The largest distance of two lines over their common run; None if they have none or lean apart."""
    if math.dist(*p) < math.dist(*q):
        p, q = q, p
    a, b = p
    if sine(a, b, *q) > LEAN:
        return None
    long, short = math.dist(a, b), math.dist(*q)
    t, u = (along(x, a, b) for x in q)
    low, high = max(0.0, min(t, u)), min(long, max(t, u))
    d, e = (off_line(x, a, b) for x in q)
    if high - low <= max(SAME_IN, min(2 * tolerance, short / 2)):
        # So short a common run proves nothing, unless both lie on one line all along.
        off = max(abs(d), abs(e))
        return off if high - low > 2 * SAME_IN and off <= SAME_IN else None
    return max(abs(d + (e - d) * ((s - t) / (u - t))) for s in (low, high))


def _fit(runs: Sequence[Run], places: Sequence[tuple[Point, ...]], group: list[int], tolerance: float) -> bool:
    """Whether a group keeps to one line and holds no two sides of one shape beside each other."""
    a, b = places[max(group, key=lambda i: (round(math.dist(*places[i]), 6), -i))]
    if any(abs(off_line(p, a, b)) > tolerance for i in group for p in places[i]):
        return False
    for n, i in enumerate(group):
        for j in group[n + 1 :]:
            if runs[i].shapes & runs[j].shapes:
                gap = _gap(places[i], places[j], tolerance)
                if gap is not None and gap > SAME_IN:
                    return False
    return True


def _one(net: Net, runs: list[Run], hanging: set[int], tolerance: float) -> list[Run]:
    """The runs that doubled runs become: one for each stretch that is covered without a gap."""
    # A border of the outline wins, then a run with both ends fast, then the longest.
    lead = min(
        runs, key=lambda r: (not r.border, any(n in hanging for n in r.ends), -round(math.dist(*net.shape(r)), 6))
    )
    a, b = net.shape(lead)
    spans = []
    for run in runs:
        low, high = sorted(run.ends, key=lambda n: along(net.at[n], a, b))
        spans.append((along(net.at[low], a, b), along(net.at[high], a, b), low, high, run))
    spans.sort(key=lambda s: (round(s[0], 6), round(s[1], 6)))
    stretches: list[list[tuple[float, float, int, int, Run]]] = []
    for span in spans:
        if stretches and span[0] <= max(s[1] for s in stretches[-1]) + SAME_IN:
            stretches[-1].append(span)
        else:
            stretches.append([span])
    made = []
    for stretch in stretches:
        lows, highs = [(s[0], s[2]) for s in stretch], [(s[1], s[3]) for s in stretch]
        _join_corners(net, lows + highs, hanging, tolerance)
        first = _end(net, lows, hanging, tolerance)
        last = _end(net, [(-t, n) for t, n in highs], hanging, tolerance)
        loose = {n for s in stretch for n in s[2:4] if n in hanging} - {first, last}
        for node in sorted(loose):
            net.repaired("doubled", net.at[node], abs(off_line(net.at[node], a, b)))
        inside = {net.find(n) for s in stretch for n in (*s[2:4], *s[4].on) if n not in loose}
        whole = stretch[0][4] if len(stretch) == 1 else lead
        made.append(
            Run(
                [first, last],
                inside - {first, last},
                source=whole.source,
                border=any(s[4].border for s in stretch),
                shapes=frozenset().union(*(s[4].shapes for s in stretch)),
            )
        )
    return made


def _end(net: Net, ends: list[tuple[float, int]], hanging: set[int], tolerance: float) -> int:
    """The node at which a stretch ends: of the ends near its extreme the outermost that something else is at."""
    ends = sorted(ends, key=lambda e: (round(e[0], 6), e[1]))
    fast = [n for t, n in ends if n not in hanging and t <= ends[0][0] + tolerance]
    return net.find(fast[0] if fast else ends[0][1])


def _join_corners(net: Net, ends: list[tuple[float, int]], hanging: set[int], tolerance: float) -> None:
    """Make corners of different shapes that lie near each other on one line one.

    A corner that two shapes share already was put there on purpose; only a lonely one is joined to another.
    """
    ends = sorted(((round(t, 6), n) for t, n in ends if n not in hanging and net.shapes_at(n)))
    head = None
    for _, node in ends:
        if head is not None and net.find(head) != net.find(node):
            gap = math.dist(net.at[head], net.at[node])
            few, its = sorted((net.shapes_at(head), net.shapes_at(node)), key=len)
            if gap <= tolerance and len(few) < 2 and not few & its:
                net.repaired("doubled", net.at[head], gap)
                net.merge(head, node)
                continue
        head = node
