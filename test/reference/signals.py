# Signals by numpy and scipy: spectra, windows, sweeps, low-pass taps, decimated sound.
# Run: /usr/bin/python3 test/reference/signals.py > test/reference/signals.json
import json
import numpy as np
import scipy
from scipy import fft, signal


def wave(length):
    # a signal both sides can make: no two samples alike, all frequencies in it
    n = np.arange(length)
    return np.sin(0.01 * n * n) + 0.3 * np.cos(0.7 * n) + 0.1


def interleaved(z):
    return np.stack([z.real, z.imag], -1).ravel()


def listed(x):
    return [float(f"{v:.14g}") for v in np.asarray(x)]


def spectrum(length, padded):
    z = fft.rfft(wave(length), padded)
    at = sorted({int(v) for v in np.linspace(0, padded // 2, 9)})
    return {"length": length, "padded": padded, "at": at, "bins": listed(interleaved(z[at]))}


def sweep(f1, f2, seconds, fs, dbfs):
    # Phase as the sum of the instantaneous frequency, by scipy's logarithmic chirp over the rounded duration:
    # f(t) = f1 (f2/f1)^(t/T), phase from 0; chirp gives a cosine, so -90 degrees make it a sine.
    rate = np.round(f1 * seconds / np.log(f2 / f1)) / f1
    true = rate * np.log(f2 / f1)
    t = np.arange(int(np.floor(true * fs)) + 1) / fs
    x = 10 ** (dbfs / 20) * signal.chirp(t, f1, true, f2, method="logarithmic", phi=-90)
    at = [int(v) for v in np.linspace(0, len(x) - 1, 41)]
    return {
        "spec": {"startHz": f1, "endHz": f2, "seconds": seconds, "sampleRateHz": fs, "levelDbfs": dbfs},
        "rateSeconds": float(rate),
        "samples": len(x),
        "at": at,
        "x": listed(x[at]),
    }


def decimated(fs, band):
    factor = int(fs // (6 * band))
    width = (fs / factor - 2 * band) / (fs / 2)
    count = 2 * int(np.ceil((102 - 7.95) / (2.285 * np.pi * width) / 2)) + 3
    taps = signal.firwin(count, fs / factor / 2, window=("kaiser", signal.kaiser_beta(102)), fs=fs)
    x = wave(6000)
    half = (count - 1) // 2
    out = signal.upfirdn(taps, x, 1, 1)[half::factor][: -(-len(x) // factor)]
    return {
        "fs": fs,
        "band": band,
        "factor": factor,
        "count": count,
        "taps": listed(taps[: half + 1]),
        "out": listed(out),
    }


print(
    json.dumps(
        {
            "scipy": scipy.__version__,
            "numpy": np.__version__,
            "spectra": [spectrum(4, 4), spectrum(8, 8), spectrum(1000, 1024), spectrum(2048, 2048), spectrum(50000, 65536)],
            "hannSymmetric": listed(signal.get_window("hann", 9, fftbins=False)),
            "hannPeriodic": listed(signal.get_window("hann", 9)),
            "kaiser": listed(signal.get_window(("kaiser", signal.kaiser_beta(100)), 9, fftbins=False)),
            "sweeps": [
                sweep(5, 400, 20, 48000, -12),
                sweep(10, 20000, 5, 44100, 0),
                sweep(7.3, 480, 7.7, 96000, -20.5),
            ],
            "decimated": [decimated(48000, 500), decimated(44100, 500), decimated(96000, 250)],
        }
    )
)
