"""The launcher, with stand-ins for Python, pip, apt and sudo that write down what they were asked.

The real ones are tried by .ci/run on a clean clone and in a bare Debian root.
"""

import os
import shutil
import signal
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
TOOLS = ["sh", "cat", "cksum", "dirname", "env", "flock", "mkdir", "mv", "readlink", "rm", "sleep"]

# Stands in for any Python: the system's (PYTHON_MINOR, ENSUREPIP) and the one in the venv.
PYTHON = """#!/bin/sh
echo "python $*" >>"$CALLS"
case "$*" in
*version_info\\[1\\]*) echo 11 ;;
*version_info*) [ "${PYTHON_OLD-}" = "" ] ;;
*ensurepip*) [ -e "$FAKES/ensurepip" ] ;;
*"-m venv"*)
    for folder; do :; done
    rm -rf "$folder"; mkdir -p "$folder/bin"
    cat "$FAKES/python3" >"$folder/bin/python"; cat "$FAKES/python3" >"$folder/bin/.x"
    "$FAKES/executable" "$folder/bin/python" ;;
*"pip install"*"-e "*)
    for tool in turnspit ruff mypy lint-imports; do
        cat "$FAKES/program" >"${0%/*}/$tool"; "$FAKES/executable" "${0%/*}/$tool"
    done ;;
*"pip install"*) sleep "${PIP_SECONDS-0}"; [ ! -e "$FAKES/pip_fails" ] ;;
esac
"""
PROGRAM = """#!/bin/sh
echo "${0##*/} ran" >>"$CALLS"
for word; do printf '<%s>' "$word"; done
[ "${FAILS-}" != "${0##*/}" ] || exit 3
"""
DPKG = """#!/bin/sh
for package; do :; done
[ -e "$FAKES/installed-$package" ] && echo installed
"""
APT = """#!/bin/sh
echo "apt-get $*" >>"$CALLS"
[ "${APT_FAILS-}" = "" ] || exit 100
case "$*" in *venv*) cat /dev/null >"$FAKES/ensurepip" ;; esac
"""
SUDO = """#!/bin/sh
[ "$1" != -n ] || shift
"$@"
"""


@dataclass(frozen=True)
class Machine:
    """A checkout in a folder with a space and a PATH that holds only stand-ins."""

    checkout: Path
    fakes: Path
    calls_file: Path
    environment: dict[str, str]

    def run(
        self, *words: str, path: Path | None = None, **extra: str
    ) -> subprocess.CompletedProcess[str]:
        return subprocess.run(
            [str(path or self.checkout / "turnspit"), *words],
            env={**self.environment, **extra}, cwd="/", text=True, capture_output=True,
            stdin=subprocess.DEVNULL, timeout=60, check=False,
        )  # fmt: skip

    def fake(self, name: str, text: str) -> None:
        (self.fakes / name).write_text(text)
        (self.fakes / name).chmod(0o755)

    def calls(self, containing: str = "") -> list[str]:
        lines = self.calls_file.read_text().splitlines() if self.calls_file.exists() else []
        return [line for line in lines if containing in line]


@pytest.fixture
def machine(tmp_path: Path) -> Machine:
    checkout, fakes = tmp_path / "our checkout", tmp_path / "bin"
    checkout.mkdir()
    fakes.mkdir()
    shutil.copy(ROOT / "turnspit", checkout)
    for name in ("requirements.lock", "requirements-dev.lock", "pyproject.toml"):
        (checkout / name).write_text(f"# {name}\n")
    for tool in TOOLS:
        (fakes / tool).symlink_to(str(shutil.which(tool)))
    made = Machine(
        checkout, fakes, tmp_path / "calls",
        {"PATH": str(fakes), "FAKES": str(fakes), "CALLS": str(tmp_path / "calls")},
    )  # fmt: skip
    made.fake("executable", f'#!/bin/sh\n{shutil.which("chmod")} +x "$1"\n')
    for name, text in {
        "python3": PYTHON, "program": PROGRAM, "dpkg-query": DPKG, "apt-get": APT,
        "id": "#!/bin/sh\necho ${USER_NUMBER-0}\n",
    }.items():  # fmt: skip
        made.fake(name, text)
    for package in ("libportaudio2", "espeak-ng"):
        (fakes / f"installed-{package}").touch()
    (fakes / "ensurepip").touch()
    return made


