"""The next days in the view: cuts planned and made, products, slots kept."""

from slabtide.log import model
from slabtide.log.leaves import Groups, leaf
from slabtide.log.merges import Ends, kept
from slabtide.log.polygon import perimeter_m


def planned_cuts(groups: Groups, cuts: tuple[model.Cut, ...], ends: Ends) -> tuple[model.PlannedCut, ...]:
    """The cuts planned, by order; each with the first cut that ticks it."""
    made: dict[str, model.Cut] = {}
    for cut in cuts:
        if cut.cut:
            made.setdefault(cut.cut, cut)
    planned = (
        leaf(
            model.PlannedCut,
            entry,
            id=key[0],
            length_m=perimeter_m([entry["body"]["from"], entry["body"]["to"]]) / 2,
            load=kept(entry["body"].get("load"), ends),
            made=made.get(key[0]),
        )
        for key, entry in groups["planned_cuts"]
    )
    return tuple(sorted(planned, key=lambda cut: (cut.order, cut.id)))


def cut_length_m(cuts: tuple[model.Cut, ...]) -> float:
    """Length sawn; a planned cut ticked by two phones counts once."""
    seen: set[str] = set()
    total = 0.0
    for cut in cuts:
        if cut.cut is None or cut.cut not in seen:
            total += cut.length_m
            seen |= {cut.cut} if cut.cut else set()
    return total


def kept_slots(groups: Groups) -> tuple[model.KeptSlot, ...]:
    """The times kept, by work and coat."""
    slots = (
        leaf(model.KeptSlot, entry, work=work, coat=int(coat)) for (work, coat), entry in groups["slots"]
    )
    return tuple(sorted(slots, key=lambda slot: (slot.work, slot.coat)))
