"""The piecing plan of a block: the one call that every command makes.

Knows:  decision, division, names, orders, joins, obstructions, counts, put together to one plan with its id.
Leaves: how each is found (the modules beside this one); whether the plan is true (proof, which shares nothing with
        us).
"""

from __future__ import annotations

import zlib
from dataclasses import replace

from seamwright.block.model import Block
from seamwright.geometry import canonical_ring
from seamwright.notes import Note
from seamwright.options import PlanOptions, Rotary
from seamwright.piecing.advice import advised
from seamwright.piecing.budget import Progress, Watch
from seamwright.piecing.cloth import cloth_notes
from seamwright.piecing.decide import Decision, decide
from seamwright.piecing.divide import Division, divide
from seamwright.piecing.joins import sections_and_joins
from seamwright.piecing.limitnotes import limit_notes
from seamwright.piecing.limits import Limits
from seamwright.piecing.model import Fewest, Plan
from seamwright.piecing.seammap import SeamMap
from seamwright.piecing.start import with_start
from seamwright.piecing.twin import Twin
from seamwright.resting import resting

ID_GRID_IN = 1 / 65536
"""Coordinates are rounded to this for the id: far above noise, far below a thread, and dyadic sizes lie on it."""
DRESSING = ("palette", "colourway")
"""Options that change nothing but fabrics."""
ADVICE_STEPS = 20_000
"""Regions looked at only to say what would be quicker without paper."""
FLOATS = (
    "set-in seams do not free what floats inside a patch, or hangs in one by a single point: a seam round it has "
    "no ends to sew between. Sew it on top (applique), or draw a seam from it to the edge"
)
FEWER_TURNS = (
    "fewer partial seams, or fewer turns in one join, may do: the search for them ended at its limit, and more "
    "--steps may find them"
)


@resting()
def plan(block: Block, options: PlanOptions | None = None, progress: Progress | None = None) -> Plan:
    """How to sew a block, or why it cannot be sewn with straight full seams.

    Args:
        block: what to sew.
        options: the defaults if None.
        progress: called now and then with the number of regions the search has looked at. Ctrl-C ends the search,
            not the program: the plan is the best found until then, and says so.

    Returns:
        A plan in every case: one that is stuck has `sewable` "no" and its obstructions.

    Raises:
        OptionError: `start` names a patch that is not there, or that cannot be the first of its section;
            `pre_pieced` names some that are not there, or that cannot be sewn together beforehand.
    """
    options = options or PlanOptions()
    if block.reversed or options.reversed:
        from seamwright.block.mirrored import mirrored
        from seamwright.piecing.mirrored import mirrored_plan

        drawn = mirrored(block) if block.reversed else block
        return mirrored_plan(plan(drawn, replace(options, reversed=False), progress))
    if options.pre_pieced and not block.pre_pieced:
        from seamwright.piecing.beforehand import block_pieced, told

        unpieced = plan(block, replace(options, pre_pieced="", start=""), progress)
        made = plan(block_pieced(unpieced, options.pre_pieced), options, progress)
        return replace(made, notes=(*told(made), *made.notes))
    watch = Watch(progress, options.seconds)
    seams = SeamMap(block)
    decision = _decided(seams)
    empty = Plan(plan_id(block, options), block, options, "no", set_in_points=len(seams.no_seam_through))
    if decision.stuck:
        from seamwright.piecing.setin import floating

        if options.set_in and not floating(block):
            with watch.listening():
                made = _set_in(empty, seams, watch)
            return advised(made, seams)
        return _stuck(empty, seams, decision)
    twin = Twin(block)
    with watch.listening():
        division = divide(twin.seams, options, watch)
        # The search under limits, which comes second, may be the one that was ended.
        division = replace(division, ended=division.ended or watch.ended)
        fewest = _fewest(division, division.at_least)
        made = _made(empty, seams, twin, twin.seams, division, fewest, watch)
    return advised(made, seams)


def stuck_plan(block: Block, options: PlanOptions) -> Plan:
    """The plan of a block that is known to be stuck: what locks what, and where."""
    seams = SeamMap(block)
    empty = Plan(plan_id(block, options), block, options, "no", set_in_points=len(seams.no_seam_through))
    return _stuck(empty, seams, _decided(seams))


def _decided(seams: SeamMap) -> Decision:
    decision = decide(seams)
    if decision.stuck and not all(seam.straight for seam in seams.block.seams):
        # A curve is no step of a foundation, but it may join sections.
        decision = decide(seams, lambda seam: True)
    return decision


def _stuck(empty: Plan, seams: SeamMap, decision: Decision) -> Plan:
    """Why a block cannot be sewn."""
    from seamwright.piecing.explain import explain
    from seamwright.piecing.setin import floating

    notes: tuple[Note, ...] = ()
    if empty.options.set_in:
        held = set(floating(empty.block))
        stuck = tuple(part for part in decision.stuck if held.intersection(part))
        decision, notes = replace(decision, stuck=stuck), (Note("set-in", FLOATS),)
    obstructions = explain(seams, decision, empty.patch_names(), empty.options.units)
    return advised(replace(empty, obstructions=obstructions, notes=notes), seams)


