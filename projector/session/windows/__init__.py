"""Windows on screens: the only room that knows pygame."""

import os
import sys

os.environ.setdefault("PYGAME_HIDE_SUPPORT_PROMPT", "1")
# SDL reads these at start. Without the first a scaled screen on Windows reports fewer pixels than it has; the second
# keeps the light up while the keyboard is with the page on the other screen.
os.environ.setdefault("SDL_WINDOWS_DPI_AWARENESS", "permonitorv2")
os.environ.setdefault("SDL_VIDEO_MINIMIZE_ON_FOCUS_LOSS", "0")
if sys.platform == "linux":
    # Where a login keeps its sockets, whether it is there or not: unset, or no whole path, SDL's search for a screen
    # would end in an error of a library that means nothing to a person. XDG Base Directory Specification; the place is
    # that of pam_systemd.
    if not os.environ.get("XDG_RUNTIME_DIR", "").startswith("/"):
        os.environ["XDG_RUNTIME_DIR"] = f"/run/user/{os.getuid()}"
