"""Input that makes no sense, given to each reckoning: exit code 2, nothing on standard output, one sentence on standard
error that names the field or the value. What is refused is common sense of the trade, no published source.
"""

import copy
import json
import os
import subprocess
import unittest

ETCH = {
    "gum": {"volume": 1, "unit": "us_fl_oz", "ph": 4.3, "baume": 14},
    "acid": {"kind": "phosphoric", "weight_percent": 85, "drops": 4, "drops_per_ml": 20, "drops_per_ml_spread": 2},
}
PLAN = {
    "start": "2026-11-02T09:00:00-05:00", "due": "2026-11-06T16:00:00-05:00", "zone": "America/New_York",
    "open": [{"day": "mon", "from": "09:00", "to": "17:00"}], "closed": [],
    "steps": [
        {"key": "A", "minutes": 45, "after": [], "min_wait_minutes": 0, "max_wait_minutes": None, "may_split": False},
        {"key": "B", "minutes": 60, "after": ["A"], "min_wait_minutes": 0, "max_wait_minutes": None, "may_split": False},
    ],
}
PRESS = {
    "zone": "America/New_York", "from": "2026-11-02T00:00", "to": "2026-11-09T00:00",
    "open": [{"day": "mon", "from": "09:00", "to": "17:00"}], "extra": [], "closed": [],
    "stations": [{"name": "press", "count": 1, "down": []}], "prints": 2,
    "steps": [{"key": "proof", "minutes": 90, "station": "press", "after": []}],
}
DROPPER = {"drops": 20, "grams": 1.126, "weight_percent": 85}
LATE = {
    "due_local": "2026-11-24T16:30", "zone": "America/New_York", "grace_minutes": 0,
    "received": "2026-11-25T16:31:00-05:00", "uncounted": [], "personal_due_local": None,
}

GPA = {"courses": [{"title": "Plates", "credits": 3, "letter": "B+"}], "rounding": {"places": 2, "ties": "truncate"}}

# The reckoning, a sound input, where it is spoilt, by what, and what the sentence must name.
REFUSED = [
    ("etch", ETCH, ["gum", "volume"], -1, "-1"),
    ("etch", ETCH, ["gum", "volume"], 1e9, "gum.volume"),
    ("etch", ETCH, ["gum", "unit"], "imp_fl_oz", "imperial"),
    ("etch", ETCH, ["acid", "weight_percent"], 101, "101"),
    ("etch", ETCH, ["acid", "drops_per_ml"], 0, "drops_per_ml"),
    ("etch", ETCH, ["acid", "drops"], -4, "-4"),
    ("dropper", DROPPER, ["drops"], 0, "drops"),
    ("dropper", DROPPER, ["grams"], -1, "-1 g"),
    ("dropper", DROPPER, ["weight_percent"], 101, "101"),
    ("plan", PLAN, ["due"], "2026-11-01T16:00:00-05:00", "2026-11-01"),
    ("plan", PLAN, ["zone"], "America/Atlantis", "America/Atlantis"),
    ("plan", PLAN, ["open", 0, "to"], "08:59", "08:59"),
    ("plan", PLAN, ["steps", 0, "after"], ["B"], "A, B, A"),
    ("plan", PLAN, ["steps", 1, "minutes"], -5, "-5"),
    ("plan", PLAN, ["closed"], ["2026-11-02"], "closed"),
    ("press", PRESS, ["stations", 0, "count"], 0, "press"),
    ("press", PRESS, ["open", 0, "to"], "08:59", "ends before it begins"),
    ("press", PRESS, ["to"], "2026-11-01T00:00", "to"),
    ("press", PRESS, ["prints"], -1, "prints"),
    ("press", PRESS, ["prints"], 0, "0 prints"),
    ("press", PRESS, ["zone"], "America/Atlantis", "America/Atlantis"),
    ("press", PRESS, ["closed"], ["2026-11-02"], "closed date"),
    ("press", PRESS, ["closed"], [f"2026-11-{day:02}" for day in range(1, 10)], "closed date"),
    ("press", PRESS, ["open"], [], "no opening"),
    ("press", PRESS, ["steps", 0, "after"], ["proof"], "proof, proof"),
    ("gpa", GPA, ["courses", 0, "letter"], "P", "Plates"),
    ("gpa", GPA, ["courses", 0, "credits"], -3, "-3"),
    ("gpa", GPA, ["courses", 0, "credits"], "three", "three"),
    ("gpa", GPA, ["rounding", "places"], 900, "900"),
    ("gpa", GPA, ["points"], [["A", 4], ["A", 3]], "twice"),
    ("late", LATE, ["zone"], "Mars/Olympus", "Mars/Olympus"),
    ("late", LATE, ["grace_minutes"], -1, "-1"),
]


def reckon(name, text):
    done = subprocess.run([os.environ["TYMPAN_BIN"], "reckon", name], input=text, capture_output=True, text=True, timeout=60)
    return done.returncode, done.stdout, done.stderr


class Refusals(unittest.TestCase):
    def test_the_sound_inputs_are_answered(self):
        for name, sound in {name: sound for name, sound, *_ in REFUSED}.items():
            with self.subTest(reckoning=name):
                code, out, said = reckon(name, json.dumps(sound))
                self.assertEqual((code, said), (0, ""))
                self.assertIsInstance(json.loads(out), dict)

    def test_nonsense_is_refused_in_one_sentence(self):
        for name, sound, place, value, named in REFUSED:
            with self.subTest(reckoning=name, place=place, value=value):
                spoilt = copy.deepcopy(sound)
                inner = spoilt
                for part in place[:-1]:
                    inner = inner[part]
                inner[place[-1]] = value
                code, out, said = reckon(name, json.dumps(spoilt))
                self.assertEqual((code, out), (2, ""), said)
                self.assertEqual(said.count("\n"), 1, said)
                self.assertIn(named, said)
                self.assertTrue(said.rstrip().endswith((".", "?")), said)

    def test_what_is_no_json_and_what_is_no_reckoning(self):
        for name, text in (("etch", "gum, one ounce"), ("etch", ""), ("plan", "[]"), ("varnish", "{}")):
            with self.subTest(reckoning=name, text=text):
                code, out, said = reckon(name, text)
                self.assertEqual((code, out, said.count("\n")), (2, "", 1), said)


if __name__ == "__main__":
    unittest.main()