def _set_in(empty: Plan, drawn: SeamMap, watch: Watch) -> Plan:
    """The plan of a stuck block, sewn as it is drawn: with seams that turn."""
    from seamwright.piecing.setin import set_in
    from seamwright.piecing.turns import with_kinds

    options, twin = empty.options, Twin(empty.block)
    seams = SeamMap(twin.seams.block, mirrored=twin.seams.mirrored, turning=True)
    found = set_in(seams, options, watch)
    division = divide(found.seams, options, watch)
    fewest = _fewest(division, max(found.at_least, division.at_least - found.short), sure=found.proven)
    fewest = replace(fewest, ended=fewest.ended or watch.ended)
    if division.broken:
        # Under limits other turns may do with fewer sections.
        other = set_in(seams, options, watch, Limits(seams, options).allow)
        limited = divide(other.seams, options, watch)
        if limited.sections < division.sections:
            found, division = other, replace(limited, fewest=fewest.sections, broken=division.broken)
    notes = () if found.proven else (Note("search", FEWER_TURNS),)
    return with_kinds(_made(empty, drawn, twin, found.seams, division, fewest, watch, notes))


def _made(
    empty: Plan,
    drawn: SeamMap,
    twin: Twin,
    sewn: SeamMap,
    division: Division,
    fewest: Fewest,
    watch: Watch,
    notes: tuple[Note, ...] = (),
) -> Plan:
    """The plan of a division.

    Args:
        drawn: of the block; sewn: of its twin, with the seams along which it is divided.
        notes: told before all others.
    """
    options = empty.options
    base, with_units = division, _with_units(sewn, options, division, watch)
    if options.rotary is Rotary.AUTO:
        division, fewest = with_units, replace(fewest, ended=fewest.ended or with_units.ended)
    sections, joins = sections_and_joins(sewn, division.tree, division.by_ruler)
    sections, started = with_start(sewn, sections, options.start, fold_clear=options.fold_clear)
    cloth = cloth_notes(sewn, [section for section in sections if section.method == "paper"])
    sections, joins = twin.back(sections, joins)
    limited = limit_notes(drawn, options, division, sections)
    if options.rotary is Rotary.AUTO:
        from seamwright.piecing.rotarynotes import rotary_notes

        limited = (*limited, *rotary_notes(options, base, division))
    if any(join.turns for join in joins):
        sewable = "set-in"
    else:
        sewable = "straight" if all(join.kind == "straight" for join in joins) else "curved"
    made = replace(
        empty,
        sewable=sewable,
        sections=sections,
        joins=joins,
        fewest=fewest,
        points_to_match=sum(drawn.to_match),
        notes=(*notes, *_search_notes(division), *limited, *started, *cloth),
    )
    if options.rotary is Rotary.NEVER and with_units.units and not with_units.ended:
        from seamwright.piecing.rotarynotes import rotary_advice

        advice = rotary_advice(made, base, with_units, map(twin.patches_back, with_units.units))
        made = replace(made, notes=(*made.notes, *advice))
    return made


def _with_units(sewn: SeamMap, options: PlanOptions, division: Division, watch: Watch) -> Division:
    """The division with units off the paper; where only advice hangs on it, after a short search."""
    from seamwright.piecing.rotary import divide_with_units

    if options.rotary is Rotary.NEVER:
        if division.ended:
            return division  # what took all its steps is not searched again for advice
        options = replace(options, steps=min(options.steps, ADVICE_STEPS))
    return divide_with_units(sewn, options, division, watch)


def _fewest(division: Division, at_least: int, *, sure: bool = True) -> Fewest:
    """What was proven; `sure`: that the seams along which it is divided are the best ones."""
    return Fewest(
        sections=division.fewest,
        foundations=division.foundations,
        proven=sure and division.fewest == at_least,
        at_least=at_least,
        ties_settled=division.ties_settled,
        ended=division.ended,
    )


def plan_id(block: Block, options: PlanOptions) -> str:
    """8 hex digits of what the plan depends on: the patches' shapes, their fabrics, and the options.

    The order in which lines were drawn, the drawing's name and its file do not count; of a palette and a colourway
    counts what comes of them.
    """
    faces = sorted(_face(block, number) for number in range(len(block.patches)))
    worn = {name for number in range(len(block.patches)) for name in block.fabrics_in(number)}
    fabrics = sorted(repr(fabric) for fabric in block.fabrics if fabric.name in worn)
    asked = sorted((name, repr(value)) for name, value in options.changed().items() if name not in DRESSING)
    parts = [[(part.ring, part.fabric) for part in made.parts] for made in block.pre_pieced]
    text = repr((faces, fabrics, asked, *parts))
    # No secret is kept here: a checksum tells plans apart as well, and loads in no time.
    return f"{zlib.crc32(text.encode()):08x}"


def _face(block: Block, number: int) -> tuple[tuple[tuple[tuple[int, int], ...], ...], str]:
    rings = [canonical_ring(block.patch_ring(number)), *sorted(map(canonical_ring, block.patch_holes(number)))]
    rounded = tuple(tuple((round(x / ID_GRID_IN), round(y / ID_GRID_IN)) for x, y in ring) for ring in rings)
    return rounded, block.patches[number].fabric or ""


def _search_notes(division: Division) -> tuple[Note, ...]:
    """Who ended the search, and whether plans with as few sections were left uncompared."""
    if division.ended == "stopped":
        return (Note("stopped", "you stopped the search (Ctrl-C): this is the best plan found until then"),)
    if division.ties_settled and not division.kinds_settled and division.repeated is None:
        text = (
            "a plan with as few sections and fewer different foundations was not ruled out: the block can be "
            "divided in too many ways for all to be kept"
        )
        return (Note("search", text),)
    if division.ties_settled:
        return ()
    if division.fewest > division.at_least:
        return ()
    text = "not every plan with as few sections was compared, there are so many; another may be a little handier"
    return (Note("search", text),)
