#!/usr/bin/python3
"""Topographic prominences by scipy, for the search of dips and peaks. Writes prominence.json beside itself."""
import json
import os
import sys

import numpy as np
import scipy
from scipy.signal import argrelmin, peak_prominences

rng = np.random.default_rng(20)
cases = []
for k in range(4):
    x = np.arange(160)
    level = sum(rng.normal() * 6 / n * np.sin(2 * np.pi * n * x / 160 + rng.uniform(0, 6.28)) for n in range(1, 24))
    level = np.round(level, 3)
    lows = argrelmin(level)[0]
    prominence = peak_prominences(-level, lows)[0]
    cases.append(dict(levelDb=level.tolist(), lows=lows.tolist(), prominenceDb=np.round(prominence, 6).tolist()))

out = dict(
    about="made by prominence.py",
    versions=dict(python=sys.version.split()[0], numpy=np.__version__, scipy=scipy.__version__),
    cases=cases,
)
with open(os.path.join(os.path.dirname(os.path.abspath(__file__)), "prominence.json"), "w") as file:
    json.dump(out, file)
