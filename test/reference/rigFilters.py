# Analogue filters of the virtual bench by scipy.signal.freqs, from their polynomials in s.
# Run: /usr/bin/python3 test/reference/rigFilters.py > test/reference/rigFilters.json
import json
import numpy as np
import scipy
from scipy import signal

HZ = [2.0, 5.0, 10.0, 17.3, 20.0, 31.5, 47.0, 80.0, 125.0, 200.0, 400.0]
w = 2 * np.pi * np.array(HZ)


def high_pass(f0, q):
    w0 = 2 * np.pi * f0
    return [1, 0, 0], [1, w0 / q, w0 * w0]


def shelf1(hz, gain):
    # one pole, one zero, mirrored about hz on a log axis; gain at 0 Hz
    a, w0 = 10 ** (gain / 40), 2 * np.pi * hz
    return [1, a * w0], [1, w0 / a]


def shelf2(hz, gain, q=np.sqrt(0.5)):
    # two poles and two zeros of quality q each, at hz a^-+1/2, a = 10^(gain/40)
    a, w0 = 10 ** (gain / 40), 2 * np.pi * hz
    zero, pole = w0 * np.sqrt(a), w0 / np.sqrt(a)
    return [1, zero / q, zero**2], [1, pole / q, pole**2]


def level_and_phase(parts):
    h = np.ones(len(w), complex)
    for b, a in parts:
        h *= signal.freqs(b, a, w)[1]
    return {
        "db": (20 * np.log10(abs(h))).round(9).tolist(),
        "deg": np.angle(h, deg=True).round(9).tolist(),
    }


def butter_low(hz, order):
    return signal.butter(order, 2 * np.pi * hz, "low", analog=True)


print(
    json.dumps(
        {
            "scipy": scipy.__version__,
            "hz": HZ,
            "sealed": level_and_phase([high_pass(27, 0.66), butter_low(170, 4)]),
            "vented": level_and_phase([high_pass(20, 0.6), high_pass(22, 1.2), butter_low(120, 2)]),
            "shelf1": level_and_phase([shelf1(24, -5)]),
            "shelf2": level_and_phase([shelf2(24, 6)]),
            "chain": level_and_phase([shelf1(30, 4), shelf2(20, -3, 0.6)]),
            "butterworth4": level_and_phase([signal.butter(4, 2 * np.pi * 25, "high", analog=True)]),
        }
    )
)
