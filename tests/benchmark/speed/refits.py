"""Refits of one sweep with SciPy, for the speed section of the benchmark.

Reads a JSON object from standard input: readings of both meters, a start for the parameters, how many refits to make.
Writes one JSON object: seconds of a refit for each method, and the versions used.

The model is the one the sweep was made with: two logistic shoulders behind a dead time and a first-order lag. Everything
is done on whole arrays, the lag by scipy.signal.lfilter. Residuals of the first fit are resampled in blocks of two
seconds, and every refit starts at the fitted parameters, with the default tolerances.
"""

import json
import sys
import time

import numpy as np
import scipy
from scipy.optimize import least_squares
from scipy.signal import lfilter
from scipy.special import expit

task = json.load(sys.stdin)
pressure_times = np.array(task["pressureTimes"])
signal_times = np.array(task["signalTimes"])
signal = np.array(task["signal"])

STEP = 0.05
grid = np.arange(pressure_times[0], pressure_times[-1], STEP)
pressure = np.interp(grid, pressure_times, np.array(task["pressure"]))


def predicted(x):
    dark, amplitude, low, log_low_width, high, log_high_width, dead, root_lag = x
    steady = dark + amplitude * expit((pressure - low) * np.exp(-log_low_width)) * expit(
        (high - pressure) * np.exp(-log_high_width)
    )
    keep = np.exp(-STEP / max(root_lag**2, 1e-6))
    seen, _ = lfilter([1 - keep], [1, -keep], steady, zi=[keep * steady[0]])
    return np.interp(signal_times - dead, grid, seen)


first = least_squares(lambda x: predicted(x) - signal, np.array(task["start"]))
residuals = signal - predicted(first.x)
random = np.random.default_rng(1)
block = max(1, round(2 / np.median(np.diff(signal_times))))


def resampled():
    starts = random.integers(0, len(residuals) - block + 1, len(residuals) // block + 1)
    picked = (starts[:, None] + np.arange(block)).ravel()[: len(residuals)]
    return predicted(first.x) + residuals[picked]


seconds = {}
evaluations = {}
for method in ("lm", "trf"):
    began = time.perf_counter()
    calls = 0
    for _ in range(task["refits"]):
        drawn = resampled()
        calls += least_squares(lambda x: predicted(x) - drawn, first.x, method=method).nfev
    seconds[method] = (time.perf_counter() - began) / task["refits"]
    evaluations[method] = calls / task["refits"]

print(
    json.dumps(
        {
            "seconds": seconds,
            "evaluations": evaluations,
            "fitted": first.x.tolist(),
            "scipy": scipy.__version__,
            "numpy": np.__version__,
            "python": sys.version.split()[0],
        }
    )
)
