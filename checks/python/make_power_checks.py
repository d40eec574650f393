"""Writes thermal_network, power_run, water_line and heat_run .csv in checks/ by scipy alone.

Three lumps of heat in time; a whole drive from cells to boat speed with its heat in time; the flow of a water
line. Run from the project's root with scipy installed: python checks/python/make_power_checks.py
"""

import csv
import math

import numpy as np
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

SOURCE = "# source: scipy on the equations in checks/python/make_power_checks.py; confidence: computed\n"


def network():
    """Three lumps heated by a wave."""
    capacity = [15.4, 62.0, 12.0]

    def rates(t, y):
        copper = 60.0 * (1.0 + 0.0039 * (y[0] - 293.15)) * (1.0 + 0.5 * math.sin(0.3 * t))
        inner = 1.5 * (y[0] - y[1])
        rotor = 0.4 * (y[1] - y[2])
        out = 3.0 * (y[1] - 290.0)
        return [
            (copper - inner) / capacity[0],
            (12.0 + inner - rotor - out) / capacity[1],
            (3.0 + rotor) / capacity[2],
        ]

    times = [5.0, 15.0, 30.0, 60.0, 120.0, 300.0]
    found = solve_ivp(rates, (0.0, 300.0), [295.0] * 3, "DOP853", times, rtol=1e-12, atol=1e-12)
    with open("checks/thermal_network.csv", "w", encoding="utf-8") as out:
        out.write(SOURCE)
        out.write("time_s,winding_K,can_K,magnets_K\n")
        for t, *y in zip(found.t, *found.y):
            out.write(f"{t:.0f}," + ",".join(f"{v:.9f}" for v in y) + "\n")


# A drive: three cells, 2600 rpm/V, a 34 mm propeller with straight coefficients, no cooling water.
SERIES, CAPACITY_C, CELL_OHM, LEAD_OHM = 3.0, 2.2 * 3600.0, 0.0055, 0.001
BRIDGE_OHM, EDGE_S, CHOP_HZ, IDLE_W = 0.0015, 2e-7, 16e3, 0.5
SPEED_PER_VOLT, WINDING_OHM, IDLE_A = 2600.0 * math.pi / 30.0, 0.018, 2.2
IDLE_AT_RAD_S, STEADY_SHARE, MAGNET_PER_K = 2400.0, 0.5, -0.0012
GEAR, SHAFT, MASS_KG, OUTSIDE_K = 1.0, 0.93, 1.3, 293.15
DIAMETER, DENSITY = 0.034, 998.0
DRAG = [(0.0, 0.0), (3.0, 4.0), (6.0, 2.6), (12.0, 3.4), (20.0, 7.0), (30.0, 15.0)]
HELD = [15.4, 84.0, 12.7, 63.0, 450.0, 2.412]
LINKS = [(0, 1, 1.5), (1, 2, 0.4), (1, 5, 0.09), (3, 5, 0.1), (4, 5, 0.5)]
TO_OUTSIDE = [0.0, 0.0, 0.0, 0.0, 0.0, 1.0]
THROTTLE = [(0.0, 0.0), (2.0, 1.0), (62.0, 1.0), (63.0, 0.0)]
SOAK_S = 120.0


def cell_table():
    with open("checks/battery_27Ah_soc_temperature.csv", encoding="utf-8") as file:
        rows = [row for row in csv.DictReader(line for line in file if not line.startswith("#"))]
    charges = sorted({float(r["SOC_fraction"]) for r in rows})
    kelvin = sorted({float(r["T_K"]) for r in rows})
    grid = {(float(r["SOC_fraction"]), float(r["T_K"])): r for r in rows}

    def at(column, charge, temperature):
        each = [np.interp(temperature, kelvin, [float(grid[c, k][column]) for k in kelvin]) for c in charges]
        return float(np.interp(charge, charges, each))

    return at


CELL = cell_table()
CELL_SCALE = SERIES * CELL_OHM / (CELL("R0_ohm", 0.5, 298.15) + CELL("R1_ohm", 0.5, 298.15))

ANGLES = np.linspace(0.0, math.pi / 2, 97)
ADVANCE = np.clip(np.tan(ANGLES), 0.0, 40.0)
THRUST = (0.30 - 0.20 * ADVANCE) / (1.0 + ADVANCE**2)
TORQUE = (0.055 - 0.030 * ADVANCE) / (1.0 + ADVANCE**2)


