"""Averages of five curves by power, by decibel and as complex pressures. Writes powerMeans.json beside this script."""
import json
import pathlib
import sys

import numpy as np

rng = np.random.default_rng(11)
f = np.round(5 * 2 ** (np.arange(40) / 8), 6)
level = np.round(85 + 8 * rng.standard_normal((5, 40)), 6)
phase = np.round(np.mod(-360 * 0.004 * f + 40 * rng.standard_normal((5, 40)) + 180, 360) - 180, 6)
pressure = (10 ** (level / 20) * np.exp(1j * np.radians(phase))).mean(axis=0)
out = {
    "script": "powerMeans.py",
    "versions": {"python": sys.version.split()[0], "numpy": np.__version__},
    "frequencyHz": f.tolist(),
    "levelDb": level.tolist(),
    "phaseDeg": phase.tolist(),
    "power": (10 * np.log10((10 ** (level / 10)).mean(axis=0))).tolist(),
    "decibel": level.mean(axis=0).tolist(),
    "vector": (20 * np.log10(np.abs(pressure))).tolist(),
    "vectorPhaseDeg": np.degrees(np.angle(pressure)).tolist(),
}
pathlib.Path(__file__).with_suffix(".json").write_text(json.dumps(out) + "\n")
