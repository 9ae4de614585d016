"""The first page is there soon: the server loads nothing that draws or searches, which its workers do."""

import subprocess
import sys
from pathlib import Path

from tests.projector.page.server.serving import served

HEAVY = ("numpy", "PIL", "scipy", "cv2", "pygame", "fpdf", "ezdxf", "fontTools", "jobs.packing", "jobs.planning")
SAID = "import sys, projector.page.server.serving; print(*sys.modules, sep='\\n')"


def test_the_server_loads_nothing_that_draws_or_searches():
    root = Path(__file__).parents[4]
    loaded = subprocess.run([sys.executable, "-c", SAID], cwd=root, capture_output=True, text=True, check=True)
    modules = loaded.stdout.split()
    assert "projector.page.server.app" in modules
    assert [one for one in HEAVY if one in modules] == []


def test_every_place_is_shown_where_no_light_is_on(tmp_path):
    (tmp_path / "jobs").mkdir()
    with served(tmp_path / "jobs", tmp_path / "state") as (client, _, _):
        assert [client.get(place).status_code for place in ("/", "/table", "/cut", "/table")] == [200] * 4
