"""Plans of random graphs against longest paths.

Reference: networkx, dag_longest_path_length and descendants/ancestors. With a studio that is always open the times
are longest paths outright. With weekly openings and steps that may all be split, they are longest paths on a line of
open minutes, which this file lays out with zoneinfo. PLANNING_CASES and PLANNING_SEED change the run.
"""

import bisect
import json
import os
import random
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from datetime import date, datetime, time, timedelta, timezone
from zoneinfo import ZoneInfo

import networkx

CASES = int(os.environ.get("PLANNING_CASES", "2000"))
SEED = int(os.environ.get("PLANNING_SEED", "20260914"))
PROGRAM = os.environ.get("TYMPAN_BIN", "target/debug/tympan")
MINUTE = timedelta(minutes=1)
DAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")


def a_graph(chance, shortest, waits):
    """Steps in a shuffled order, each after some of those numbered lower."""
    count = chance.randint(1, 14)
    keys = [f"step {number}" for number in range(count)]
    steps = []
    for number, key in enumerate(keys):
        before = [other for other in keys[:number] if chance.random() < 0.3]
        step = {"key": key, "minutes": chance.randint(shortest, 300), "after": before}
        if waits and chance.random() < 0.4:
            step["min_wait_minutes"] = chance.randint(0, 2000)
        steps.append(step)
    chance.shuffle(steps)
    return steps


def reference(steps):
    """Earliest start of each step and the longest way from its start to the end of everything, in minutes."""
    graph = networkx.DiGraph()
    for step in steps:
        graph.add_edge((step["key"], "start"), (step["key"], "finish"), weight=step["minutes"])
        for before in step["after"]:
            graph.add_edge((before, "finish"), (step["key"], "start"), weight=step.get("min_wait_minutes", 0))
    heads, tails = {}, {}
    for step in steps:
        at = (step["key"], "start")
        heads[step["key"]] = networkx.dag_longest_path_length(graph.subgraph(networkx.ancestors(graph, at) | {at}))
        tails[step["key"]] = networkx.dag_longest_path_length(graph.subgraph(networkx.descendants(graph, at) | {at}))
    return heads, tails, networkx.dag_longest_path_length(graph)


# ---- a line of open minutes ----

