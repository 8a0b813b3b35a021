"""Tone bursts of 6.5 cycles under a Hann window and what a polynomial makes of them, by numpy and scipy.

Levels are magnitudes of the discrete-time Fourier transform at exactly n f, re that at f.
Writes bursts.json beside this script:  python3 test/reference/bursts.py
"""
import json
import pathlib
import sys

import numpy
import scipy
from scipy.signal import hilbert
from scipy.signal.windows import hann

RATE = 8000
COEFFICIENTS = [1, 0.4, -0.3, 0.2, 0.1]  # of x, x^2, x^3, x^4, x^5
ORDERS = list(range(1, 10))


def burst(hz):
    count = round(6.5 / hz * RATE)
    n = numpy.arange(count)
    return hann(count, sym=False) * numpy.sin(2 * numpy.pi * hz * n / RATE)


def level(samples, hz):
    n = numpy.arange(len(samples))
    return 20 * numpy.log10(abs(numpy.dot(samples, numpy.exp(-2j * numpy.pi * hz * n / RATE))))


def envelope_peak(samples, low, high):
    length = 2**15
    bins = numpy.fft.rfft(samples, length)
    hertz = numpy.arange(len(bins)) * RATE / length
    bins[(hertz < low) | (hertz > high)] = 0
    return float(abs(hilbert(numpy.fft.irfft(bins, length))).max())


cases = []
for hz in (25, 40, 50):
    x = burst(hz)
    for amplitude in (0.25, 0.9):
        y = sum(c * (amplitude * x) ** (i + 1) for i, c in enumerate(COEFFICIENTS))
        fundamental = level(y, hz)
        cases.append(
            {
                "hz": hz,
                "amplitude": amplitude,
                "harmonicsDb": [level(y, n * hz) - fundamental for n in ORDERS[1:]],
                # the band of the fundamental, cut at its edges, over that of the burst itself
                "peak": envelope_peak(y, hz / 2, 1.5 * hz) / envelope_peak(x, hz / 2, 1.5 * hz),
            }
        )

x = burst(40)
powers = {str(n): level(hann(len(x), sym=False) ** n, 0) - level(hann(len(x), sym=False), 0) for n in (2, 3, 4, 5)}
result = {
    "script": "bursts.py",
    "versions": {"python": sys.version.split()[0], "numpy": numpy.__version__, "scipy": scipy.__version__},
    "rate": RATE,
    "coefficients": COEFFICIENTS,
    "windowPowersDb": powers,
    "ownSpectrumDb": [level(x, 40 * n) - level(x, 40) for n in ORDERS[1:]],
    "cases": cases,
}
pathlib.Path(__file__).with_suffix(".json").write_text(json.dumps(result, indent=1) + "\n")
