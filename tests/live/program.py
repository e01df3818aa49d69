"""`turnspit cook` as a child on the virtual card: what it prints and when, what it costs."""

import json
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import suppress
from pathlib import Path
from typing import IO, Any

import psutil

from tests.live.sound_server import SoundServer


class Program:
    """`turnspit cook` on the virtual card, its lines collected with their times."""

    def __init__(self, server: SoundServer, *options: str) -> None:
        self.folder = tempfile.TemporaryDirectory(prefix="ts-cook-")
        environment = {
            **server.environment,
            "XDG_DATA_HOME": f"{self.folder.name}/data",
            "XDG_CONFIG_HOME": f"{self.folder.name}/config",
        }
        root = Path(__file__).parents[2]
        self.process = subprocess.Popen(
            [sys.executable, "-m", "assistant", "cook", "--json", "--birds", "3", *options],
            cwd=root, env=environment, text=True,
            stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.PIPE,
        )  # fmt: skip
        self.lines: list[tuple[float, dict[str, object]]] = []
        self.errors: list[tuple[float, str]] = []
        takers = ((self.process.stdout, self._line), (self.process.stderr, self._error))
        self._readers = [
            threading.Thread(target=self._read, args=pair, daemon=True) for pair in takers
        ]
        for reader in self._readers:
            reader.start()

    def _read(self, stream: IO[str] | None, take: Callable[[float, str], None]) -> None:
        assert stream is not None
        for text in stream:
            take(time.monotonic(), text)

    def _line(self, at_s: float, text: str) -> None:
        self.lines.append((at_s, json.loads(text)))

    def _error(self, at_s: float, text: str) -> None:
        self.errors.append((at_s, text.rstrip()))

    def of_kind(self, kind: str, after_s: float = 0.0) -> list[tuple[float, dict[str, object]]]:
        """Lines of one kind after a time."""
        return [
            (at_s, one) for at_s, one in list(self.lines) if one["kind"] == kind and at_s >= after_s
        ]

    def family(self) -> list[psutil.Process]:
        """The program and its children, without those that just ended."""
        parent = psutil.Process(self.process.pid)
        known = [parent, *parent.children(recursive=True)]
        return [one for one in known if one.status() != psutil.STATUS_ZOMBIE]

    def cpu_s(self) -> float:
        """Processor seconds used by all of them so far."""
        return sum(one.user + one.system for one in self._of_all(psutil.Process.cpu_times))

    def memory_mb(self) -> float:
        """Memory of all of them, shared pages counted once."""
        return sum(one.pss for one in self._of_all(psutil.Process.memory_full_info)) / 1e6

    def _of_all(self, ask: Callable[[psutil.Process], Any]) -> Iterator[Any]:
        with suppress(psutil.NoSuchProcess):  # the program ended
            for one in self.family():
                with suppress(psutil.NoSuchProcess):  # a child ended while we looked
                    yield ask(one)

    def end(self) -> int:
        """End the cook as a person would; its exit status."""
        if self.process.poll() is None and self.process.stdin is not None:
            self.process.stdin.write("end cook\nyes\n")
            self.process.stdin.flush()
        try:
            return self.process.wait(timeout=25)
        finally:
            self.process.kill()
            for reader in self._readers:
                reader.join(timeout=3)
            for stream in (self.process.stdin, self.process.stdout, self.process.stderr):
                if stream is not None:
                    with suppress(OSError):
                        stream.close()
            self.process.wait()
            self.folder.cleanup()
