"""Writes checks/free_body.csv: a body without a symmetry axis, thrown, by scipy's integrator.

Euler's equations about the principal axes and the attitude's quaternion (scalar first), no forces but gravity.
The boat's axes are the principal ones. For crates/motion/tests/rigid.rs.
"""

import pathlib

import numpy as np
from scipy.integrate import solve_ivp

INERTIA = np.array([0.002, 0.011, 0.012])
GRAVITY = 9.80665


def rates(_, y):
    q, w, v = y[3:7], y[7:10], y[10:13]
    turn = 0.5 * np.array(
        [
            -q[1] * w[0] - q[2] * w[1] - q[3] * w[2],
            q[0] * w[0] + q[2] * w[2] - q[3] * w[1],
            q[0] * w[1] + q[3] * w[0] - q[1] * w[2],
            q[0] * w[2] + q[1] * w[1] - q[2] * w[0],
        ]
    )
    spin = np.cross(INERTIA * w, w) / INERTIA
    return np.concatenate([v, turn, spin, [0.0, 0.0, -GRAVITY]])


start = np.array([0.0, 0.0, 1.0, 1.0, 0.0, 0.0, 0.0, 0.3, 6.0, 0.2, 4.0, 0.5, 7.0])
times = np.linspace(0.0, 2.0, 11)
found = solve_ivp(rates, (0.0, 2.0), start, method="DOP853", t_eval=times, rtol=1e-12, atol=1e-13)
lines = [
    "# free_body: Euler's equations of a thrown body by scipy solve_ivp DOP853 at 1e-12; principal inertias 0.002, 0.011, 0.012 kg m2, 9.80665 m/s2; rates in body axes; made by checks/python/make_motion_checks.py",
    "time_s,x_m,y_m,z_m,q0,q1,q2,q3,p_rad_s,q_rad_s,r_rad_s",
]
for t, y in zip(times, found.y.T):
    lines.append(",".join(f"{v:.10g}" for v in [t, *y[:10]]))
path = pathlib.Path(__file__).resolve().parents[1] / "free_body.csv"
path.write_text("\n".join(lines) + "\n")
