"""Dense numeric reference for smoothing and band power means.

The power is a piecewise-linear function of linear frequency through the points; scipy.integrate.quad integrates it
between break points. Windows: f G**(-1/2n) .. f G**(1/2n), G = 10**0.3, shrunk in ratio at the ends.
Writes smoothing.json beside this script:  python3 test/reference/smoothing.py
"""
import json
import pathlib
import sys

import numpy
import scipy
from scipy.integrate import quad

rng = numpy.random.default_rng(20240117)
G = 10**0.3


def mean_power(f, p, low, high):
    inside = f[(f > low) & (f < high)]
    edges = numpy.concatenate(([low], inside, [high]))
    total = sum(quad(lambda x: numpy.interp(x, f, p), a, b, epsabs=0, epsrel=1e-13)[0] for a, b in zip(edges, edges[1:]))
    return total / (high - low)


def smoothed(f, level, n):
    p = 10 ** (level / 10)
    out = []
    for centre in f:
        ratio = min(G ** (1 / (2 * n)), centre / f[0], f[-1] / centre)
        if ratio <= 1:
            out.append(p[list(f).index(centre)])
        else:
            out.append(mean_power(f, p, centre / ratio, centre * ratio))
    return 10 * numpy.log10(out)


grids = {
    "linear": 4 + 1.7 * numpy.arange(90),
    "logarithmic": 5 * 2 ** (numpy.arange(100) / 18),
    "uneven": numpy.sort(numpy.concatenate((3 + 60 * rng.random(40), 60 + 300 * rng.random(30)))),
}
cases = []
for name, f in grids.items():
    f = numpy.round(f, 6)
    level = numpy.round(80 + 12 * rng.standard_normal(len(f)), 6)
    p = 10 ** (level / 10)
    bands = [[float(f[0]) * a, float(f[0]) * b] for a, b in ((1, 1.3), (1.5, 3.1), (2.001, 2.002), (4.4, 9.7), (9, 9.9))]
    cases.append(
        {
            "grid": name,
            "frequencyHz": f.tolist(),
            "levelDb": level.tolist(),
            "smoothed": {str(n): smoothed(f, level, n).tolist() for n in (1, 3, 6, 24)},
            "bands": [[low, high, float(10 * numpy.log10(mean_power(f, p, low, high)))] for low, high in bands],
        }
    )

versions = {"python": sys.version.split()[0], "numpy": numpy.__version__, "scipy": scipy.__version__}
path = pathlib.Path(__file__).with_suffix(".json")
path.write_text(json.dumps({"script": "smoothing.py", "versions": versions, "cases": cases}) + "\n")
