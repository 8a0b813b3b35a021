# Second-order filters, Hilbert transform and minimum phase by scipy.
# Run: /usr/bin/python3 test/reference/filters.py > test/reference/filters.json
# The filters come from their analogue models (s normalised to the corner) through scipy's bilinear transform, warped to
# the corner, not from the formulas of the note.
import json
import numpy as np
import scipy
from scipy import signal


def wave(length):
    # the same as in signals.py
    n = np.arange(length)
    return np.sin(0.01 * n * n) + 0.3 * np.cos(0.7 * n) + 0.1


def listed(x):
    return [float(f"{v:.14g}") for v in np.asarray(x)]


def model(kind, q, gain):
    a = 10 ** (gain / 40)
    r = np.sqrt(a)
    return {
        "low-pass": ([1], [1, 1 / q, 1]),
        "high-pass": ([1, 0, 0], [1, 1 / q, 1]),
        "band-pass": ([1 / q, 0], [1, 1 / q, 1]),
        "notch": ([1, 0, 1], [1, 1 / q, 1]),
        "all-pass": ([1, -1 / q, 1], [1, 1 / q, 1]),
        "peaking": ([1, a / q, 1], [1, 1 / (a * q), 1]),
        "low-shelf": ([a, a * r / q, a * a], [a, r / q, 1]),
        "high-shelf": ([a * a, a * r / q, a], [1, r / q, a]),
    }[kind]


def one(kind, hz, q, gain, fs):
    # scipy's bilinear maps s = 2 fs (z-1)/(z+1); with 2 fs = 1 / tan(w/2) the corner of the model falls on hz
    b, a = signal.bilinear(*model(kind, q, gain), fs=0.5 / np.tan(np.pi * hz / fs))
    at = [5.0, 20.0, hz, 200.0, 0.3 * fs]
    h = signal.freqz(b, a, at, fs=fs)[1]
    return {
        "spec": {"kind": kind, "hz": hz, "q": q, "gainDb": gain},
        "fs": fs,
        "b": listed(b),
        "a": listed(a),
        "at": at,
        "abs": listed(abs(h)),
        "deg": listed(np.angle(h, deg=True)),
        "out": listed(signal.lfilter(b, a, wave(400))[::20]),
    }


def delay(kind, hz, q, gain, fs):
    b, a = signal.bilinear(*model(kind, q, gain), fs=0.5 / np.tan(np.pi * hz / fs))
    at = [100, 655, 1000, 3000, 7000]
    samples = signal.group_delay((b, a), np.array(at) * fs / 16384, fs=fs)[1]
    return {"spec": {"kind": kind, "hz": hz, "q": q, "gainDb": gain}, "fs": fs, "at": at, "samples": listed(samples)}


KINDS = ["low-pass", "high-pass", "band-pass", "notch", "all-pass", "peaking", "low-shelf", "high-shelf"]

print(
    json.dumps(
        {
            "scipy": scipy.__version__,
            "butterworth": listed(np.concatenate(signal.butter(2, 25, "high", fs=48000))),
            "filters": [one(k, 40.0, 2.5, -7.0, 48000) for k in KINDS] + [one(k, 900.0, 0.6, 5.0, 8000) for k in KINDS],
            "groupDelays": [delay(k, 40.0, 2.5, -7.0, 1000) for k in ("low-pass", "high-pass", "all-pass", "peaking")],
            "hilbert": listed(np.imag(signal.hilbert(wave(256)))[::5]),
        }
    )
)
