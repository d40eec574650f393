"""Synthetic recordings with a known truth, made without any code of the project.

Writes checks/recordings/* and checks/evidence_recordings.csv. Needs numpy, scipy, soundfile, and
ffmpeg for the film. Run from the root of the project:

    python checks/python/evidence_synth.py
"""

import subprocess
import tempfile
from pathlib import Path

import numpy as np
import soundfile
from scipy.optimize import brentq

SOUND_SPEED = 343.0
RATE = 24_000
OUT = Path("checks/recordings")


def left_at(t, speed, closest, at):
    """When the sound heard at t left the boat: t_e + r(t_e)/c = t, solved by bracketing."""
    wait = lambda te: te + np.hypot(speed * (te - at), closest) / SOUND_SPEED - t
    return brentq(wait, t - 5.0, t, xtol=1e-12)


def boat(seconds, speed, closest, at, shaft_hz, rng):
    """Two blades: shaft orders 1 to 8, blade rate loudest, in noise 6 dB below it, gain controlled."""
    t = np.arange(int(seconds * RATE)) / RATE
    knots = np.linspace(-0.1, seconds + 0.1, int(400 * seconds))
    left = np.interp(t, knots, [left_at(k, speed, closest, at) for k in knots])
    distance = np.hypot(speed * (left - at), closest)
    orders = {1: 0.3, 2: 1.0, 3: 0.2, 4: 0.6, 6: 0.4, 8: 0.2}
    clean = sum(a * np.sin(2 * np.pi * k * shaft_hz * left + k) for k, a in orders.items())
    clean *= closest / distance
    noise = rng.standard_normal(len(t)) * np.sqrt(np.mean(clean**2) / 10**0.6)
    return gain(clean + noise)


def gain(x):
    """A recorder's automatic gain with 0.3 s of memory."""
    level, out = np.mean(x**2), np.empty_like(x)
    for i, v in enumerate(x):
        level += (v * v - level) / (0.3 * RATE)
        out[i] = 0.12 * v / np.sqrt(level)
    return out


def film(path, sound):
    """A phone's film: AAC sound, and pictures at a rate that changes half way."""
    with tempfile.TemporaryDirectory() as d:
        wav = Path(d) / "s.wav"
        soundfile.write(wav, sound, RATE)
        pictures = "color=c=gray:s=32x32:r=30,setpts='if(lt(N,90),N/30,3+(N-90)/20)/TB'"
        subprocess.run(
            ["ffmpeg", "-v", "error", "-y", "-f", "lavfi", "-i", pictures, "-i", wav,
             "-t", "6", "-vsync", "vfr", "-c:v", "mpeg4", "-c:a", "aac", "-b:a", "48k",
             "-map_metadata", "-1", "-fflags", "+bitexact", "-flags", "+bitexact", path],
            check=True,
        )


def main():
    OUT.mkdir(exist_ok=True)
    rng = np.random.default_rng(20261125)
    rows = []
    passes = [("pass.ogg", 14.0, 4.0, 280.0), ("pass.mp3", 22.0, 6.0, 350.0), ("pass.mp4", 17.0, 5.0, 310.0)]
    for name, speed, closest, shaft_hz in passes:
        sound = boat(6.0, speed, closest, 3.0, shaft_hz, rng)
        if name.endswith("mp4"):
            film(OUT / name, sound)
        else:
            soundfile.write(OUT / name, sound, RATE)
        rows.append((name, speed, closest, 3.0, shaft_hz * 60))
    soundfile.write(OUT / "still.flac", boat(1.5, 0.0, 3.0, 0.0, 295.0, rng), RATE)
    rows.append(("still.flac", 0.0, 3.0, 0.0, 295.0 * 60))
    hiss = np.cumsum(rng.standard_normal(4 * RATE)) * 1e-4 + 0.02 * rng.standard_normal(4 * RATE)
    soundfile.write(OUT / "wind.ogg", hiss - hiss.mean(), RATE)
    rows.append(("wind.ogg", 0.0, 0.0, 0.0, 0.0))
    with open("checks/evidence_recordings.csv", "w") as f:
        f.write("# source: made by checks/python/evidence_synth.py with exact retarded time, noise 6 dB below, automatic gain, and the file's own codec; confidence: DERIVED (the truth put in); rpm 0: no tone\n")
        f.write("file,speed_m_s,closest_m,pass_s,rpm\n")
        f.writelines(",".join(map(str, r)) + "\n" for r in rows)


main()
