"""Spectral division at the full rate, for test/analysis/deconvolution. Run: python3 deconvolution.py > deconvolution.json

A synchronised sweep by its published formula (Novak et al., JAES 63 (2015) 786), without fades, goes through two
filters and a delay; the division of the spectra is read at some frequencies. The samples themselves are not kept: the
test makes the same ones and compares the checksum.
"""
import json

import numpy as np
import scipy
from scipy import signal
from scipy.fft import rfft

fs = 48000
f1, f2, wanted = 4.0, 600.0, 6.0
L = round(f1 * wanted / np.log(f2 / f1)) / f1
n = int(np.floor(L * np.log(f2 / f1) * fs)) + 1
t = np.arange(n) / fs
sweep = 0.25 * np.sin(2 * np.pi * f1 * L * np.expm1(t / L))
fade = int(0.1 * fs)
sweep[-fade:] *= 0.5 + 0.5 * np.cos(np.pi * np.arange(1, fade + 1) / fade)
stimulus = np.concatenate([np.zeros(fs // 2), sweep, np.zeros(3 * fs)])
b, a = signal.butter(2, 20, "high", fs=fs)
c, d = signal.iirpeak(47, 12, fs=fs)
capture = signal.lfilter(b, a, stimulus)
capture = capture + signal.lfilter(c, d, capture)
late = 613
capture = np.concatenate([np.zeros(late), capture[:-late]])
length = 2**20
quotient = rfft(capture, length)[: length // 2] / rfft(stimulus, length)[: length // 2]
bins = np.unique(np.round(np.geomspace(5, 500, 80) * length / fs).astype(int))
print(
    json.dumps(
        {
            "versions": {"scipy": scipy.__version__, "numpy": np.__version__},
            "sweep": {"f1": f1, "f2": f2, "L": L, "samples": n, "fade": fade, "lead": fs // 2, "tail": 3 * fs},
            "highPass": {"b": b.tolist(), "a": a.tolist()},
            "peak": {"b": c.tolist(), "a": d.tolist()},
            "late": late,
            "energy": float(np.sum(capture**2)),
            "hz": (bins * fs / length).tolist(),
            "db": (20 * np.log10(np.abs(quotient[bins]))).tolist(),
            "deg": np.degrees(np.angle(quotient[bins])).tolist(),
        }
    )
)