def propeller(speed, shaft):
    """Thrust and torque from the coefficients over the angle of advance."""
    v, n = speed / DIAMETER, shaft / (2 * math.pi)
    angle = math.atan2(v, n)
    scale = DENSITY * DIAMETER**4 * (v * v + n * n)
    return scale * np.interp(angle, ANGLES, THRUST), scale * DIAMETER * np.interp(angle, ANGLES, TORQUE)


def drive(t, y):
    """Currents and heat at a moment: motor, pack, copper, iron, shaft, propeller, pack voltage inside."""
    throttle = float(np.interp(t, [p[0] for p in THROTTLE], [p[1] for p in THROTTLE]))
    if throttle < 0.01:
        return None
    charge = 1.0 - y[6] / CAPACITY_C
    series = CELL_SCALE * CELL("R0_ohm", charge, y[4])
    source = SERIES * CELL("V_oc_V", charge, 293.0) - y[7]
    sag = series + LEAD_OHM
    field = 1.0 + MAGNET_PER_K * (y[2] - 293.15)
    per_volt = SPEED_PER_VOLT / field
    winding = WINDING_OHM * (235.0 + y[0] - 273.15) / 255.0

    def idle(w):
        steady = STEADY_SHARE + (1 - STEADY_SHARE) * w / IDLE_AT_RAD_S
        return IDLE_A * field * steady * math.tanh(w / 20.0)

    def current(w):
        return max(0.0, (throttle * source - w / per_volt) / (winding + BRIDGE_OHM + throttle**2 * sag))

    def left(w):
        given = (current(w) - idle(w)) / per_volt * GEAR
        # Friction takes its share of the torque whichever way it flows, and nothing turns by itself.
        share = (1.0 / SHAFT - 1.0) * math.tanh(w / GEAR / 20.0)
        given = given / (1.0 + share) if given >= 0.0 else given / (1.0 - share)
        return given - propeller(y[8], w / GEAR)[1]

    w = 0.0 if left(0.0) <= 0.0 else brentq(left, 0.0, 3 * per_volt * source, xtol=1e-9, rtol=1e-14)
    amps = current(w)
    chopping = min(1.0, max(0.0, (1 - throttle) / 0.02))
    extra = (chopping * CHOP_HZ * amps * EDGE_S * source / 2 + IDLE_W) / source
    pack = throttle * amps + extra
    copper, iron = amps**2 * winding, idle(w) * w / per_volt
    out = propeller(y[8], w / GEAR)[1] * w / GEAR
    lost = amps * w / per_volt - iron - out
    bridge = pack * (source - pack * sag) - copper - iron - lost - out
    return {"pack": pack, "shaft": w / GEAR, "copper": copper, "iron": iron, "bridge": bridge,
            "leads": pack**2 * LEAD_OHM, "cells": pack**2 * series}


def rates(t, y, stopped):
    now = drive(t, y)
    charge = 1.0 - y[6] / CAPACITY_C
    slow, time = CELL_SCALE * CELL("R1_ohm", charge, y[4]), CELL("tau1_s", charge, y[4])
    pack = now["pack"] if now else 0.0
    heat = [0.0] * 6
    heat[4] = y[7] ** 2 / slow
    shaft = 0.0
    if now:
        shaft = now["shaft"]
        heat[0], heat[1], heat[2] = now["copper"], 0.8 * now["iron"], 0.2 * now["iron"]
        heat[3], heat[5] = now["bridge"], now["leads"]
        heat[4] += now["cells"]
    for a, b, g in LINKS:
        heat[a] -= g * (y[a] - y[b])
        heat[b] += g * (y[a] - y[b])
    warming = [(h - g * (k - OUTSIDE_K)) / c for h, g, k, c in zip(heat, TO_OUTSIDE, y, HELD)]
    drag = np.interp(y[8], [d[0] for d in DRAG], [d[1] for d in DRAG])
    push = -2.0 * y[8] if stopped else (propeller(y[8], shaft)[0] - drag) / MASS_KG
    return [*warming, pack, (pack * slow - y[7]) / time, push, y[8]]