def test_first_use_sets_up_and_hands_every_word_on_unchanged(machine: Machine) -> None:
    ran = machine.run("hear", "a file.wav", "")
    assert (ran.returncode, ran.stdout) == (0, "<hear><a file.wav><>")
    (locked,) = machine.calls("--require-hashes")
    assert locked.endswith(f"-r {machine.checkout}/requirements.lock")
    assert machine.calls("--no-deps --no-build-isolation -e")


def test_later_uses_start_at_once(machine: Machine) -> None:
    machine.run("demo")
    machine.calls_file.unlink()
    ran = machine.run("demo")
    assert machine.calls() == ["turnspit ran"]
    assert ran.stderr == ""


@pytest.mark.parametrize("changed", ["requirements.lock", "pyproject.toml"])
def test_changed_dependencies_are_installed_on_the_next_use(machine: Machine, changed: str) -> None:
    machine.run("demo")
    (machine.checkout / changed).write_text("# new\n")
    machine.run("demo")
    assert len(machine.calls("--require-hashes")) == 2
    assert len(machine.calls("-m venv")) == 1


def test_a_symbolic_link_elsewhere_starts_the_same_checkout(
    machine: Machine, tmp_path: Path
) -> None:
    (tmp_path / "links").mkdir()
    (tmp_path / "links" / "inner").symlink_to("../our checkout/turnspit")
    link = tmp_path / "spit"
    link.symlink_to("links/inner")
    assert machine.run("plan", path=link).stdout == "<plan>"
    assert (machine.checkout / ".venv").is_dir()


def test_an_interrupted_set_up_goes_on_where_it_stopped(machine: Machine) -> None:
    (machine.fakes / "pip_fails").touch()
    broken = machine.run("demo")
    assert broken.returncode == 1
    assert "the same command goes on from here" in broken.stderr.splitlines()[-1]
    (machine.fakes / "pip_fails").unlink()
    assert machine.run("demo").stdout == "<demo>"
    assert len(machine.calls("-m venv")) == 1


def test_a_half_made_venv_is_made_anew(machine: Machine) -> None:
    (machine.checkout / ".venv" / "bin").mkdir(parents=True)
    assert machine.run("demo").stdout == "<demo>"


def test_a_killed_installation_starts_over(machine: Machine) -> None:
    process = subprocess.Popen(
        [machine.checkout / "turnspit", "demo"],
        env={**machine.environment, "PIP_SECONDS": "30"}, start_new_session=True,
        stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
    )  # fmt: skip
    while not machine.calls("--require-hashes"):
        assert process.poll() is None
    os.killpg(process.pid, signal.SIGKILL)
    process.wait()
    assert machine.run("demo").stdout == "<demo>"
    assert len(machine.calls("-m venv")) == 2


def test_a_moved_checkout_gets_a_new_venv(machine: Machine) -> None:
    machine.run("demo")
    moved = machine.checkout.rename(machine.checkout.with_name("moved"))
    assert machine.run("demo", path=moved / "turnspit").stdout == "<demo>"
    assert machine.calls(f"--clear {moved}/.venv")


def test_two_first_uses_at_once_set_up_one_time(machine: Machine) -> None:
    both = [
        subprocess.Popen(
            [machine.checkout / "turnspit", "demo"],
            env={**machine.environment, "PIP_SECONDS": "0.5"}, stdout=subprocess.PIPE, text=True,
        )
        for _ in range(2)
    ]  # fmt: skip
    assert [process.communicate(timeout=60)[0] for process in both] == ["<demo>"] * 2
    assert len(machine.calls("--require-hashes")) == 1


def test_root_installs_the_missing_debian_packages(machine: Machine) -> None:
    (machine.fakes / "installed-espeak-ng").unlink()
    assert machine.run("demo").stdout == "<demo>"
    (install,) = machine.calls("--no-install-recommends")
    assert install.startswith("apt-get")
    assert install.endswith("--no-install-recommends espeak-ng")


def test_sudo_is_used_after_saying_for_what(machine: Machine) -> None:
    (machine.fakes / "installed-libportaudio2").unlink()
    machine.fake("true", "#!/bin/sh\n")
    machine.fake("sudo", SUDO)
    ran = machine.run("demo", USER_NUMBER="1000")
    assert "with sudo: libportaudio2" in ran.stderr.splitlines()[0]
    assert machine.calls("--no-install-recommends libportaudio2")


