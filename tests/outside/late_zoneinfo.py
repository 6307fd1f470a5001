"""Days late and wall times in gaps and overlaps, against Python's zoneinfo.

Reference: zoneinfo with fold=0 (the offset before the change, as RFC 5545 3.3.5) and the system's tz database.
First, what instant a due time means: work received at that very second is in time, a second later it is late.
Then days late and their dates for random due times, graces, uncounted dates and personal due dates.
"""

import json
import os
import random
import subprocess
import sys
import zoneinfo
from collections import Counter
from concurrent.futures import ThreadPoolExecutor
from datetime import date, datetime, timedelta, timezone

SEED = int(os.environ.get("LATE_SEED", "20260308"))
CASES = int(os.environ.get("LATE_CASES", "500"))
PROGRAM = os.environ.get("TYMPAN_BIN", "target/debug/tympan")
ZONES = ["America/New_York", "Europe/Berlin", "Australia/Lord_Howe", "America/St_Johns"]
# Every half hour of these days: the weeks of both changes in the zones above.
WEEKS = [date(2026, 3, 5), date(2026, 3, 27), date(2026, 4, 3), date(2026, 10, 2), date(2026, 10, 23), date(2026, 10, 30)]
SECOND = timedelta(seconds=1)


def utc(local, zone):
    return local.replace(tzinfo=zoneinfo.ZoneInfo(zone)).astimezone(timezone.utc)


def fits(zone, local):
    """How often a wall time happens: gap, overlap or once."""
    first, second = (local.replace(tzinfo=zoneinfo.ZoneInfo(zone), fold=fold).utcoffset() for fold in (0, 1))
    return "once" if first == second else "overlap" if first > second else "gap"


def ask(**given):
    done = subprocess.run([PROGRAM, "reckon", "late"], input=json.dumps(given), capture_output=True, text=True)
    if done.returncode:
        return done.stderr.strip()
    answer = json.loads(done.stdout)
    return answer["days_late"], answer["charged_on"]


def text(local):
    return local.strftime("%Y-%m-%dT%H:%M")


def instant_differs(probe):
    zone, local = probe
    due = utc(local, zone)
    asked = {"due_local": text(local), "zone": zone, "grace_minutes": 0, "uncounted": []}
    in_time = ask(received=due.isoformat(), **asked)
    late = ask(received=(due + SECOND).isoformat(), **asked)
    begins = due.astimezone(zoneinfo.ZoneInfo(zone)).date().isoformat()
    if in_time == (0, []) and late == (1, [begins]):
        return None
    return f"{zone} {local}: {in_time} at {due}, {late} a second later"


def weeks():
    for zone in ZONES:
        for first in WEEKS:
            start = datetime(first.year, first.month, first.day)
            yield from ((zone, start + timedelta(minutes=30 * step)) for step in range(5 * 48))


def changes(chance):
    """Wall times around one change of the clock in every zone that has one from 1990 to 2024."""
    for zone in sorted(zoneinfo.available_timezones() - {"localtime", "Factory", "posixrules"}):
        info = zoneinfo.ZoneInfo(zone)
        days = [datetime(1990, 1, 1) + timedelta(days=n) for n in range(35 * 365)]
        offsets = [day.replace(tzinfo=info).utcoffset() for day in days]
        changed = [place for place in range(1, len(days)) if offsets[place] != offsets[place - 1]]
        if not changed:
            continue
        # Within the day, the hour at which the offset changes; then half an hour to both sides of it.
        day = days[chance.choice(changed) - 1]
        hours = [day + timedelta(minutes=15 * step) for step in range(96)]
        at = next((h for h in hours if h.replace(tzinfo=info).utcoffset() != day.replace(tzinfo=info).utcoffset()), day)
        for minutes in (-75, -45, -15, 0, 15, 45):
            yield zone, at + timedelta(minutes=minutes)


def a_case(chance):
    zone = chance.choice(ZONES + ["Asia/Kathmandu", "Africa/Casablanca", "Pacific/Auckland", "UTC"])
    near = chance.choice(WEEKS) + timedelta(days=chance.randint(-3, 5))
    due = datetime(near.year, near.month, near.day, chance.choice([0, 1, 2, 3, 12, 17, 23]), chance.choice([0, 30, 59]))
    own = due + timedelta(days=chance.randint(-2, 5)) if chance.random() < 0.3 else None
    grace = chance.choice([0, 0, 5, 30, 60, 600, 1440, 2000])
    received = utc(due, zone) + timedelta(seconds=chance.randint(-2 * 86400, 9 * 86400))
    if chance.random() < 0.3:  # on the very second, or just past it
        edge = (own or due) + timedelta(days=chance.randint(0, 6))
        received = utc(edge, zone) + timedelta(minutes=grace) + chance.choice([timedelta(0), SECOND])
    uncounted = [near + timedelta(days=n) for n in range(-3, 9) if chance.random() < 0.25]
    return zone, due, own, grace, received, uncounted


def wanted(zone, due, own, grace, received, uncounted):
    charged = []
    for days in range(60):
        begins = utc((own or due) + timedelta(days=days), zone) + timedelta(minutes=grace)
        if received <= begins:
            break
        begun_on = begins.astimezone(zoneinfo.ZoneInfo(zone)).date()
        if begun_on not in uncounted:
            charged.append(begun_on.isoformat())
    return len(charged), charged


def case_differs(case):
    zone, due, own, grace, received, uncounted = drawn = a_case(random.Random(SEED + case))
    elsewhere = received.astimezone(timezone(timedelta(hours=case % 25 - 12)))
    given = {"due_local": text(due), "zone": zone, "grace_minutes": grace, "received": elsewhere.isoformat(),
             "uncounted": [day.isoformat() for day in uncounted], "personal_due_local": own and text(own)}
    answer = ask(**given)
    return None if answer == wanted(*drawn) else f"case {case}: {answer}, not {wanted(*drawn)}: {json.dumps(given)}"


def main():
    # The first tier takes every tenth of them, the second tier (LATE_STEP=1) all.
    probes = [*weeks(), *changes(random.Random(SEED))][::int(os.environ.get("LATE_STEP", "10"))]
    with ThreadPoolExecutor(2) as pool:
        faults = [fault for fault in pool.map(instant_differs, probes) if fault]
        faults += [fault for fault in pool.map(case_differs, range(CASES)) if fault]
    for fault in faults[:10]:
        print(fault)
    zones = len({zone for zone, _ in probes})
    count = Counter(fits(*probe) for probe in probes)
    print(f"{len(probes)} wall times ({count['gap']} in gaps, {count['overlap']} in overlaps) in {zones} zones "
          f"and {CASES} random deadlines: {len(faults)} differ")
    # A draw that meets few gaps and overlaps proves little: about one probe in twenty lies in each.
    return 1 if faults or min(count["gap"], count["overlap"]) * 50 < len(probes) else 0


if __name__ == "__main__":
    sys.exit(main())
