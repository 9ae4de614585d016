"""What the page keeps between two starts: unsaved work, the doubts agreed to, and the table used last."""

from __future__ import annotations

import contextlib
import json
import os
import re
import secrets
import sys
from dataclasses import asdict
from pathlib import Path

from jobs.journal.lock import AlreadyOpen, release_lock, take_lock
from jobs.model.records import dataclass
from projector.files.write import CannotWrite, make_folder, write_whole

LOCK = ".lock"
_NAME = re.compile(r"[a-z0-9]{4,40}")


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
    """Unsaved work: its text, the file it belongs to (none for a new job), what that file held, doubts agreed to."""

    text: str
    path: str | None = None
    saved: str | None = None
    agreed: tuple[str, ...] = ()


class Drafts:
    """Unsaved work on disk, a folder for each server with a file for each job; a server that lives holds a lock."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder / "drafts"
        self._own = self._folder / secrets.token_hex(6)
        self._lock: int | None = None

    def keep(self, job: str, draft: Draft) -> None:
        """Bring the draft of this job to the disk. Raises CannotWrite."""
        if self._lock is None:
            make_folder(self._own)
            with contextlib.suppress(AlreadyOpen, OSError):
                self._lock = take_lock(self._own / LOCK)
        write_whole(self._own / f"{job}.json", json.dumps(asdict(draft), ensure_ascii=False))

    def drop(self, job: str) -> None:
        """This job has nothing unsaved any more."""
        _remove(self._own / f"{job}.json")

    def close(self) -> None:
        """The server ends; what it kept stays where there is some."""
        if self._lock is not None:
            release_lock(self._lock)
            self._lock = None
        _remove_empty(self._own)

    def left(self) -> dict[str, Draft]:
        """Drafts of servers that are no more, the newest first, by the names of their jobs."""
        found: list[tuple[float, str, Draft]] = []
        with contextlib.suppress(OSError):
            for folder in self._folder.iterdir():
                if folder == self._own or not folder.is_dir() or _held(folder):
                    continue
                for path in folder.glob("*.json"):
                    draft = _read(path)
                    if draft is not None and _NAME.fullmatch(path.stem):
                        found.append((path.stat().st_mtime, path.stem, draft))
        return {job: draft for _, job, draft in sorted(found, key=lambda one: -one[0])}

    def take(self, job: str) -> None:
        """The draft is gone on with in this server, or not wanted any more."""
        with contextlib.suppress(OSError):
            for folder in self._folder.iterdir():
                if folder != self._own and folder.is_dir() and not _held(folder):
                    _remove(folder / f"{job}.json")
                    _remove_empty(folder)


def _held(folder: Path) -> bool:
    lock = folder / LOCK
    if not lock.exists():
        return False
    try:
        release_lock(take_lock(lock))
    except (AlreadyOpen, OSError):
        return True
    return False


def _remove(path: Path) -> None:
    with contextlib.suppress(OSError):
        path.unlink(missing_ok=True)


def _remove_empty(folder: Path) -> None:
    """Take the folder away where nothing but its lock is left in it."""
    with contextlib.suppress(OSError):
        if not list(folder.glob("*.json")):
            _remove(folder / LOCK)
            folder.rmdir()


def _read(path: Path) -> Draft | None:
    try:
        found = json.loads(path.read_text(encoding="utf-8"))
        draft = Draft(**{**found, "agreed": tuple(found.get("agreed", ()))})
    except (OSError, ValueError, TypeError, AttributeError):
        return None
    texts = (draft.path, draft.saved)
    whole = isinstance(draft.text, str) and all(one is None or isinstance(one, str) for one in texts)
    return draft if whole and all(isinstance(one, str) for one in draft.agreed) else None


class Settings:
    """Words remembered by name; a file that cannot be read counts as empty, one that cannot be written is let be."""

    def __init__(self, folder: Path) -> None:
        self._path = folder / "page.json"
        self._all: dict[str, str] = {}
        with contextlib.suppress(OSError, ValueError):
            read = json.loads(self._path.read_text(encoding="utf-8"))
            self._all = {k: v for k, v in read.items() if isinstance(v, str)} if isinstance(read, dict) else {}

    def text(self, name: str) -> str:
        """A word remembered under this name, empty where there is none."""
        return self._all.get(name, "")

    def remember(self, name: str, value: str) -> None:
        """Remember a word."""
        self._all[name] = value
        with contextlib.suppress(CannotWrite):
            make_folder(self._path.parent)
            write_whole(self._path, json.dumps(self._all, ensure_ascii=False))
