"""Agreement statistics of random ratings against three reference libraries.

Reference: scikit-learn cohen_kappa_score, krippendorff alpha, pingouin cronbach_alpha.
AGREEMENT_CASES and AGREEMENT_SEED change the run.
"""

import json
import math
import os
import subprocess
import sys
import warnings
from concurrent.futures import ThreadPoolExecutor

import krippendorff
import numpy
import pandas
import pingouin
from sklearn.metrics import cohen_kappa_score

SEED = int(os.environ.get("AGREEMENT_SEED", "1968"))
CASES = int(os.environ.get("AGREEMENT_CASES", "300"))
PROGRAM = os.environ.get("TYMPAN_BIN", "target/debug/tympan")
# The libraries reckon in floats; the program answers with twelve exact decimals.
NEAR = 1e-9


def ask(**given):
    done = subprocess.run([PROGRAM, "reckon", "agreement"], input=json.dumps({**given, "places": 12}),
                          capture_output=True, text=True)
    if done.returncode:
        return done.stderr
    value = json.loads(done.stdout)["value"]
    return None if value is None else float(value)


def kappa(chance):
    categories, many = chance.integers(2, 7), chance.integers(2, 60)
    first = chance.integers(0, categories, many)
    second = numpy.where(chance.random(many) < 0.5, first, chance.integers(0, categories, many))
    weights = [None, "linear", "quadratic"][chance.integers(3)]
    wanted = cohen_kappa_score(first, second, weights=weights, labels=list(range(categories)))
    given = {"statistic": "kappa", "weights": weights or "unweighted", "categories": list(range(categories)),
             "first": first.tolist(), "second": second.tolist()}
    return given, None if math.isnan(wanted) else wanted


def alpha(chance):
    raters, units, top = chance.integers(2, 6), chance.integers(2, 25), chance.integers(2, 7)
    truth = chance.integers(0, top, units)
    ratings = numpy.where(chance.random((raters, units)) < 0.6, truth, chance.integers(0, top, (raters, units)))
    ratings = ratings.astype(float)
    if chance.random() < 0.3:
        ratings = ratings / 4
    ratings[chance.random((raters, units)) < chance.choice([0.0, 0.2, 0.5])] = numpy.nan
    level = ["nominal", "ordinal", "interval", "ratio"][chance.integers(4)]
    given = {"statistic": "krippendorff", "level": level,
             "ratings": [[None if math.isnan(v) else v for v in row] for row in ratings.tolist()]}
    compared = ratings[:, (~numpy.isnan(ratings)).sum(axis=0) > 1]
    if len(set(compared[~numpy.isnan(compared)])) < 2:
        return given, None  # nothing varies; the library refuses or divides by zero
    return given, krippendorff.alpha(reliability_data=ratings, level_of_measurement=level)


def consistency(chance):
    persons, items = chance.integers(2, 30), chance.integers(2, 9)
    skill = chance.normal(60, 15, (persons, 1))
    scores = numpy.round(skill + chance.normal(0, chance.choice([2, 10, 40]), (persons, items)), chance.integers(0, 3))
    given = {"statistic": "cronbach", "scores": scores.tolist()}
    return given, pingouin.cronbach_alpha(data=pandas.DataFrame(scores))[0]


def agrees(value, wanted):
    if value is None or wanted is None or isinstance(value, str):
        return value is wanted
    return abs(value - wanted) <= NEAR * max(1, abs(wanted))


def differs(asked):
    given, wanted = asked
    value = ask(**given)
    return None if agrees(value, wanted) else f"{value}, not {wanted}: {json.dumps(given)}"


def main():
    warnings.simplefilter("ignore")
    faults = []
    for drawn in (kappa, alpha, consistency):
        asked = [drawn(numpy.random.default_rng([SEED, case])) for case in range(CASES)]
        with ThreadPoolExecutor(2) as pool:
            wrong = [fault for fault in pool.map(differs, asked) if fault]
        undefined = sum(wanted is None for _, wanted in asked)
        print(f"{drawn.__name__}: {CASES} cases, {undefined} without value, {len(wrong)} differ")
        faults += wrong
    for fault in faults[:5]:
        print(fault)
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())