def run():
    """The drive at full throttle for a minute, then left to soak."""
    ends = [p[0] for p in THROTTLE] + [THROTTLE[-1][0] + SOAK_S]
    wanted = [2.0, 10.0, 30.0, 62.0, 63.0, 183.0]
    y, rows = [OUTSIDE_K] * 6 + [0.0] * 4, []
    for start, end in zip(ends, ends[1:]):
        times = [t for t in wanted if start < t <= end]
        found = solve_ivp(rates, (start, end), y, "DOP853", times or None, args=(start >= THROTTLE[-1][0],),
                          rtol=1e-9, atol=1e-9, max_step=0.25)
        if times:
            rows += [(t, *col) for t, *col in zip(found.t, *found.y)]
        y = found.y[:, -1] if not times or times[-1] == end else None
        if y is None:
            raise SystemExit("every piece must end at a wanted time or have none")
    with open("checks/power_run.csv", "w", encoding="utf-8") as out:
        out.write(SOURCE)
        out.write("time_s,winding_K,can_K,magnets_K,controller_K,pack_K,air_K,used_C,slow_V,speed_m_s,way_m\n")
        for t, *values in rows:
            out.write(f"{t:.0f}," + ",".join(f"{v:.7f}" for v in values) + "\n")


def water_line():
    """Ram pressure against hole, tube, two coils and outlet, turbulent throughout."""
    density, viscosity, rough = 999.1026, 1.1375e-3, 1.5e-6
    pieces = [(0.0028, 0.01, 0.5), (0.003, 0.4, 2.0), (0.003, 0.25, 2.0), (0.003, 0.25, 2.0), (0.003, 0.1, 1.0)]

    def lost(flow):
        total = 0.0
        for bore, length, k in pieces:
            v = flow / (math.pi * bore**2 / 4)
            re = density * v * bore / viscosity

            def colebrook(f):
                return 1 / math.sqrt(f) + 2 * math.log10(rough / bore / 3.7 + 2.51 / (re * math.sqrt(f)))

            total += density * v * v / 2 * (brentq(colebrook, 1e-4, 1.0) * length / bore + k)
        return total

    with open("checks/water_line.csv", "w", encoding="utf-8") as out:
        out.write(SOURCE)
        out.write("speed_m_s,rise_m,flow_kg_s,reynolds\n")
        for speed in [12.0, 16.0, 20.0, 25.0]:
            for rise in [0.0, 0.05, 0.1]:
                driving = 0.5 * 0.6 * density * speed**2 - density * 9.81 * rise
                flow = brentq(lambda q: lost(q) - driving, 1e-7, 1e-3, xtol=1e-16, rtol=1e-14)
                re = density * flow / (math.pi * 0.003**2 / 4) * 0.003 / viscosity
                out.write(f"{speed:.0f},{rise},{density * flow:.9f},{re:.1f}\n")


def heat_run():
    """Winding and can at a steady current: 0.2 kg, 12 mohm, 20 W of iron loss, 1.5 and 3 W/K, water at 288.15 K."""
    winding, can = 0.16 * 385.0 * 0.2, 0.84 * 460.0 * 0.2

    def rates(t, y, amps):
        copper = amps**2 * 0.012 * (1.0 + (y[0] - 293.15) / 255.0)
        inner = 1.5 * (y[0] - y[1])
        return [(copper - inner) / winding, (20.0 + inner - 3.0 * (y[1] - 288.15)) / can]

    with open("checks/heat_run.csv", "w", encoding="utf-8") as out:
        out.write(SOURCE)
        out.write("current_A,time_s,winding_K,can_K\n")
        for amps, times in [(30.0, [10.0, 60.0, 300.0]), (60.0, [10.0, 60.0, 300.0]), (100.0, [5.0, 20.0, 60.0]),
                            (180.0, [2.0, 5.0, 10.0])]:
            found = solve_ivp(rates, (0.0, times[-1]), [288.15] * 2, "DOP853", times, args=(amps,),
                              rtol=1e-12, atol=1e-12)
            for t, *y in zip(found.t, *found.y):
                out.write(f"{amps:.0f},{t:.0f}," + ",".join(f"{v:.9f}" for v in y) + "\n")


network()
run()
water_line()
heat_run()
