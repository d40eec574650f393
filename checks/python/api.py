"""The API of a live server under odd requests: every answer must be one of its own, never a crash.

Usage: api.py PROGRAM. Starts PROGRAM on a scratch copy of a demonstration boat, puts requests made up from
docs/openapi.json to it with schemathesis, and fails on any answer of the 500s.
"""

import json
import os
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
# Streams of progress end with their job; freezing a build studies the boat anew each time.
LEFT_OUT = "events$|^/api/builds$|^/api/report$"
SECONDS = 180


def main() -> int:
    program = Path(sys.argv[1]).resolve()
    with tempfile.TemporaryDirectory() as scratch:
        shutil.copytree(ROOT / "examples" / "tadpole", f"{scratch}/tadpole")
        command = [program, "open", "tadpole", "--no-browser", "--json"]
        env = {**os.environ, "XDG_STATE_HOME": f"{scratch}/state"}
        with subprocess.Popen(command, cwd=scratch, env=env, stdout=subprocess.PIPE, text=True) as server:
            try:
                return fuzz(address(server))
            finally:
                server.kill()


def address(server: subprocess.Popen) -> tuple[str, str]:
    text = ""
    for line in server.stdout:
        text += line
        if line.startswith("}"):
            break
    url, token = json.loads(text)["address"].split("/#token=")
    return url, token


def fuzz(where: tuple[str, str]) -> int:
    url, token = where
    command = [
        Path(sys.executable).parent / "schemathesis", "run", ROOT / "docs" / "openapi.json",
        "--url", url,
        "--header", f"x-skimwright-token: {token}",
        "--checks", "not_a_server_error",
        "--phases", "coverage,fuzzing",
        "--max-examples", "2",
        "--exclude-path-regex", LEFT_OUT,
        "--request-timeout", "30",
        "--seed", "1",
        "--no-color",
    ]
    try:
        hooks = {**os.environ, "SCHEMATHESIS_HOOKS": "api_hooks", "PYTHONPATH": str(Path(__file__).parent)}
        return subprocess.run(command, timeout=SECONDS, check=False, env=hooks).returncode
    except subprocess.TimeoutExpired:
        print(f"FAIL: not through after {SECONDS} s")
        return 1


if __name__ == "__main__":
    sys.exit(main())
