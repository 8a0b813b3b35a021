"""numpy's side of bench/smoothing.mjs: prints medians, ns a point, as JSON. Arguments: grid file in float64, repeats."""
import json
import sys
import time

import numpy as np

f, level = np.fromfile(sys.argv[1]).reshape(2, -1)
repeats = int(sys.argv[2])
n = len(f)


def median(work):
    times = []
    for _ in range(repeats):
        start = time.perf_counter_ns()
        work()
        times.append(time.perf_counter_ns() - start)
    return float(np.median(times)) / n


def running(p):
    total = np.empty(n)
    total[0] = 0
    np.cumsum(0.5 * (p[1:] + p[:-1]) * np.diff(f), out=total[1:])
    return total


def exact(p, fraction):
    """The same meaning as ours: exact integral of the piecewise-linear power, windows shrunk at the ends."""
    total = running(p)
    half = 10 ** (0.15 / fraction)
    ratio = np.minimum(np.minimum(half, f / f[0]), f[-1] / f)

    def up_to(x):
        i = np.clip(np.searchsorted(f, x, "right") - 1, 0, n - 2)
        d = x - f[i]
        return total[i] + d * (p[i] + 0.5 * d * (p[i + 1] - p[i]) / (f[i + 1] - f[i]))

    low, high = f / ratio, f * ratio
    out = p.copy()
    out[1:-1] = (up_to(high[1:-1]) - up_to(low[1:-1])) / (high[1:-1] - low[1:-1])
    return out


def rough(p, fraction):
    """Straight lines between the values of the cumulative sum: cheaper, not exact."""
    total = running(p)
    half = 10 ** (0.15 / fraction)
    return (np.interp(f * half, f, total) - np.interp(f / half, f, total)) / (f * (half - 1 / half))


def shifted(p):
    """The least a cumulative sum can do: one window of a fixed number of points, no frequencies looked at."""
    total = np.cumsum(p)
    return (total[200:] - total[:-200]) / 200


power = 10 ** (level / 10)
result = {"numpy": np.__version__}
for fraction in (1, 3, 12):
    result[f"exact {fraction}"] = median(lambda: exact(power, fraction))
    result[f"rough {fraction}"] = median(lambda: rough(power, fraction))
    result[f"decibel {fraction}"] = median(lambda: 10 * np.log10(exact(10 ** (level / 10), fraction)))
result["shifted"] = median(lambda: shifted(power))
print(json.dumps(result))
