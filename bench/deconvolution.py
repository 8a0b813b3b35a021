"""scipy's side of bench/deconvolution.mjs: a plain division at the full rate, median in ms as JSON.

Arguments: capture and stimulus as files of float64, repeats.
"""
import json
import sys
import time

import numpy as np
import scipy
from scipy.fft import irfft, rfft

capture, stimulus = (np.fromfile(name) for name in sys.argv[1:3])
repeats = int(sys.argv[3])
length = 2**21


def divide():
    return irfft(rfft(capture, length) / rfft(stimulus, length), length)


divide()
times = []
for _ in range(repeats):
    start = time.perf_counter_ns()
    divide()
    times.append(time.perf_counter_ns() - start)
print(json.dumps({"scipy": scipy.__version__, "numpy": np.__version__, "ms": float(np.median(times)) / 1e6}))
