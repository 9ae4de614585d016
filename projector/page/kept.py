"""What the window keeps between two starts: unsaved work, the jobs opened lately, the size of its letters."""

from __future__ import annotations

import contextlib
import json
import os
import secrets
import sys
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any

from jobs.journal.lock import AlreadyOpen, release_lock, take_lock
from projector.files.write import CannotWrite, make_folder, write_whole

MOST_RECENT = 8


def state_folder() -> Path:
    """Where this system keeps the state of programs; ``LIGHTCHALK_STATE`` names another folder."""
    if named := os.environ.get("LIGHTCHALK_STATE"):
        return Path(named)
    if sys.platform == "win32":
        return Path(os.environ.get("LOCALAPPDATA") or Path.home() / "AppData" / "Local") / "lightchalk"
    if sys.platform == "darwin":
        return Path.home() / "Library" / "Application Support" / "lightchalk"
    return Path(os.environ.get("XDG_STATE_HOME") or Path.home() / ".local" / "state") / "lightchalk"


@dataclass(frozen=True)
class Draft:
    """Unsaved work: its text, the file it belongs to (none for a new job) and what that file held."""

    text: str
    path: str | None = None
    saved: str | None = None


class Drafts:
    """Unsaved work on disk, one file for each open window; a window that lives holds a lock on its own."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder / "drafts"
        self._own = self._folder / f"{secrets.token_hex(6)}.json"
        self._lock: int | None = None

    def keep(self, draft: Draft) -> None:
        """Bring the draft of this window to the disk. Raises CannotWrite."""
        make_folder(self._folder)
        if self._lock is None:
            with contextlib.suppress(AlreadyOpen, OSError):
                self._lock = take_lock(self._own.with_suffix(".lock"))
        write_whole(self._own, json.dumps(asdict(draft), ensure_ascii=False))

    def drop(self) -> None:
        """This window has nothing unsaved any more."""
        if self._lock is not None:
            release_lock(self._lock)
            self._lock = None
        _remove(self._own)

    def left(self) -> list[tuple[Path, Draft]]:
        """Drafts of windows that are no more, the newest first."""
        with contextlib.suppress(OSError):
            files = [path for path in self._folder.glob("*.json") if path != self._own and not _held(path)]
            files.sort(key=lambda path: -path.stat().st_mtime)
            return [(path, draft) for path in files if (draft := _read(path)) is not None]
        return []

    def take(self, path: Path) -> None:
        """The draft is gone on with in this window, or not wanted any more."""
        _remove(path)


def _held(path: Path) -> bool:
    lock = path.with_suffix(".lock")
    if not lock.exists():
        return False
    try:
        release_lock(take_lock(lock))
    except (AlreadyOpen, OSError):
        return True
    return False


def _remove(path: Path) -> None:
    for one in (path, path.with_suffix(".lock")):
        with contextlib.suppress(OSError):
            one.unlink(missing_ok=True)


def _read(path: Path) -> Draft | None:
    try:
        draft = Draft(**json.loads(path.read_text(encoding="utf-8")))
    except (OSError, ValueError, TypeError):
        return None
    whole = isinstance(draft.text, str) and all(
        one is None or isinstance(one, str) for one in (draft.path, draft.saved)
    )
    return draft if whole else None


class Settings:
    """Small things remembered; a file that cannot be read counts as empty, one that cannot be written is let be."""

    def __init__(self, folder: Path) -> None:
        self._path = folder / "window.json"
        self._all: dict[str, Any] = {}
        with contextlib.suppress(OSError, ValueError):
            read = json.loads(self._path.read_text(encoding="utf-8"))
            self._all = read if isinstance(read, dict) else {}

    @property
    def recent(self) -> list[Path]:
        """Job files opened or saved lately that are still there, the last one first."""
        found = self._all.get("recent")
        names = [name for name in found if isinstance(name, str)] if isinstance(found, list) else []
        return [Path(name) for name in names if Path(name).is_file()]

    def opened(self, path: Path) -> None:
        """This job was opened or saved."""
        here = str(path.resolve())
        others = [str(one) for one in self.recent if str(one) != here]
        self._keep("recent", [here, *others][:MOST_RECENT])

    def text(self, name: str) -> str:
        """A word remembered under this name, empty where there is none."""
        value = self._all.get(name)
        return value if isinstance(value, str) else ""

    def number(self, name: str, otherwise: int) -> int:
        """A number remembered under this name."""
        value = self._all.get(name)
        return value if isinstance(value, int) and not isinstance(value, bool) else otherwise

    def remember(self, name: str, value: str | int) -> None:
        """Remember a word or a number."""
        self._keep(name, value)

    def _keep(self, name: str, value: object) -> None:
        self._all[name] = value
        with contextlib.suppress(CannotWrite):
            make_folder(self._path.parent)
            write_whole(self._path, json.dumps(self._all, ensure_ascii=False))
