"""Openings at every half hour of two weeks in which the clock changes, in four zones.

Reference: zoneinfo of the Python standard library with fold=0, which reads a wall time in a gap with the offset
before it and one in an overlap as the earlier of the two (RFC 5545 section 3.3.5 says the same of a gap).
"""

import json
import os
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from datetime import date, datetime, time, timedelta, timezone
from zoneinfo import ZoneInfo

PROGRAM = os.environ.get("TYMPAN_BIN", "target/debug/tympan")
# The Mondays of the weeks in which the clock goes forward and back in 2026.
WEEKS = {
    "America/New_York": ("2026-03-02", "2026-10-26"),
    "Europe/Berlin": ("2026-03-23", "2026-10-19"),
    "Australia/Lord_Howe": ("2026-09-28", "2026-03-30"),
    "America/Santiago": ("2026-08-31", "2026-03-30"),
}
DAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")


def instant(day, minutes, zone):
    """The instant of a wall time, minutes after midnight (1440 is the next midnight)."""
    local = datetime.combine(day, time()) + timedelta(minutes=minutes)
    return local.replace(tzinfo=ZoneInfo(zone), fold=0).astimezone(timezone.utc)


def clock(minutes):
    return f"{minutes // 60:02}:{minutes % 60:02}"


def differs(case):
    """An opening of an hour: the one that must be filled from end to end is found where zoneinfo says."""
    zone, day, begin = case
    end = min(begin + 60, 1440)
    start, finish = instant(day, begin, zone), instant(day, end, zone)
    on = day
    if finish <= start:
        # The change of the clock left nothing of it: the next one comes a week later.
        on = day + timedelta(days=7)
        start, finish = instant(on, begin, zone), instant(on, end, zone)
    minutes = (finish - start) // timedelta(minutes=1)
    plan = {
        "start": instant(day, 0, zone).isoformat(), "due": instant(on, 1440, zone).isoformat(), "zone": zone,
        "open": [{"day": DAYS[day.weekday()], "from": clock(begin), "to": clock(end)}],
        "steps": [{"key": "whole", "minutes": minutes}, {"key": "split", "minutes": minutes, "may_split": True}],
    }
    done = subprocess.run([PROGRAM, "reckon", "plan"], input=json.dumps(plan), capture_output=True, text=True)
    if done.returncode != 0:
        return f"{case}: exit {done.returncode}: {done.stderr}"
    answer = json.loads(done.stdout)
    for step in answer["steps"]:
        for kind in ("earliest", "latest"):
            found = tuple(datetime.fromisoformat(step[f"{kind}_{end}"]) for end in ("start", "finish"))
            if found != (start, finish):
                return f"{zone} {day} {clock(begin)} {step['key']} {kind}: {found}, not {(start, finish)}"
            if found[0].utcoffset() != start.astimezone(ZoneInfo(zone)).utcoffset():
                return f"{zone} {day} {clock(begin)}: written with offset {found[0].utcoffset()}"
    return None if answer["feasible"] else f"{case}: not feasible"


def main():
    cases = [
        (zone, date.fromisoformat(monday) + timedelta(days=day), half * 30)
        for zone, mondays in WEEKS.items() for monday in mondays for day in range(7) for half in range(48)
    ]
    lengths = {zone: {instant(date.fromisoformat(m) + timedelta(days=7), 0, zone) - instant(date.fromisoformat(m), 0, zone)
                      for m in mondays} for zone, mondays in WEEKS.items()}
    for zone, both in lengths.items():
        if len(both) != 2 or timedelta(days=7) in both:
            print(f"{zone}: these weeks do not hold both changes: {both}")
            return 1
    with ThreadPoolExecutor(2) as pool:
        faults = [fault for fault in pool.map(differs, cases) if fault]
    for fault in faults[:5]:
        print(fault)
    print(f"{len(cases)} openings in {len(WEEKS)} zones, the change forward and back in each: {len(faults)} differ")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())
