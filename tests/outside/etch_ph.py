"""pH of acid in water, as `reckon etch` gives it, against pHcalc on a grid of concentrations.

Reference: pHcalc 0.2.0 (charge balance of species, minimised by scipy), given the same pKa values. The estimate in
gum is compared too, with the model's middle put together here from the same library: an acid and a cation.
"""

import json
import math
import os
import subprocess
import sys

import numpy

if not hasattr(numpy, "cumproduct"):
    numpy.cumproduct = numpy.cumprod  # pHcalc 0.2.0 was written for a numpy that still had both names

from pHcalc.pHcalc import Acid, Inert, System

PROGRAM = os.environ.get("TYMPAN_BIN", "target/debug/tympan")
PKA = [2.148, 7.198, 12.35]
MOST = 0.01


def reckon(kind, percent, drops, gum_ml):
    etch = {
        "gum": {"volume": gum_ml, "unit": "ml", "ph": 4.3, "baume": 14},
        "acid": {"kind": kind, "weight_percent": percent, "drops": drops, "drops_per_ml": 20,
                 "drops_per_ml_spread": 2}}
    done = subprocess.run([PROGRAM, "reckon", "etch"], input=json.dumps(etch), capture_output=True, text=True, check=True)
    return json.loads(done.stdout)


def solved(*species):
    system = System(*species)
    system.pHsolve(guess_est=True, est_num=1500)
    return float(numpy.ravel(system.pH)[0])


def of_acid(kind, molarity):
    if kind == "nitric":
        return [Inert(charge=-1, conc=molarity)]
    return [Acid(pKa=PKA, charge=0, conc=molarity)]


def in_gum(kind, molarity, answer):
    """The middle of the model for gum of 14 degrees Baumé and pH 4.3."""
    density = 0.9990 * 145 / (145 - 14)
    fraction = (1 / 0.9990 - 1 / density) / (1 / 0.9990 - 0.62)
    carboxyl = fraction * density * 1000 / 1100
    h = 10 ** -4.3
    cations = carboxyl / (1 + h / 10 ** -3.3) + 1e-14 / h - h
    diluted = (answer["mixture_ml"] - answer["acid_ml"]) / answer["mixture_ml"]
    gum = Acid(pKa=3.3, charge=0, conc=carboxyl * diluted)
    return solved(gum, Inert(charge=1, conc=cations * diluted), *of_acid(kind, molarity))


def main():
    grid = [
        (kind, percent, drops, gum_ml)
        for kind, percents in (("phosphoric", [0.1, 1, 10, 37.5, 75, 85, 90]), ("nitric", [0.1, 5, 35, 68]))
        for percent in percents
        for drops in (1, 2, 4, 8, 15, 40, 200)
        for gum_ml in (15, 29.5735295625, 250)]
    worst_water, worst_gum, least, most = (0, None), (0, None), math.inf, 0
    for point in grid:
        answer = reckon(*point)
        molarity = answer["acid_mol_per_l"]
        least, most = min(least, molarity), max(most, molarity)
        off = abs(answer["ph_in_water"] - solved(*of_acid(point[0], molarity)))
        worst_water = max(worst_water, (off, point))
        off = abs(answer["ph_estimate"] - in_gum(point[0], molarity, answer))
        worst_gum = max(worst_gum, (off, point))
    print(f"{len(grid)} mixtures of {least:.2g} to {most:.2g} mol/L against pHcalc 0.2.0")
    print(f"in water: largest difference {worst_water[0]:.5f} pH at {worst_water[1]}")
    print(f"in gum:   largest difference {worst_gum[0]:.5f} pH at {worst_gum[1]}")
    return 0 if worst_water[0] < MOST and worst_gum[0] < MOST else 1


if __name__ == "__main__":
    sys.exit(main())
