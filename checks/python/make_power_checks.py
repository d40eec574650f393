"""Writes checks/thermal_network.csv: three lumps of heat by scipy's integrator (DOP853).

Run from the project's root with scipy installed: python checks/python/make_power_checks.py
"""

import math

from scipy.integrate import solve_ivp

CAPACITY = [15.4, 62.0, 12.0]


def rates(t, y):
    copper = 60.0 * (1.0 + 0.0039 * (y[0] - 293.15)) * (1.0 + 0.5 * math.sin(0.3 * t))
    inner = 1.5 * (y[0] - y[1])
    rotor = 0.4 * (y[1] - y[2])
    out = 3.0 * (y[1] - 290.0)
    return [
        (copper - inner) / CAPACITY[0],
        (12.0 + inner - rotor - out) / CAPACITY[1],
        (3.0 + rotor) / CAPACITY[2],
    ]


TIMES = [5.0, 15.0, 30.0, 60.0, 120.0, 300.0]
found = solve_ivp(rates, (0.0, 300.0), [295.0] * 3, "DOP853", TIMES, rtol=1e-12, atol=1e-12)
with open("checks/thermal_network.csv", "w", encoding="utf-8") as out:
    out.write("# source: scipy DOP853 at 1e-12 on the equations in checks/python/make_power_checks.py; confidence: computed\n")
    out.write("time_s,winding_K,can_K,magnets_K\n")
    for t, *y in zip(found.t, *found.y):
        out.write(f"{t:.0f}," + ",".join(f"{v:.9f}" for v in y) + "\n")
