"""Spectra and filters of recordings by scipy, for crates/evidence: checks/evidence_spectra.csv.

Every signal is a formula, so the tests make the same one:
- window: x[n] = sin(0.37 n) + 0.5 cos(1.1 n + 1), n < 1024, under scipy's Gaussian window of standard deviation
  128; power in a bin by scipy.fft.
- hop: t[i] = 0.01 i + 0.003 sin(7 i), v = 2.2 sin(2 pi 3.3 t) + 0.4 sin(2 pi 7.9 t + 1), i < 1500: the peak of
  scipy's Lomb-Scargle periodogram, and the amplitude of the least-squares sine there.
- pitch: rates r[i] = 0.3 cos(0.02 i) rad/s and levels of gravity tilted by 0.2 sin(0.01 i) rad at 100 Hz, joined with
  a settling time of 2 s by scipy.signal.lfilter.
"""
import numpy as np
import scipy
from scipy.fft import rfft
from scipy.optimize import minimize_scalar
from scipy.signal import lfilter, lombscargle
from scipy.signal.windows import gaussian


def window():
    n = np.arange(1024)
    x = np.sin(0.37 * n) + 0.5 * np.cos(1.1 * n + 1)
    power = np.abs(rfft(x * gaussian(1025, 128)[:-1])) ** 2
    return [("window", k, power[k]) for k in (55, 58, 60, 61, 65, 120, 175, 178, 179, 180, 185)]


def hop():
    i = np.arange(1500)
    t = 0.01 * i + 0.003 * np.sin(7 * i)
    v = 2.2 * np.sin(2 * np.pi * 3.3 * t) + 0.4 * np.sin(2 * np.pi * 7.9 * t + 1)
    v = v - v.mean()
    grid = np.linspace(0.7, 15, 20_000)
    near = grid[np.argmax(lombscargle(t, v, 2 * np.pi * grid))]
    less = lambda f: -float(np.ravel(lombscargle(t, v, np.atleast_1d(2 * np.pi * f)))[0])
    peak = minimize_scalar(less, bounds=(near - 0.02, near + 0.02), method="bounded", options={"xatol": 1e-9}).x
    sine = np.column_stack([np.sin(2 * np.pi * peak * t), np.cos(2 * np.pi * peak * t)])
    (a, b), *_ = np.linalg.lstsq(sine, v, rcond=None)
    return [("hop frequency", 0, peak), ("hop amplitude", 0, np.hypot(a, b))]


def pitch():
    i = np.arange(800)
    rate, tilt = 0.3 * np.cos(0.02 * i), 0.2 * np.sin(0.01 * i)
    dt, part = 0.01, 0.01 / 2.0
    step = (1 - part) * 0.5 * dt * (rate[1:] + rate[:-1]) + part * tilt[1:]
    angle, _ = lfilter([1.0], [1.0, -(1 - part)], step, zi=[(1 - part) * tilt[0]])
    return [("pitch", k, angle[k - 1]) for k in (1, 50, 157, 300, 471, 799)]


rows = window() + hop() + pitch()
with open("checks/evidence_spectra.csv", "w") as f:
    f.write(f"# source: scipy {scipy.__version__} on the formulas in checks/python/make_evidence_checks.py; confidence: computed by an outside library\n")
    f.write("what,index,value\n")
    f.writelines(f"{what},{k},{value:.9g}\n" for what, k, value in rows)
