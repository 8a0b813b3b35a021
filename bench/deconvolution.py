"""scipy's side of bench/deconvolution.mjs: a plain division at the full rate.

Arguments: capture and stimulus as files of float64. Then, for each line read, one division: its time and processor
time in ms as a line of JSON.
"""
import json
import sys
import time

import numpy as np
import scipy
from scipy.fft import irfft, rfft

capture, stimulus = (np.fromfile(name) for name in sys.argv[1:3])
length = 2**21


def divide():
    return irfft(rfft(capture, length) / rfft(stimulus, length), length)


divide()
print(json.dumps({"scipy": scipy.__version__, "numpy": np.__version__}), flush=True)
for _ in sys.stdin:
    start, used = time.perf_counter_ns(), time.process_time_ns()
    divide()
    taken = {"ms": (time.perf_counter_ns() - start) / 1e6, "cpu": (time.process_time_ns() - used) / 1e6}
    print(json.dumps(taken), flush=True)
