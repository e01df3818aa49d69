"""The names that only POSIX systems have, and this program run as if they were not there.

Windows cannot be had here. What can: every module of the program, in this process and in
its children, finds no POSIX-only module and no POSIX-only name in `os`, `signal`, `time`.
The standard library keeps its own.
"""

import importlib.abc
import importlib.machinery
import importlib.util
import os
import signal
import sys
import time
import types
from collections.abc import Sequence
from pathlib import Path


def _names(text: str) -> frozenset[str]:
    return frozenset(text.split())


MODULES = _names(
    """
        fcntl termios tty pty pwd grp resource syslog posix readline curses crypt spwd nis
        """
)
NAMES = {
    "os": _names(
        """
        fork forkpty getuid geteuid getgid getegid getpgid getpgrp setsid setuid setgid killpg
        WNOHANG WIFEXITED WEXITSTATUS WIFSIGNALED wait3 wait4 waitid chown lchown fchown fchmod
        mkfifo mknod nice getloadavg sched_getaffinity sched_setaffinity sched_yield uname
        statvfs fstatvfs pathconf sysconf ttyname openpty O_DIRECTORY O_NONBLOCK O_CLOEXEC
        O_SYNC O_DSYNC O_NOFOLLOW O_NOCTTY set_blocking get_blocking pipe2 posix_fadvise
        posix_spawn sendfile register_at_fork initgroups fdatasync sync pread pwrite readv
        writev ctermid confstr chroot lockf setpgid tcgetpgrp getgroups
        """
    ),
    "signal": _names(
        """
        SIGHUP SIGQUIT SIGKILL SIGUSR1 SIGUSR2 SIGPIPE SIGALRM SIGCHLD SIGCONT SIGSTOP SIGTSTP
        SIGTTIN SIGTTOU SIGWINCH SIGBUS pthread_kill pthread_sigmask setitimer alarm pause
        sigwait siginterrupt sigpending
        """
    ),
    "time": _names(
        """
        clock_gettime clock_gettime_ns clock_settime clock_getres tzset CLOCK_BOOTTIME
        CLOCK_MONOTONIC CLOCK_MONOTONIC_RAW CLOCK_REALTIME CLOCK_PROCESS_CPUTIME_ID
        CLOCK_THREAD_CPUTIME_ID CLOCK_UPTIME_RAW
        """
    ),
}
"""What the documentation of CPython 3.11 marks "Availability: Unix", as far as it is common."""


class _Without(types.ModuleType):
    """A module that lacks some names, as on a system that has not got them."""

    def __init__(self, real: types.ModuleType, lacking: frozenset[str]) -> None:
        super().__init__(real.__name__)
        self._real, self._lacking = real, lacking

    def __getattr__(self, name: str) -> object:
        if name in self._lacking:
            raise AttributeError(f"module {self.__name__!r} has no attribute {name!r} elsewhere")
        return getattr(self._real, name)


_REAL = {"os": os, "signal": signal, "time": time}
_LACKING = {name: _Without(module, NAMES[name]) for name, module in _REAL.items()}


class _Loader(importlib.abc.Loader):
    """Runs a module of the program, then takes the names away from it."""

    def __init__(self, real: importlib.abc.Loader) -> None:
        self._real = real

    def create_module(self, spec: importlib.machinery.ModuleSpec) -> types.ModuleType | None:
        return self._real.create_module(spec)

    def exec_module(self, module: types.ModuleType) -> None:
        self._real.exec_module(module)
        for name, without in _LACKING.items():
            if getattr(module, name, None) is _REAL[name]:
                setattr(module, name, without)

    def __getattr__(self, name: str) -> object:
        return getattr(self._real, name)


class _Finder(importlib.abc.MetaPathFinder):
    def find_spec(
        self, name: str, path: Sequence[str] | None, target: types.ModuleType | None = None
    ) -> importlib.machinery.ModuleSpec | None:
        if name.partition(".")[0] != "assistant":
            return None
        spec = importlib.machinery.PathFinder.find_spec(name, path, target)
        if spec is not None and spec.loader is not None:
            spec.loader = _Loader(spec.loader)
        return spec


def install() -> None:
    """Take the names away from every module of the program that is imported from now on."""
    sys.meta_path.insert(0, _Finder())


def environment(folder: Path) -> dict[str, str]:
    """The environment in which children, too, start without the names."""
    (folder / "sitecustomize.py").write_text(
        "from tests.system import elsewhere\nelsewhere.install()\n", encoding="utf-8"
    )
    root = Path(__file__).parents[2]
    return {**os.environ, "PYTHONPATH": os.pathsep.join((str(folder), str(root)))}
