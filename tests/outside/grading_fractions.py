"""Grades of random classes against a plain reading of the rules in exact fractions.

Reference: fractions.Fraction and decimal of the Python standard library; drops by trying every subset. Then percent and
letter once more, from the lines of the working alone: what a student is shown has to lead where it says.
Numbers are taken from the very JSON text that the program reads. GRADING_CASES and GRADING_SEED change the run.
"""

import decimal
import itertools
import json
import math
import os
import random
import re
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from fractions import Fraction

CASES = int(os.environ.get("GRADING_CASES", "1500"))
SEED = int(os.environ.get("GRADING_SEED", "20260914"))
PROGRAM = os.environ.get("TYMPAN_BIN", "target/debug/tympan")
MODES = {"half_up": decimal.ROUND_HALF_UP, "half_even": decimal.ROUND_HALF_EVEN, "truncate": decimal.ROUND_DOWN}


def fraction(number):
    return Fraction(repr(number) if isinstance(number, float) else number)


def rounded(value, places, ties):
    """Through decimal: exact digits well past the place, a sticky last digit for what was cut off."""
    scaled = value * 10 ** (places + 20)
    whole = math.floor(scaled)
    digits = decimal.Decimal(whole * 10 + (1 if scaled != whole else 0)).scaleb(-(places + 21))
    with decimal.localcontext() as context:
        context.prec = 400
        return str(digits.quantize(decimal.Decimal(1).scaleb(-places), rounding=MODES[ties]))


# ---- a class at random ----

def number(chance, top):
    kind = chance.random()
    if kind < 0.5:
        return chance.randint(0, top)
    if kind < 0.8:
        return round(chance.uniform(0, top), 2)
    if kind < 0.9:
        return round(chance.uniform(0, top) * 2) / 2
    return chance.uniform(0, top)


def an_item(chance, place):
    points = chance.choice([10, 20, 100, 7.5, 33.3, chance.randint(1, 200), round(chance.uniform(0.5, 90), 2)])
    extra = chance.random() < 0.1
    item = {"title": f"item {place}", "points": points}
    status = chance.choices(["graded", "excused", "missing", "pending"], [12, 1, 2, 2])[0]
    if status != "graded" or chance.random() < 0.8:
        item["status"] = status
    if status == "graded":
        item["score"] = number(chance, 200) if extra else min(number(chance, math.ceil(points)), points)
    elif chance.random() < 0.2:
        item["score"] = chance.choice([None, 0])
    if extra:
        item["extra_credit"] = True
    late = chance.random()
    if late < 0.2:
        item["days_late"] = chance.randint(0, 9)
    elif late < 0.35:
        item["hours_late"] = chance.choice([0, 0.5, 24.5, 48, 23.99, round(chance.uniform(0, 200), 2)])
    return item


