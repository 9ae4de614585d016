"""Windows on screens: the only room that knows pygame."""

import os

os.environ.setdefault("PYGAME_HIDE_SUPPORT_PROMPT", "1")
# SDL reads these at start. Without the first a scaled screen on Windows reports fewer pixels than it has; the second
# keeps the light up while the keyboard is with the page on the other screen.
os.environ.setdefault("SDL_WINDOWS_DPI_AWARENESS", "permonitorv2")
os.environ.setdefault("SDL_VIDEO_MINIMIZE_ON_FOCUS_LOSS", "0")
