"""What is shipped: the locks, the wheel and the licence."""

import ast
import re
import subprocess
import sys
import tomllib
import zipfile
from importlib.metadata import packages_distributions
from pathlib import Path
from typing import Any

import pytest
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

ROOT = Path(__file__).parents[1]
PROJECT: dict[str, Any] = tomllib.loads((ROOT / "pyproject.toml").read_text())
RUN: list[str] = [*PROJECT["project"]["dependencies"], *PROJECT["dependency-groups"]["build"]]
EXTRAS: list[str] = [
    one for extra in PROJECT["project"]["optional-dependencies"].values() for one in extra
]
LOCKS = {
    "requirements.lock": RUN,
    "requirements-dev.lock": [*RUN, *EXTRAS, *PROJECT["dependency-groups"]["dev"]],
}


def pins(lock: str) -> dict[str, str]:
    """Name to version of every entry of a lock."""
    entries = re.findall(r"^([\w.-]+)==(\S+)", (ROOT / lock).read_text(), re.MULTILINE)
    return {canonicalize_name(name): version for name, version in entries}


@pytest.mark.parametrize("lock", LOCKS)
def test_every_dependency_is_locked_at_a_version_it_allows(lock: str) -> None:
    locked = pins(lock)
    for line in LOCKS[lock]:
        wanted = Requirement(line)
        version = locked.get(canonicalize_name(wanted.name))
        assert version is not None, f"{line} is not in {lock}: see the command at its head"
        assert wanted.specifier.contains(version), f"{line} is locked at {version}"


@pytest.mark.parametrize("lock", LOCKS)
def test_every_locked_package_has_hashes_and_no_index_of_its_own(lock: str) -> None:
    text = (ROOT / lock).read_text()
    entries = re.split(r"^(?=[a-z])", text, flags=re.MULTILINE)[1:]
    assert {one.split("==")[0] for one in entries} >= {"numpy", "pint"}
    assert all("--hash=sha256:" in entry for entry in entries)
    assert "://" not in text


@pytest.mark.parametrize("lock", LOCKS)
def test_no_lock_asks_for_the_kernels_release(lock: str) -> None:
    """pip 24.2, which comes with Python 3.13.0, ends where a kernel is called 6.8.0-45-generic."""
    assert "platform_release" not in (ROOT / lock).read_text()


def test_the_test_lock_holds_the_very_versions_the_program_runs_with() -> None:
    assert pins("requirements.lock").items() <= pins("requirements-dev.lock").items()


ONLY_BY_HAND = {"torch", "onnxruntime", "ctranslate2", "transformers"}
"""Installed by whoever fits the recogniser anew (tests/fitting/README.md), or makes its
reference again (tests/ears/make_reference.py)."""


def imported(folder: str) -> set[str]:
    """Names of the top-level packages that the modules of a folder import."""
    found: set[str] = set()
    for path in (ROOT / folder).rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text())):
            if isinstance(node, ast.Import):
                found |= {alias.name.split(".")[0] for alias in node.names}
            elif isinstance(node, ast.ImportFrom) and node.module and not node.level:
                found.add(node.module.split(".")[0])
    mine = {"assistant", "launch", "tests", *(ONLY_BY_HAND if folder == "tests" else ())}
    return found - sys.stdlib_module_names - mine


@pytest.mark.parametrize(
    ("folder", "wanted"),
    [("assistant", [*RUN, *EXTRAS]), ("tests", LOCKS["requirements-dev.lock"])],
)
def test_every_package_that_is_imported_is_declared(folder: str, wanted: list[str]) -> None:
    declared = {canonicalize_name(Requirement(line).name) for line in wanted}
    providers = packages_distributions()
    for package in imported(folder):
        names = {canonicalize_name(name) for name in providers[package]}
        assert names & declared, f"{package} is imported by {folder} and not declared"


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> zipfile.ZipFile:
    folder = tmp_path_factory.mktemp("wheel")
    subprocess.run(
        [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", str(folder)],
        cwd=ROOT, check=True, capture_output=True,
    )  # fmt: skip
    (built,) = folder.glob("turnspit-*.whl")
    return zipfile.ZipFile(built)


def test_the_wheel_carries_the_grammars_and_the_scripts(wheel: zipfile.ZipFile) -> None:
    carried = set(wheel.namelist())
    for folder in ("grammars", "demo_sessions"):
        files = {file for file in (ROOT / folder).rglob("*") if file.is_file()}
        assert files
        assert {f"assistant/_data/{file.relative_to(ROOT)}" for file in files} <= carried


def test_the_wheel_holds_the_program_and_nothing_beside_it(wheel: zipfile.ZipFile) -> None:
    folders = {name.split("/")[0] for name in wheel.namelist()}
    version = PROJECT["project"]["version"]
    assert folders == {"assistant", f"turnspit-{version}.dist-info"}
    (entry_points,) = (name for name in wheel.namelist() if name.endswith("entry_points.txt"))
    assert b"turnspit = assistant.cli.main:main" in wheel.read(entry_points)


def test_the_licence_is_mit_and_travels_with_the_wheel(wheel: zipfile.ZipFile) -> None:
    (licence,) = (name for name in wheel.namelist() if name.endswith("licenses/LICENSE"))
    assert wheel.read(licence) == (ROOT / "LICENSE").read_bytes()
    assert b"MIT License" in wheel.read(licence)


def test_no_shipped_text_names_the_machine_it_was_made_on() -> None:
    listed = subprocess.run(
        ["git", "ls-files", "-z"], cwd=ROOT, check=True, capture_output=True, text=True
    ).stdout.split("\0")
    told = re.compile(r"/home/\w+/|/root/|/opt/wheels|/opt/pypi|/etc/xdg/pip")
    texts = {".py", ".md", ".toml", ".lock", ".txt", ".sh", ""}
    for path in (ROOT / name for name in filter(None, listed) if Path(name).suffix in texts):
        if path.is_file() and path != Path(__file__):
            assert not told.search(path.read_text()), path