class Line:
    """Openings of a zone over some weeks, and their open minutes laid end to end."""

    def __init__(self, zone, weekly, first, days):
        instant = lambda day, text: datetime.combine(day, time.fromisoformat(text), ZoneInfo(zone)).astimezone(timezone.utc)
        spans = sorted(
            (instant(day, opening["from"]), instant(day, opening["to"]))
            for day in (first + timedelta(days=number) for number in range(days))
            for opening in weekly if DAYS[day.weekday()] == opening["day"]
        )
        self.spans = []
        for start, finish in spans:
            if start >= finish:
                continue
            if self.spans and start <= self.spans[-1][1]:
                self.spans[-1] = (self.spans[-1][0], max(finish, self.spans[-1][1]))
            else:
                self.spans.append((start, finish))
        self.before = [0]
        for start, finish in self.spans:
            self.before.append(self.before[-1] + (finish - start) // MINUTE)

    def minutes(self, at):
        return sum(max(min(at, finish) - start, timedelta()) // MINUTE for start, finish in self.spans)

    def begin(self, minutes):
        """The latest instant with so many open minutes behind it: where work goes on."""
        number = bisect.bisect_right(self.before, minutes) - 1
        return self.spans[number][0] + (minutes - self.before[number]) * MINUTE

    def end(self, minutes):
        """The earliest instant with so many open minutes behind it: where work ends."""
        number = bisect.bisect_left(self.before, minutes) - 1
        return self.spans[number][0] + (minutes - self.before[number]) * MINUTE


# ---- against the program ----

def told(plan):
    done = subprocess.run([PROGRAM, "reckon", "plan"], input=json.dumps(plan), capture_output=True, text=True)
    if done.returncode != 0:
        raise AssertionError(f"exit {done.returncode}: {done.stderr}")
    return json.loads(done.stdout)


def compare(steps, answer, begin, end, origin, allowed):
    """`origin` and `origin + allowed` are start and due on the line; `begin` and `end` turn its minutes into instants."""
    heads, tails, whole = reference(steps)
    wrong = []

    def same(what, found, wanted):
        if found != wanted:
            wrong.append(f"{what}: {found}, not {wanted}")

    moment = datetime.fromisoformat
    same("finish", moment(answer["finish"]), end(origin + whole))
    same("feasible", answer["feasible"], whole <= allowed)
    for step, found in zip(steps, answer["steps"]):
        key, minutes = step["key"], step["minutes"]
        early, late = origin + heads[key], origin + allowed - tails[key]
        same("key", found["key"], key)
        same(f"{key} earliest_start", moment(found["earliest_start"]), begin(early))
        same(f"{key} earliest_finish", moment(found["earliest_finish"]), end(early + minutes))
        same(f"{key} latest_start", moment(found["latest_start"]), begin(late))
        same(f"{key} latest_finish", moment(found["latest_finish"]), end(late + minutes))
        same(f"{key} slack", found["slack_minutes"], late - early)
        same(f"{key} critical", found["critical"], heads[key] + tails[key] == whole)
    too_late = {key for key in heads if heads[key] + next(s["minutes"] for s in steps if s["key"] == key) > allowed}
    if too_late:
        first = min(heads[s["key"]] + s["minutes"] for s in steps if s["key"] in too_late)
        if answer["breaks"] not in {s["key"] for s in steps if heads[s["key"]] + s["minutes"] == first}:
            wrong.append(f"breaks at {answer['breaks']}")
    else:
        same("breaks", answer["breaks"], None)
    return wrong


def always_open(chance):
    steps = a_graph(chance, 0, waits=True)
    start = datetime(2026, 1, 1, tzinfo=timezone.utc) + chance.randint(0, 500_000) * MINUTE
    allowed = chance.randint(0, 6000)
    plan = {"start": start.isoformat(), "due": (start + allowed * MINUTE).isoformat(), "zone": "Europe/Dublin", "open": None, "steps": steps}
    at = lambda minutes: start + minutes * MINUTE
    return plan, lambda answer: compare(steps, answer, at, at, 0, allowed)


def in_open_hours(chance):
    steps = [step | {"may_split": True} for step in a_graph(chance, 1, waits=False)]
    zone = chance.choice(["America/New_York", "Europe/Berlin", "Australia/Lord_Howe", "America/Santiago"])
    weekly = []
    for _ in range(chance.randint(2, 8)):
        begin, end = sorted(chance.sample(range(0, 24 * 12), 2))
        weekly.append({"day": chance.choice(DAYS), **{name: f"{at // 12:02}:{at % 12 * 5:02}" for name, at in (("from", begin), ("to", end))}})
    first = date(2026, 1, 1) + timedelta(days=chance.randint(0, 300))
    line = Line(zone, weekly, first - timedelta(days=400), 1000)
    start = datetime.combine(first, time(), timezone.utc) + chance.randint(0, 10_000) * MINUTE
    due = start + chance.randint(10_080, 60_000) * MINUTE
    plan = {"start": start.isoformat(), "due": due.isoformat(), "zone": zone, "open": weekly, "steps": steps}
    origin = line.minutes(start)
    return plan, lambda answer: compare(steps, answer, line.begin, line.end, origin, line.minutes(due) - origin)


def differs(case):
    chance = random.Random(SEED + case)
    plan, check = (always_open if case % 2 else in_open_hours)(chance)
    try:
        wrong = check(told(plan))
    except AssertionError as complaint:
        wrong = [str(complaint)]
    return f"case {case}: {'; '.join(wrong[:3])}\n{json.dumps(plan)}" if wrong else None


def main():
    with ThreadPoolExecutor(2) as pool:
        faults = [fault for fault in pool.map(differs, range(CASES)) if fault]
    for fault in faults[:3]:
        print(fault)
    print(f"{CASES} random graphs from seed {SEED}, half of them in open hours: {len(faults)} differ")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())
