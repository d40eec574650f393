"""Passing boats over a grid of speeds, distances, turns and noise, through real encoders.

    python checks/python/recordings_grid.py

Writes checks/recordings/grid and its table, checks/recordings_grid.csv.

Made without any code of the project: the time each sound left the boat solves its definition
t_e + r(t_e)/c = t by Newton's method to the last digit, and is held against scipy's brentq. Needs numpy, scipy
and ffmpeg. Noise is white, measured over the whole band and length of the recording; then comes a recorder's
automatic gain, then the encoder.
"""

import csv
import itertools
import subprocess
import tempfile
from dataclasses import asdict, dataclass, fields
from pathlib import Path

import numpy as np
from scipy.io import wavfile
from scipy.optimize import brentq

SOUND_SPEED = 343.0
RATE = 24_000
LENGTH_S = 6.0
OUT = Path("checks/recordings/grid")
TABLE = Path("checks/recordings_grid.csv")
ORDERS = {1: 0.3, 2: 1.0, 3: 0.2, 4: 0.6, 6: 0.4, 8: 0.2}
ENCODERS = {
    "ogg": ["-c:a", "libvorbis", "-b:a", "48k"],
    "mp3": ["-c:a", "libmp3lame", "-b:a", "48k"],
    "m4a": ["-c:a", "aac", "-b:a", "48k"],
    "aac": ["-c:a", "aac", "-b:a", "48k", "-f", "adts"],
    "flac": ["-c:a", "flac"],
    "wav": ["-c:a", "pcm_s16le"],
}


@dataclass
class Case:
    """One recording's truth."""

    file: str
    speed_m_s: float
    closest_m: float
    pass_s: float
    rpm: float
    second_rpm: float  # of a second motor; 0 for none
    snr_db: float
    fault: str  # none, clipped, dropouts
    seed: int


def left_at(t, case):
    """When the sound heard at t left the boat."""
    left = t - case.closest_m / SOUND_SPEED
    for _ in range(12):
        along = case.speed_m_s * (left - case.pass_s)
        distance = np.hypot(along, case.closest_m)
        error = left + distance / SOUND_SPEED - t
        left = left - error / (1 + case.speed_m_s * along / (distance * SOUND_SPEED))
    for i in np.linspace(0, len(t) - 1, 7).astype(int):
        wait = lambda te: te + np.hypot(case.speed_m_s * (te - case.pass_s), case.closest_m) / SOUND_SPEED - t[i]
        assert abs(left[i] - brentq(wait, t[i] - 5, t[i], xtol=1e-13)) < 1e-11
    return left


def gain(x):
    """A recorder's automatic gain with 0.3 s of memory."""
    level, out, part = np.mean(x**2), np.empty_like(x), 1 / (0.3 * RATE)
    for i, v in enumerate(x):
        level += (v * v - level) * part
        out[i] = 0.12 * v / np.sqrt(level)
    return out


def sound(case):
    """What the recorder hands to the encoder, from -1 to 1."""
    rng = np.random.default_rng(case.seed)
    t = np.arange(int(LENGTH_S * RATE)) / RATE
    left = left_at(t, case)
    distance = np.hypot(case.speed_m_s * (left - case.pass_s), case.closest_m)
    clean = np.zeros_like(t)
    for rpm, loud in ((case.rpm, 1.0), (case.second_rpm, 0.8)):
        if rpm:
            clean += loud * sum(a * np.sin(2 * np.pi * k * rpm / 60 * left + k) for k, a in ORDERS.items())
    clean *= case.closest_m / distance
    x = gain(clean + rng.standard_normal(len(t)) * np.sqrt(np.mean(clean**2) / 10 ** (case.snr_db / 10)))
    if case.fault == "clipped":
        x = np.clip(6 * x, -1, 1)
    if case.fault == "dropouts":
        for start in rng.integers(0, len(x) - 1000, 6):
            x[start : start + int(0.03 * RATE)] = 0
    return np.clip(x, -1, 1)


def encode(case, folder):
    with tempfile.TemporaryDirectory() as d:
        wav = Path(d) / "s.wav"
        wavfile.write(wav, RATE, np.round(32767 * sound(case)).astype(np.int16))
        kind = case.file.rsplit(".", 1)[1]
        exact = ["-map_metadata", "-1", "-fflags", "+bitexact", "-flags", "+bitexact"]
        subprocess.run(["ffmpeg", "-v", "error", "-y", "-i", wav, *ENCODERS[kind], *exact, folder / case.file], check=True)


def cases(speeds, distances, turns, noises, encoders, seed):
    """A full grid; encoders take turns."""
    kinds = itertools.cycle(encoders)
    every = itertools.product(speeds, distances, turns, noises)
    return [
        Case(f"{n:03}.{next(kinds)}", v, d, 3.0, 60.0 * f, 0.0, snr, "none", seed + n)
        for n, (v, d, f, snr) in enumerate(every)
    ]


def committed():
    """The grid at 6 dB, then what is harder."""
    grid = cases([7.0, 14.0, 24.0], [3.0, 8.0], [230.0, 410.0], [6.0], ["ogg", "mp3", "m4a", "aac"], 100)
    more = [(14.0, 4.0, 310.0, 0.0, snr, "none", "ogg") for snr in (0.0, -6.0, -12.0, -30.0, -36.0)]
    more += [(20.0, 6.0, 350.0, 363.0, 6.0, "none", "mp3"), (12.0, 4.0, 280.0, 288.5, 6.0, "none", "m4a")]
    more += [(17.0, 5.0, 330.0, 0.0, 12.0, "clipped", "ogg"), (17.0, 5.0, 330.0, 0.0, 6.0, "dropouts", "mp3")]
    for v, d, f, g, snr, fault, kind in more:
        grid.append(Case(f"{len(grid):03}.{kind}", v, d, 3.0, 60 * f, 60 * g, snr, fault, 300 + len(grid)))
    return grid


def write():
    OUT.mkdir(parents=True, exist_ok=True)
    every = committed()
    for case in every:
        encode(case, OUT)
    with TABLE.open("w") as f:
        f.write("# source: made by checks/python/recordings_grid.py: exact retarded time, white noise over the whole band, automatic gain, then ffmpeg's encoder; confidence: DERIVED (the truth put in)\n")
        table = csv.DictWriter(f, [x.name for x in fields(Case)], lineterminator="\n")
        table.writeheader()
        table.writerows(asdict(c) for c in every)


if __name__ == "__main__":
    write()
