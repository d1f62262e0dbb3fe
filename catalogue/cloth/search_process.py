"""The process that `solver` starts: it imports nothing of this package, so that it is there at once."""

from __future__ import annotations

import json
import os
import sys
import threading
import time

import spyrrow

LONGEST = 3600
"""Seconds that the library is given: longer than it is left to work."""


def run() -> None:
    """Read what is asked from the standard input, search, and write the best lay among the first reports."""
    asked = json.load(sys.stdin)
    items = [
        spyrrow.Item(
            str(n),
            [tuple(p) for p in item["points"]],
            item["demand"],
            [0.0, 180.0] if item["turns"] else [0.0],
        )
        for n, item in enumerate(asked["items"])
    ]
    instance = spyrrow.StripPackingInstance("lay", asked["width"], items)
    config = spyrrow.StripPackingConfig(
        early_termination=True,
        total_computation_time=None,
        exploration_time=LONGEST,
        compression_time=1,
        num_workers=1,
        seed=asked["seed"],
    )
    queue = spyrrow.ProgressQueue()
    solving = threading.Thread(target=lambda: instance.solve(config, progress=queue), daemon=True)
    solving.start()
    best, count, failed = None, 0, 0
    going = True
    while going and count < asked["reports"] and failed < asked["failures"]:
        if time.process_time() > asked["seconds"]:
            break
        going = solving.is_alive()  # Asked before the queue is emptied, so that no report is left in it.
        for kind, found in queue.drain():
            count += 1
            failed += kind == spyrrow.ReportType.ExplInfeas
            if count > asked["reports"] or failed >= asked["failures"] or kind == spyrrow.ReportType.CmprFeas:
                failed = asked["failures"]  # What comes after the search depends on the clock.
                break
            if kind == spyrrow.ReportType.ExplFeas and (best is None or found.width < best.width):
                best = found
        time.sleep(0.005)
    if best is not None:
        placed = [[int(p.id), p.rotation != 0.0, *p.translation] for p in best.placed_items]
        sys.stdout.write(json.dumps({"placed": placed}))
        sys.stdout.flush()
    os._exit(0 if best is not None else 1)  # The search goes on until its time is over, unless it is left.


if __name__ == "__main__":
    run()