def test_without_root_or_sudo_it_prints_the_line_to_run_and_goes_on(machine: Machine) -> None:
    (machine.fakes / "installed-espeak-ng").unlink()
    ran = machine.run("demo", USER_NUMBER="1000")
    assert ran.stdout == "<demo>"
    assert "sudo apt-get install -y espeak-ng" in ran.stderr
    assert machine.calls("apt-get") == []


def test_a_failing_apt_is_said_and_survived(machine: Machine) -> None:
    (machine.fakes / "installed-espeak-ng").unlink()
    ran = machine.run("demo", APT_FAILS="yes")
    assert ran.stdout == "<demo>"
    assert "To try again: apt-get install -y espeak-ng" in ran.stderr


def test_a_python_that_cannot_make_a_venv_gets_the_package_for_it(machine: Machine) -> None:
    (machine.fakes / "ensurepip").unlink()
    assert machine.run("demo").stdout == "<demo>"
    assert machine.calls("install --no-install-recommends python3.11-venv")


def test_a_venv_that_cannot_be_made_is_one_line_with_what_to_run(machine: Machine) -> None:
    (machine.fakes / "ensurepip").unlink()
    ran = machine.run("demo", USER_NUMBER="1000")
    assert ran.returncode == 1
    assert ran.stderr.splitlines()[-1].endswith("sudo apt-get install -y python3.11-venv")


def test_an_old_python_is_one_line(machine: Machine) -> None:
    ran = machine.run("demo", PYTHON_OLD="yes")
    assert ran.returncode == 1
    assert ran.stderr == (
        "turnspit: needs Python 3.11 to 3.14; on Debian 12: sudo apt-get install -y python3\n"
    )


def on(machine: Machine, system: str) -> Machine:
    """The same machine under another system: no apt, no dpkg, no flock."""
    for tool in ("apt-get", "dpkg-query", "flock"):
        (machine.fakes / tool).unlink()
    machine.fake("uname", f"#!/bin/sh\necho {system}\n")
    return machine


def test_on_a_mac_it_sets_up_without_a_word_of_apt(machine: Machine) -> None:
    ran = on(machine, "Darwin").run("demo")
    assert (ran.returncode, ran.stdout) == (0, "<demo>")
    assert "apt" not in ran.stderr
    assert "Debian" not in ran.stderr


def test_on_another_linux_it_names_what_to_install_and_goes_on(machine: Machine) -> None:
    ran = on(machine, "Linux").run("demo")
    assert (ran.returncode, ran.stdout) == (0, "<demo>")
    assert "not a Debian system" in ran.stderr


@pytest.mark.parametrize(("system", "says"), [("Darwin", "brew install python"), ("Linux", "apt")])
def test_an_old_python_is_told_the_way_of_the_system(
    machine: Machine, system: str, says: str
) -> None:
    ran = on(machine, system).run("demo", PYTHON_OLD="yes")
    assert ran.returncode == 1
    assert says in ran.stderr


def test_the_exit_status_is_the_programs(machine: Machine) -> None:
    assert machine.run("plan", FAILS="turnspit").returncode == 3


def test_the_test_word_runs_every_check_and_names_those_that_failed(machine: Machine) -> None:
    ran = machine.run("test", "-k", "one word", FAILS="mypy")
    assert ran.returncode == 1
    assert ran.stderr.splitlines()[-1] == "turnspit: failed: mypy"
    assert [machine.calls(f"{tool} ran") != [] for tool in ("ruff", "lint-imports")] == [True, True]
    (tests,) = machine.calls("-m pytest")
    assert tests.endswith("-k one word")
    assert machine.calls("requirements-dev.lock")


def test_a_test_set_up_also_serves_the_program(machine: Machine) -> None:
    assert machine.run("test").returncode == 0
    machine.calls_file.unlink()
    machine.run("demo")
    assert machine.calls() == ["turnspit ran"]


@pytest.mark.parametrize("script", ["turnspit", ".ci/run"])
def test_shellcheck_has_nothing_to_say(script: str) -> None:
    checker = Path(sys.executable).with_name("shellcheck")
    checked = subprocess.run(
        [checker, script], cwd=ROOT, text=True, capture_output=True, check=False
    )
    assert (checked.returncode, checked.stdout) == (0, "")


def test_the_scripts_can_be_run_as_they_are() -> None:
    assert all(os.access(ROOT / script, os.X_OK) for script in ("turnspit", ".ci/run"))