def weights(chance, count):
    """Basis points that make 100 percent, written as decimals."""
    cuts = sorted(chance.randint(0, 10000) for _ in range(count - 1))
    parts = [high - low for low, high in zip([0, *cuts], [*cuts, 10000])]
    return [part // 100 if part % 100 == 0 else part / 100 for part in parts]


def a_class(chance):
    count = chance.randint(1, 5)
    scheme = {
        "categories": [
            {"name": f"category {place}", "weight": weight, "drop_lowest": chance.choice([0, 0, 1, 1, 2, 3, 8]),
             "items": [an_item(chance, n) for n in range(chance.randint(0, 8))]}
            for place, weight in enumerate(weights(chance, count))],
        "missing_counts_zero": chance.random() < 0.7,
        "rounding": {"places": chance.choice([0, 0, 0, 1, 2, 4]), "ties": chance.choice(list(MODES))},
        "scale": [["A", 93], ["A-", 90], ["B+", 87], ["B", 83.5], ["C", 70], ["D", 60], ["F", 0]],
    }
    if chance.random() < 0.8:
        scheme["late"] = {
            "percent_per_day": chance.choice([5, 10, 12.5, 33.3, 100]), "of": chance.choice(["possible", "earned"]),
            "max_days": chance.choice([None, 0, 3, 5]), "grace_hours": chance.choice([0, 0.5, 24])}
    return scheme


# ---- the rules, read plainly ----

def after_lateness(item, score, late):
    if not late:
        return score
    if "hours_late" in item:
        over = fraction(item["hours_late"]) - fraction(late["grace_hours"])
        days = max(0, math.ceil(over / 24))
    else:
        days = item.get("days_late", 0)
    if late["max_days"] is not None and days > late["max_days"]:
        return Fraction(0)
    base = fraction(item["points"]) if late["of"] == "possible" else score
    return max(Fraction(0), score - fraction(late["percent_per_day"]) * days * base / 100)


def brings(item, scheme, pending):
    status = item.get("status", "graded")
    if status == "graded":
        return after_lateness(item, fraction(item["score"]), scheme.get("late"))
    if status == "missing" and scheme["missing_counts_zero"]:
        return Fraction(0)
    if status == "pending" and pending == "zero":
        return Fraction(0)
    if status == "pending" and pending == "full":
        return after_lateness(item, fraction(item["points"]), scheme.get("late"))
    return None


def category_result(category, scheme, pending):
    counted = [(brings(item, scheme, pending), item) for item in category["items"]]
    counted = [(earned, item) for earned, item in counted if earned is not None]
    extra = sum(earned for earned, item in counted if item.get("extra_credit"))
    plain = [(earned, fraction(item["points"])) for earned, item in counted if not item.get("extra_credit")]
    if not plain:
        return None
    fewest = max(1, len(plain) - category["drop_lowest"])
    return max(
        (extra + sum(earned for earned, _ in kept)) / sum(points for _, points in kept)
        for size in range(fewest, len(plain) + 1)
        for kept in itertools.combinations(plain, size))


def total(scheme, pending):
    results = [(fraction(c["weight"]), category_result(c, scheme, pending)) for c in scheme["categories"]]
    results = [(weight, result) for weight, result in results if result is not None]
    weight = sum(weight for weight, _ in results)
    return 100 * sum(w * r for w, r in results) / weight if weight else None


def expected(scheme):
    now = total(scheme, "left")
    places, ties = scheme["rounding"]["places"], scheme["rounding"]["ties"]
    texts = {key: None if value is None else rounded(value, 4, "half_up") for key, value in (
        ("percent", now), ("possible_low", total(scheme, "zero")), ("possible_high", total(scheme, "full")))}
    texts["rounded"] = None if now is None else rounded(now, places, ties)
    texts["letter"] = None if now is None else next(
        letter for letter, begins in scheme["scale"] if Fraction(texts["rounded"]) >= fraction(begins))
    return texts


# ---- the working, read by somebody who has nothing else ----

SUM_LINE = re.compile(r"^(?P<name>category \d+): \((?P<scores>[^)]*)\) ÷ \((?P<points>[^)]*)\) = (?P<earned>\S+) ÷ (?P<asked>\S+) [=≈] \S+ %\.$")
ONE_LINE = re.compile(r"^(?P<name>category \d+): (?P<earned>\S+) ÷ (?P<asked>\S+) [=≈] \S+ %\.$")
TOTAL_LINE = re.compile(r"^Total: \((?P<products>.*)\) ÷ \((?P<weights>[^)]*)\) [=≈] ")
ROUNDED_LINE = re.compile(r"^(\S+) % (?:rounded|cut off) to (?:a whole number|(\d+) decimals?)(?:, ties [^:]*)?: (\S+) %\.$")
LETTER_LINE = re.compile(r"^(\S+) is at least (\S+): (.+)\.$")
# A number of the working has four decimals at least; what was cut off further back grows where little was asked for.
NEAR = Fraction(1, 50)


def summed(text):
    return sum(Fraction(part) for part in text.split(" + "))


def follows(working, answer):
    """Percent and letter from the lines alone; what does not follow, or None."""
    results, total, rounding, letter = [], None, None, None
    for line in working:
        if found := SUM_LINE.match(line):
            earned, asked = Fraction(found["earned"]), Fraction(found["asked"])
            if abs(summed(found["scores"]) - earned) > NEAR or abs(summed(found["points"]) - asked) > NEAR:
                return f"sums: {line}"
            results.append(100 * earned / asked)
        elif found := ONE_LINE.match(line):
            results.append(100 * Fraction(found["earned"]) / Fraction(found["asked"]))
        elif found := TOTAL_LINE.match(line):
            total = found
        elif found := ROUNDED_LINE.match(line):
            rounding = found.groups()
        elif found := LETTER_LINE.match(line):
            letter = found.groups()
    if answer["percent"] is None:
        return None if (total, rounding, letter) == (None, None, None) else "a total of nothing"
    weights = [Fraction(part) for part in total["weights"].split(" + ")]
    if len(weights) != len(results) or [part.split(" × ")[0] for part in total["products"].split(" + ")] != total["weights"].split(" + "):
        return "categories and weights"
    if not sum(weights):
        return None
    percent = sum(weight * result for weight, result in zip(weights, results)) / sum(weights)
    shown, places, rounded_to = rounding
    if abs(percent - Fraction(answer["percent"])) > NEAR or abs(percent - Fraction(shown)) > NEAR:
        return f"percent {float(percent)}"
    if len(rounded_to.partition(".")[2]) != int(places or 0) or rounded_to != answer["rounded"]:
        return f"rounded {rounded_to}"
    if letter is None or letter[0] != rounded_to or Fraction(letter[0]) < Fraction(letter[1]) or letter[2] != answer["letter"]:
        return f"letter {letter}"
    return None


# ---- against the program ----

def ask(scheme):
    done = subprocess.run([PROGRAM, "reckon", "grade"], input=json.dumps(scheme), capture_output=True, text=True)
    return done.returncode, done.stdout, done.stderr


def differs(case):
    scheme = a_class(random.Random(SEED + case))
    code, said, complaint = ask(scheme)
    if code != 0:
        return f"case {case}: exit {code}: {complaint}\n{json.dumps(scheme)}"
    answer = json.loads(said)
    working = answer.pop("working")
    if not working or any(" " not in line for line in working):
        return f"case {case}: working without words: {working}"
    if said := follows(working, answer):
        return f"case {case}: the working does not lead there: {said}\n" + "\n".join(working)
    wanted = expected(scheme)
    return None if answer == wanted else f"case {case}: {answer}, not {wanted}\n{json.dumps(scheme)}"


def spoiled(chance):
    """A sound class with one fault, and what the complaint must name."""
    scheme = a_class(chance)
    category = chance.choice(scheme["categories"])
    item = {"title": "the item", "points": 10, "score": 5}
    category["items"].append(item)
    fault = chance.randrange(8)
    if fault == 0:
        category["weight"] = round(category["weight"] + 0.01, 2)
        return scheme, "100"
    if fault == 1:
        item["score"] = 10.01
        return scheme, "10.01"
    if fault == 2:
        item["score"] = -0.5
        return scheme, "-0.5"
    if fault == 3:
        del item["score"]
        return scheme, "the item"
    if fault == 4:
        scheme["scale"][0], scheme["scale"][1] = scheme["scale"][1], scheme["scale"][0]
        return scheme, "out of order"
    if fault == 5:
        scheme["scale"].pop()
        return scheme, "gap"
    if fault == 6:
        item["points"] = 0
        item["score"] = 0
        return scheme, "the item"
    item["marks"] = 3
    return scheme, "marks"


def tolerated(case):
    scheme, named = spoiled(random.Random(SEED - case))
    code, said, complaint = ask(scheme)
    lines = complaint.strip().splitlines()
    if (code, said, len(lines)) != (2, "", 1) or named not in lines[0]:
        return f"spoiled case {case}: exit {code}, {said!r}, {complaint!r}, should name {named}\n{json.dumps(scheme)}"
    return None


def main():
    with ThreadPoolExecutor(2) as pool:
        faults = [fault for fault in pool.map(differs, range(CASES)) if fault]
        faults += [fault for fault in pool.map(tolerated, range(CASES // 10)) if fault]
    for fault in faults[:5]:
        print(fault)
    print(f"{CASES} classes and {CASES // 10} spoiled ones from seed {SEED}: {len(faults)} differ")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())
