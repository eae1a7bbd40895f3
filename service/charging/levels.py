"""The cheapest way to move an energy slot by slot under a cap of power: dynamic programming over levels of energy.

Model    what has been moved stands at one of evenly spaced levels; a slot that is on lifts it by at least its least,
         unless it tapers or ends the charge, and by no more than its reach; between two runs nothing is paid. The slot
         that ends the charge before any taper is on only as long as full pace needs.
Method   forward over the slots, for each number of runs the cheapest cost of every level, charging or resting. A slot's
         cost is straight in its gain, so the best source of a level is the least of a sliding window: one pass a slot.
Bounds   between two levels nothing is known, so callers round twice: outwards for a cost that no plan undercuts,
         inwards for a plan that can be driven (`peaks`).
"""

import numpy as np

from service.physics.compiled import compiled

__all__ = ["climbed", "on_of"]

REST, RUN = 0, 1  # where a resting level came from


@compiled
def lifted(entry, per_level, least, threshold, reach, out, source):
    """One slot that is on: the cheapest cost of every level after it, and the level it came from, −1 where none.

    Args:
        entry: cost of beginning the slot at each level, inf where that is not possible.
        per_level: cost of lifting by one level.
        least: levels that the slot lifts at least, from below `threshold`; from there on any number.
        reach: highest level that the slot leads to from each level; never falls.
    """
    levels = entry.size
    queue = np.empty(levels, np.int64)
    out[:] = np.inf
    source[:] = -1
    for group in range(2):
        low, high, delay = (0, min(threshold, levels), least) if group == 0 else (threshold, levels, 0)
        head = tail = 0
        next_in = low
        for level in range(low + delay, levels):
            while next_in < high and next_in + delay <= level:
                if entry[next_in] < np.inf:
                    worth = entry[next_in] - per_level * next_in
                    while tail > head and entry[queue[tail - 1]] - per_level * queue[tail - 1] >= worth:
                        tail -= 1
                    queue[tail] = next_in
                    tail += 1
                next_in += 1
            while tail > head and reach[queue[head]] < level:
                head += 1
            if tail > head:
                cost = entry[queue[head]] + per_level * (level - queue[head])
                if cost < out[level]:
                    out[level] = cost
                    source[level] = queue[head]
            elif next_in >= high:
                break


@compiled
def ended(entry, per_level, on_cost, pace, threshold, reach, out, source):
    """The same for a slot that ends the charge in part of its time: the highest level only, where that costs less.

    Args:
        on_cost: of the whole slot. pace: levels that the whole slot lifts at full pace.
    """
    top = entry.size - 1
    for level in range(max(0, top - int(pace)), min(threshold, top)):
        share = (top - level) / pace
        cost = entry[level] + per_level * (top - level) + on_cost * (share - 1)
        if reach[level] >= top and cost < out[top]:
            out[top] = cost
            source[top] = level


@compiled
def climbed(per_level, on_cost, start_cost, least, pace, threshold, reach, kind, levels, runs, sources, begun, rested):
    """Least cost of reaching the highest level by the last slot, and the row it ends in; inf where nothing does.

    Args:
        per_level, on_cost, least, pace: of each slot: cost of a level, of being on, levels lifted at least, and at
            full pace.
        start_cost: of beginning a run; threshold: of each kind of slot, as for `lifted`.
        reach: of each slot by level, shape (slots, levels).
        kind: of each slot.
        sources, begun, rested: shape (slots, runs, levels) to keep the way, or (0, …) where only the cost matters.
    """
    slots, keeps = per_level.size, sources.shape[0] > 0
    running = np.full((runs + 1, levels), np.inf)
    resting = np.full((runs + 1, levels), np.inf)
    resting[0, 0] = 0.0
    entry, out, source = np.empty(levels), np.empty(levels), np.empty(levels, np.int32)
    for slot in range(slots):
        for run in range(runs, 0, -1):
            for level in range(levels):
                entry[level] = min(running[run, level], resting[run - 1, level] + start_cost)
            lifted(entry, per_level[slot], least[slot], threshold[kind[slot]], reach[slot], out, source)
            ended(entry, per_level[slot], on_cost[slot], pace[slot], threshold[kind[slot]], reach[slot], out, source)
            if keeps:
                for level in range(levels):
                    came = source[level]
                    sources[slot, run - 1, level] = came
                    begun[slot, run - 1, level] = came >= 0 and running[run, came] > entry[came]
                    rested[slot, run - 1, level] = RUN if running[run, level] < resting[run, level] else REST
            for level in range(levels):
                resting[run, level] = min(resting[run, level], running[run, level])
                running[run, level] = out[level] + on_cost[slot]
    best, ends = np.inf, -1
    for run in range(1, runs + 1):
        for state in range(2):
            cost = running[run, levels - 1] if state == RUN else resting[run, levels - 1]
            if cost < best:
                best, ends = cost, 2 * run + state
    return best, ends


def on_of(ends: int, sources: np.ndarray, begun: np.ndarray, rested: np.ndarray) -> np.ndarray:
    """Which slots are on, on the way back from where `climbed` ended."""
    slots, _, levels = sources.shape
    run, state, level = ends // 2, ends % 2, levels - 1
    on = np.zeros(slots, bool)
    for slot in range(slots - 1, -1, -1):
        if run == 0:
            break
        if state == RUN:
            on[slot] = True
            came = int(sources[slot, run - 1, level])
            if begun[slot, run - 1, level]:
                run, state = run - 1, REST
            level = came
        else:
            state = int(rested[slot, run - 1, level])
    return on
