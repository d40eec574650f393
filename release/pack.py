"""Packs the built program into an archive with what belongs to it, and writes its checksum.

    python3 release/pack.py FOLDER

The same files give the same archive: names in order, one owner, the time of the last commit.
"""

import gzip
import hashlib
import io
import json
import pathlib
import re
import shutil
import subprocess
import sys
import tarfile
import tempfile
import zipfile

ROOT = pathlib.Path(__file__).resolve().parents[1]
NAME = "skimwright"
TEXTS = re.compile(r"^(licen[cs]e|copying|copyright|notice|unlicense|authors)", re.IGNORECASE)
GUIDES = ["README.md", "CHANGELOG.md", "SECURITY.md", "LICENSE-MIT", "LICENSE-APACHE"]


def told(*command):
    return subprocess.run(command, cwd=ROOT, check=True, capture_output=True, text=True).stdout


def host():
    return re.search(r"^host: (\S+)$", told("rustc", "-vV"), re.MULTILINE)[1]


def crates():
    """Every crate in the program: name, version, licence, its folder."""
    meta = json.loads(told("cargo", "metadata", "--format-version", "1", "--locked", "--filter-platform", host()))
    packages = {p["id"]: p for p in meta["packages"]}
    nodes = {n["id"]: n for n in meta["resolve"]["nodes"]}
    wanted = [p["id"] for p in packages.values() if p["name"] == NAME and p["source"] is None]
    seen = set(wanted)
    while wanted:
        for dep in nodes[wanted.pop()]["deps"]:
            built_in = any(kind["kind"] is None for kind in dep["dep_kinds"])
            if built_in and dep["pkg"] not in seen:
                seen.add(dep["pkg"])
                wanted.append(dep["pkg"])
    for package in sorted((packages[i] for i in seen), key=lambda p: (p["name"], p["version"])):
        if package["source"] is None:
            continue
        folder = pathlib.Path(package["manifest_path"]).parent
        licence = package["license"] or f"see {package['license_file']}"
        yield package["name"], package["version"], licence, package["repository"] or "", folder


def modules():
    """Every package in the page, as npm installed it."""
    home = ROOT / "web/node_modules"
    wanted = list(json.loads((ROOT / "web/package.json").read_text())["dependencies"])
    seen = set()
    while wanted:
        name = wanted.pop()
        if name in seen:
            continue
        seen.add(name)
        wanted += json.loads((home / name / "package.json").read_text()).get("dependencies", {})
    for name in sorted(seen):
        said = json.loads((home / name / "package.json").read_text())
        where = said.get("repository", "")
        where = where.get("url", "") if isinstance(where, dict) else where
        yield name, said["version"], said.get("license", "not said"), where, home / name


def licences(into, with_page):
    """The licence texts of every dependency, and a list of them."""
    into.mkdir()
    lines, without = [], []
    for name, version, licence, where, folder in [*crates(), *(modules() if with_page else ())]:
        texts = sorted(p for p in folder.iterdir() if p.is_file() and TEXTS.match(p.name))
        lines.append(f"{name} {version}: {licence}  {where}".rstrip())
        if not texts:
            without.append(f"{name} {version}: {licence}")
            continue
        own = into / f"{name.replace('/', '+')}-{version}"
        own.mkdir()
        for text in texts:
            shutil.copyfile(text, own / text.name)
    head = f"{NAME} contains these packages, each under its own licence; texts stand in the folder of each.\n\n"
    tail = ""
    if without:
        tail = (
            "\nThese came without a text. What they name is one of the licences whose texts stand in ../LICENSE-MIT,\n"
            "../LICENSE-APACHE or beside the other packages here; their authors are named at their addresses above.\n\n"
            + "\n".join(without) + "\n"
        )
    (into / "LIST.txt").write_text(head + "\n".join(lines) + "\n" + tail, encoding="utf-8")
    return len(lines), len(without)


def stage(into):
    """Everything that the archive holds."""
    windows = "windows" in host()
    program = ROOT / "target/release" / (NAME + (".exe" if windows else ""))
    shutil.copy2(program, into / program.name)
    for name in GUIDES:
        shutil.copyfile(ROOT / name, into / name)
    shutil.copytree(ROOT / "docs", into / "docs", ignore=shutil.ignore_patterns("openapi.json"))
    with_page = (ROOT / "web/dist/index.html").exists()
    count, without = licences(into / "licences", with_page)
    subprocess.run([into / program.name, "manuals", into / "manuals"], check=True, capture_output=True)
    for part in ("man", "completions"):
        (into / "manuals" / part).rename(into / part)
    (into / "manuals").rmdir()
    print(f"program {program.stat().st_size / 1e6:.1f} MB, {'with' if with_page else 'WITHOUT'} the page; "
          f"licences of {count} packages, {without} without a text of their own")


def files_of(folder):
    return sorted(p for p in folder.rglob("*") if p.is_file())


def tar(folder, archive, when):
    plain = io.BytesIO()
    with tarfile.open(fileobj=plain, mode="w", format=tarfile.GNU_FORMAT) as out:
        for path in files_of(folder):
            entry = tarfile.TarInfo(str(path.relative_to(folder.parent)))
            entry.size, entry.mtime = path.stat().st_size, when
            entry.mode = 0o755 if path.stem == NAME and path.parent == folder else 0o644
            with path.open("rb") as content:
                out.addfile(entry, content)
    with archive.open("wb") as out, gzip.GzipFile(fileobj=out, mode="wb", filename="", mtime=when) as packed:
        packed.write(plain.getvalue())


def zipped(folder, archive):
    with zipfile.ZipFile(archive, "w", zipfile.ZIP_DEFLATED) as out:
        for path in files_of(folder):
            out.write(path, path.relative_to(folder.parent))


def main():
    into = pathlib.Path(sys.argv[1] if len(sys.argv) > 1 else "target/archive")
    into = into if into.is_absolute() else ROOT / into
    into.mkdir(parents=True, exist_ok=True)
    version = re.search(r'^version = "(.+)"$', (ROOT / "Cargo.toml").read_text(), re.MULTILINE)[1]
    whole = f"{NAME}-{version}-{host()}"
    when = int(told("git", "log", "-1", "--format=%ct") or 0)
    with tempfile.TemporaryDirectory() as room:
        folder = pathlib.Path(room) / whole
        folder.mkdir()
        stage(folder)
        archive = into / (whole + (".zip" if "windows" in host() else ".tar.gz"))
        if archive.suffix == ".zip":
            zipped(folder, archive)
        else:
            tar(folder, archive, when)
    digest = hashlib.sha256(archive.read_bytes()).hexdigest()
    (into / f"{archive.name}.sha256").write_text(f"{digest}  {archive.name}\n", encoding="utf-8", newline="\n")
    print(f"{archive}\n{archive.stat().st_size / 1e6:.1f} MB, sha256 {digest}")


if __name__ == "__main__":
    main()
