"""A table of gap and time over many random kitchens: our plans for lengths and sheets, and a peer's on the same.

Run with ``python -m tests.benchmarks.cutting_table --kitchens 200``; it reports and judges nothing. The gap is the
cost above the proven bound, in whole lengths and sheets; seconds are those of the processor. The peer is rectpack,
a general library for packing rectangles. It does not cut from edge to edge; it turns all panels or none, so that
with grain it may turn none. Lengths it packs as rectangles of one height, on the one that is cheapest by the metre.
"""

from __future__ import annotations

import argparse
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from time import process_time

import numpy as np

from countersunk.takeoff.cutting import cut_lengths, cut_sheets
from tests.benchmarks.kitchens import FORMATS, LENGTHS, SAW, by_peer, lengths_by_peer, panels, worktops

HEADER = "| what | kitchens | proven | gap 0 / 1 / 2 / more | mean s | 95 % s | longest s |"


@dataclass(frozen=True)
class Run:
    """One kitchen: cost above the bound in ``steps`` of one purchase, whether proven, and seconds."""

    gap: float
    proven: bool
    seconds: float


def table(kitchens: int) -> list[str]:
    """The rows of the table, as Markdown."""
    rows = [HEADER, "|" + " --- |" * 7]
    seeds = range(kitchens)
    rows.append(_row("lengths, 4 sizes", [_lengths(seed) for seed in seeds]))
    rows.append(_row("the peer on them", [_lengths(seed, lengths_by_peer) for seed in seeds]))
    for name in FORMATS:
        for grain in (True, False):
            words = f"{name}, {'grain' if grain else 'turned'}"
            ours = [_sheets(seed, name, grain) for seed in seeds]
            rows.append(_row(words, [run for run, _ in ours]))
            rows.append(
                _row(
                    "the peer on them",
                    [_peer(seed, name, grain, bound) for seed, (_, bound) in zip(seeds, ours, strict=True)],
                )
            )
    return rows


def _row(words: str, runs: Sequence[Run]) -> str:
    gaps = [sum(run.gap == g for run in runs) for g in (0, 1, 2)]
    gaps.append(len(runs) - sum(gaps))
    seconds = np.array([run.seconds for run in runs])
    times = (float(seconds.mean()), float(np.quantile(seconds, 0.95)), float(seconds.max()))
    proven = sum(run.proven for run in runs)
    cells = [words, f"{len(runs)}", f"{proven}", " / ".join(map(str, gaps)), *(f"{t:.3f}" for t in times)]
    return f"| {' | '.join(cells)} |"


def _lengths(seed: int, peer: Callable[..., int] | None = None) -> Run:
    """In lengths of the cheapest kind that the plan costs above its bound, begun ones counted whole."""
    pieces = worktops(seed)
    plan, seconds = _timed(lambda: cut_lengths(pieces, LENGTHS, SAW))
    cost = plan.cost
    if peer:
        cost, seconds = _timed(lambda: peer(pieces))
    return Run(float(-(-(cost - plan.lower_bound) // LENGTHS[0].price)), cost == plan.lower_bound, seconds)


def _sheets(seed: int, name: str, grain: bool) -> tuple[Run, int]:
    pieces = panels(seed, grain)
    plan, seconds = _timed(lambda: cut_sheets(pieces, [FORMATS[name]], SAW))
    return Run(plan.cost - plan.lower_bound, plan.proven, seconds), plan.lower_bound


def _peer(seed: int, name: str, grain: bool, bound: int) -> Run:
    count, seconds = _timed(lambda: by_peer(panels(seed, grain), FORMATS[name], not grain))
    return Run(count - bound, count == bound, seconds)


def _timed(call):
    start = process_time()
    return call(), process_time() - start


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--kitchens", type=int, default=200)
    print("\n".join(table(parser.parse_args().kitchens)))
