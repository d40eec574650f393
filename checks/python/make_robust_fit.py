"""Robust fits with priors, for crates/learn: scipy.optimize.least_squares finds the optimum.

The least-squares residuals handed to scipy are the square roots of the cost's own terms, so scipy
minimises the same cost by its own method (trust-region reflective, differenced Jacobian).
"""
import numpy as np
from scipy.optimize import least_squares

NU = 4.0
T = np.array([0.5, 1.0, 2.0, 3.0, 4.0, 6.0, 8.0])


def model(p):
    # A saturating climb, a fall beside it: three parameters, two of them hard to tell apart.
    return p[0] * (1.0 - np.exp(-p[1] * T)) - p[2] * T


def cost_terms(p, mean, prior, y, sigma):
    r = (y - model(p)) / sigma
    return np.concatenate([np.sqrt((NU + 1) * np.log1p(r * r / NU)) * np.sign(r), (p - mean) / prior])


CASES = {
    "clean": np.zeros(7),
    "one far off": np.array([0, 0, 0, 4.0, 0, 0, 0]),
    "two far off": np.array([0, -3.0, 0, 0, 0, 5.0, 0]),
}
mean, prior, sigma = np.array([10.0, 0.6, 0.2]), np.array([2.0, 0.2, 0.1]), 0.2
rng = np.random.default_rng(20260517)
print("# robust_fit: scipy.optimize.least_squares (trf) on the square roots of the cost's terms;")
print("# made by checks/python/make_robust_fit.py; confidence: computed, optimum to 1e-7")
print("# model p0 (1 - exp(-p1 t)) - p2 t at t = 0.5 1 2 3 4 6 8; prior 10 +- 2, 0.6 +- 0.2, 0.2 +- 0.1; sigma 0.2")
print("case,y1,y2,y3,y4,y5,y6,y7,p0,p1,p2")
for name, off in CASES.items():
    y = model(np.array([11.3, 0.71, 0.26])) + rng.normal(0, sigma, 7) + off
    y = np.round(y, 6)
    got = least_squares(cost_terms, mean, args=(mean, prior, y, sigma), xtol=1e-14, ftol=1e-14, gtol=1e-14)
    print(",".join([name] + [f"{v:.6f}" for v in y] + [f"{v:.8f}" for v in got.x]))
