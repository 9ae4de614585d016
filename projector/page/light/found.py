"""The lights that are on, found by what each says of itself."""

from __future__ import annotations

import contextlib
import json
import socket
from pathlib import Path
from typing import Any

LIGHTS = "lights"
"""The folder in that of the program's state where each light says where it listens."""
Json = dict[str, Any]


def lights(folder: Path) -> list[Json]:
    """The lights that are on, the newest first: what each told of itself; files of those that are no more go."""
    found: list[tuple[float, Json]] = []
    with contextlib.suppress(OSError):
        for path in (folder / LIGHTS).glob("*.json"):
            with contextlib.suppress(OSError, ValueError, KeyError, TypeError):
                about = json.loads(path.read_text(encoding="utf-8"))
                if _answers(int(about["port"])):
                    found.append((path.stat().st_mtime, about))
                else:
                    path.unlink(missing_ok=True)
    return [about for _, about in sorted(found, key=lambda one: -one[0])]


def _answers(port: int) -> bool:
    with contextlib.suppress(OSError), socket.create_connection(("127.0.0.1", port), 0.5):
        return True
    return False
