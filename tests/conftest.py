"""What holds for every test: no window on the person's screen, and nothing that may turn out otherwise next time."""

from __future__ import annotations

import os

import pytest
from hypothesis import HealthCheck, settings

SCREENS = ("DISPLAY", "WAYLAND_DISPLAY", "WAYLAND_SOCKET", "XAUTHORITY")
"""How programs find the person's screen. Taken away here, before anything is imported that may look for one, and so
from every program that a test starts; a test that needs a window starts a virtual screen of its own."""

for name in SCREENS:
    os.environ.pop(name, None)
os.environ.update(SDL_VIDEODRIVER="dummy", SDL_AUDIODRIVER="dummy", BROWSER="true %s")
"""Windows open nowhere, nothing is heard, and a page asked for in a browser is opened by one that does nothing."""


os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
"""Each worker has a processor of its own: threads of one only take time from the others."""


@pytest.fixture(autouse=True, scope="session")
def state_of_the_tests(tmp_path_factory: pytest.TempPathFactory) -> None:
    """What the program keeps of a person is kept elsewhere while it is tested."""
    os.environ["LIGHTCHALK_STATE"] = str(tmp_path_factory.mktemp("state"))


UNTIMED = {"deadline": None, "suppress_health_check": (HealthCheck.too_slow,), "print_blob": True}
"""A busy machine makes no property false: nothing is held against the clock."""

settings.register_profile("steady", derandomize=True, **UNTIMED)
settings.register_profile("random", derandomize=False, **UNTIMED)
settings.load_profile("steady")
