"""Butterworth and Bessel high-passes by scipy.signal. Writes highPasses.json beside this script.

asymptoteHz is where the pass band's line and the line of the fall meet: far below, |H| = (f/f0)^n.
"""
import json
import pathlib
import sys

import numpy as np
import scipy
from scipy import signal

f = np.round(5 * 2 ** (np.arange(140) / 24), 6)
w = 2 * np.pi * f
cases = []
for kind, make in (("butter", signal.butter), ("bessel", lambda *a, **k: signal.bessel(*a, norm="mag", **k))):
    for order in (1, 2, 3, 4):
        if kind == "bessel" and order == 1:
            continue
        f0 = {"butter": 27.0, "bessel": 33.0}[kind]
        b, a = make(order, 2 * np.pi * f0, btype="highpass", analog=True)
        level = 20 * np.log10(np.abs(signal.freqs(b, a, w)[1]))
        asymptote = (abs(a[-1] / a[0])) ** (1 / order) / (2 * np.pi)
        pole = np.roots(a)[0]
        q = float(abs(pole) / (-2 * pole.real)) if order == 2 else None
        cases.append({"kind": kind, "order": order, "f0Hz": f0, "asymptoteHz": float(asymptote), "q": q,
                      "frequencyHz": f.tolist(), "levelDb": np.round(level, 9).tolist()})
versions = {"python": sys.version.split()[0], "numpy": np.__version__, "scipy": scipy.__version__}
path = pathlib.Path(__file__).with_suffix(".json")
path.write_text(json.dumps({"script": "highPasses.py", "versions": versions, "cases": cases}) + "\n")
