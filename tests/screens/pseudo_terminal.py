"""The round on a pseudo-terminal: what is typed goes in as bytes, and every byte it writes can be read."""

import fcntl
import os
import pty
import select
import signal
import struct
import sys
import termios
import time
from pathlib import Path

import mustwatch

PATIENCE = 40.0  # seconds; a busy machine is no failure


def environment(tmp_path, **more) -> dict[str, str]:
    """A plain terminal's environment with a state of its own."""
    kept = {name: os.environ[name] for name in ("PATH", "HOME") if name in os.environ}
    kept["PYTHONPATH"] = str(Path(mustwatch.__file__).parents[1])
    own = {f"XDG_{name}_HOME": str(tmp_path / name.lower()) for name in ("STATE", "CACHE", "DATA")}
    return {**kept, **own, "TERM": "xterm-256color", "LANG": "C.UTF-8", "LC_ALL": "C.UTF-8", **more}


class Terminal:
    """The round on a pseudo-terminal of 80x24."""

    def __init__(
        self, cellar: Path, environ: dict[str, str], size: tuple[int, int] = (24, 80), before: str = ""
    ) -> None:
        """before: Python that is run in the process before the program."""
        self.written = b""
        words = ["-c", f"{before}\nimport sys; from mustwatch.__main__ import main; sys.exit(main())"]
        self.pid, self.master = pty.fork()
        if self.pid == 0:
            words = words if before else ["-m", "mustwatch"]
            os.execve(sys.executable, [sys.executable, *words, "--cellar", str(cellar)], environ)
        fcntl.ioctl(self.master, termios.TIOCSWINSZ, struct.pack("HHHH", *size, 0, 0))

    def read_for(self, seconds: float, until: bytes | None = None) -> bytes:
        """What is written within so many seconds, or until it holds something."""
        got, end = b"", time.monotonic() + seconds
        while time.monotonic() < end and not (until and until in self.written):
            if select.select([self.master], [], [], 0.05)[0]:
                try:
                    part = os.read(self.master, 65536)
                except OSError:
                    break
                got += part
                self.written += part
        return got

    def settle(self) -> None:
        """Waits until all is drawn and nothing has been written for two seconds."""
        self.read_for(PATIENCE, b"all keys")
        assert b"all keys" in self.written, f"the round never came; last written: {self.written[-800:]!r}"
        end = time.monotonic() + PATIENCE
        while self.read_for(2.0) and time.monotonic() < end:
            pass

    def type(self, text: str) -> None:
        """Sends keys, a little apart as fingers do."""
        for char in text:
            os.write(self.master, char.encode())
            self.read_for(0.15)

    def send(self, data: bytes, seconds: float = 0.3) -> None:
        """Sends bytes as they are, in one piece, and reads on for a while."""
        os.write(self.master, data)
        self.read_for(seconds)

    def until(self, words: bytes) -> None:
        """Waits for what is to be drawn, unless it already was."""
        self.read_for(PATIENCE, words)
        assert words in self.written, f"{words!r} never came; last written: {self.written[-800:]!r}"

    def waiting(self) -> int | None:
        """The exit status if the process has ended."""
        pid, status = os.waitpid(self.pid, os.WNOHANG)
        return os.waitstatus_to_exitcode(status) if pid else None

    def ended(self) -> int | None:
        """The exit status once the process has ended, else None; reads on meanwhile."""
        end = time.monotonic() + PATIENCE
        while time.monotonic() < end:
            pid, status = os.waitpid(self.pid, os.WNOHANG)
            if pid:
                return os.waitstatus_to_exitcode(status)
            self.read_for(0.1)
        return None

    def close(self) -> None:
        """Ends what is left."""
        try:
            os.kill(self.pid, signal.SIGKILL)
            os.waitpid(self.pid, 0)
        except (ProcessLookupError, ChildProcessError):
            pass
