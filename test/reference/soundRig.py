"""Captures of a virtual rig in free field, by scipy's solver for analogue systems.

A Hann-windowed burst of two tones is known at every instant, so the delay of the air and the recorder's own clock
need no resampling here: it is sampled at the shifted times. Filters are solved as state equations with straight lines
between samples (scipy.signal.lsim), at four times the recorder's rate. Writes soundRig.json beside this file.
"""
import json
import pathlib

import numpy
import scipy
from scipy.signal import lsim

RATE, OVER, SECONDS = 48000, 4, 1.0
F0, Q, LOW_PASS = 30.0, 0.8, 200.0
SHELF_HZ, SHELF_DB, SHELF_Q = 24.0, 5.0, 0.7
DISTANCE, SPEED, LATENCY = 2.0, 343.0, 0.0104
SENSITIVITY, REFERENCE, DRIVE, FULL_SCALE = 80.0, -12.0, 9.0, 118.0
EXCURSION_20, COEFFICIENTS = 85.0, [0.05, -0.08, 0.02, 0.01]
BURST_S, START_S, TONES = 0.5, 0.1, [(22.0, 0.3), (61.0, 0.15)]


def stimulus(t):
    u = t - START_S
    window = numpy.where((u > 0) & (u < BURST_S), 0.5 - 0.5 * numpy.cos(2 * numpy.pi * u / BURST_S), 0.0)
    return window * sum(a * numpy.sin(2 * numpy.pi * f * u) for f, a in TONES)


def run(system, x, step):
    return lsim(system, x, numpy.arange(len(x)) * step)[1]


def corner(hz):
    return 2 * numpy.pi * hz


def capture(nonlinear, ppm):
    step = 1 / (RATE * (1 + ppm * 1e-6) * OVER)
    t = numpy.arange(round(RATE * OVER * SECONDS)) * step - LATENCY - DISTANCE / SPEED
    x = stimulus(t) * 10 ** ((SENSITIVITY + DRIVE - REFERENCE) / 20)
    # second-order low shelf (W3C Audio EQ Cookbook, analogue prototype)
    a, w = 10 ** (SHELF_DB / 40), corner(SHELF_HZ)
    x = run(([a, a * numpy.sqrt(a) / SHELF_Q * w, a * a * w * w], [a, numpy.sqrt(a) / SHELF_Q * w, w * w]), x, step)
    w = corner(F0)
    e = run(([w * w], [1, w / Q, w * w]), x, step)
    if nonlinear:
        limit = 10 ** ((EXCURSION_20 - 40 * numpy.log10(20 / F0)) / 20)
        u = e / limit
        e = limit * (u + sum(c * u ** (n + 2) for n, c in enumerate(COEFFICIENTS)))
    l = corner(LOW_PASS)
    p = run(([l * l / (w * w), 0, 0], [1, numpy.sqrt(2) * l, l * l]), e, step)
    p = p / DISTANCE * 10 ** (-FULL_SCALE / 20)
    return p[::OVER]


PICKED = slice(4000, 48000, 197)
out = {
    "scipy": scipy.__version__,
    "numpy": numpy.__version__,
    "from": PICKED.start,
    "every": PICKED.step,
    "linear": capture(False, 0)[PICKED].tolist(),
    "distorted": capture(True, 0)[PICKED].tolist(),
    "fastClock": capture(False, 400)[PICKED].tolist(),
}
pathlib.Path(__file__).with_suffix(".json").write_text(json.dumps(out, indent=1) + "\n")
