"""Workers that die, hang or fail take nothing with them but the task they were at."""

from __future__ import annotations

import multiprocessing
import os
import pickle
import time
from pathlib import Path

import pytest

from catalogue.between_runs import packed
from catalogue.building import fingerprint
from catalogue.building.pool import Pool
from catalogue.geometry import Path as DrawnPath
from catalogue.geometry import Point
from catalogue.studio.reading import read_style


def work(task: object) -> object:
    if task == "die":
        os._exit(3)
    if task == "hang":
        time.sleep(60)
    if task == "fail":
        raise ValueError("seven is not even")
    if task == "recurse":
        return work(task)
    return os.getpid(), task


@pytest.mark.parametrize("count", [1, 2, 5])
def test_every_task_is_answered_once(count: int) -> None:
    with Pool(work, count) as pool:
        answers = [outcome.answer for outcome in pool.run(range(40))]
    assert sorted(task for _, task in answers) == list(range(40))
    assert len({pid for pid, _ in answers}) <= count
    assert (os.getpid() in {pid for pid, _ in answers}) == (count == 1)


def test_tasks_and_answers_larger_than_a_pipe_holds_pass_each_other() -> None:
    """As of the pages of styles with hundreds of clients: nobody waits for the other to read first."""
    large = [bytes([n]) * 1_000_000 for n in range(12)]
    with Pool(work, 2) as pool:
        answers = [outcome.answer for outcome in pool.run(large)]
    assert sorted(task for _, task in answers) == large


@pytest.mark.parametrize("count", [1, 2])
def test_a_failing_task_tells_why(count: int) -> None:
    with Pool(work, count) as pool:
        outcomes = {outcome.task: outcome for outcome in pool.run(["fail", "recurse", "good"])}
    assert outcomes["fail"].kind == "ValueError" and outcomes["fail"].trouble == "seven is not even"
    assert "Traceback" in outcomes["fail"].detail
    assert outcomes["recurse"].kind == "RecursionError"
    assert outcomes["good"].answer[1] == "good"


def test_a_dying_worker_loses_one_task() -> None:
    tasks = ["die", *range(10), "die", *range(10, 20), "die"]
    with Pool(work, 2) as pool:
        outcomes = list(pool.run(tasks))
    assert sum("this stopped" in o.trouble for o in outcomes) == 3
    assert sorted(o.answer[1] for o in outcomes if o.answer) == list(range(20))


def test_a_hanging_worker_is_given_up() -> None:
    with Pool(work, 2, patience=4.0) as pool:
        outcomes = {o.task: o for o in pool.run(["hang", 1, 2, 3, 4])}
    assert "longer than 4 seconds" in outcomes["hang"].trouble
    assert all(outcomes[n].answer for n in (1, 2, 3, 4))


def test_a_pool_does_several_rounds_and_leaves_no_process() -> None:
    with Pool(work, 3) as pool:
        for _ in range(3):
            assert len(list(pool.run(range(7)))) == 7
        assert multiprocessing.active_children()
    assert not multiprocessing.active_children()


def test_what_was_read_travels_between_processes_unchanged() -> None:
    root = Path(__file__).parents[2]
    for path in sorted((root / "styles").glob("*.md")):
        style = read_style(path, root)
        again = pickle.loads(packed(style))
        assert again == style and fingerprint.of(again) == fingerprint.of(style)
        assert len(packed(style)) < 1.1 * len(pickle.dumps(style, pickle.HIGHEST_PROTOCOL))


def test_a_path_of_a_drawing_travels_too() -> None:
    # Its class makes itself ready after it is made, so it goes its own way.
    path = DrawnPath.polyline([Point(0, 0), Point(3, 4)])
    assert path.length == 5
    assert pickle.loads(packed((path, [path]))) == (path, [path])


def process_and_kin(task: tuple[str, int]) -> int:
    time.sleep(0.001)
    return os.getpid()


def test_tasks_that_share_work_go_to_one_process_and_none_waits_for_another() -> None:
    tasks = [(kin, n) for kin in "abcdefgh" for n in range(12)]
    with Pool(process_and_kin, 2) as pool:
        done = list(pool.run(tasks, lambda task: task[0]))
    assert sorted(outcome.task for outcome in done) == tasks
    processes = {kin: {o.answer for o in done if o.task[0] == kin} for kin in "abcdefgh"}
    # The last may be shared out, so that no process stands idle.
    assert sum(len(each) for each in processes.values()) <= len(processes) + 1
    assert len({o.answer for o in done}) == 2
