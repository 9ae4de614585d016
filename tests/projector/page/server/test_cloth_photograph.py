"""The photograph of the cloth on the place Cut: brought, looked at, told to the light, forgotten when that goes on."""

from __future__ import annotations

import asyncio
import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from starlette.applications import Starlette
from starlette.routing import Route
from starlette.testclient import TestClient

from projector.page.server import cloth_photograph
from projector.page.server.cloth_photograph import ClothPhotograph
from projector.page.work.commands import Outcome

LAY = {"stop": 3, "job": "a job", "carried": {"lattice": {"along_in": 12.0}}, "on_white": True}


class Light:
    """The light as the photograph knows it."""

    def __init__(self) -> None:
        self.about: dict[str, Any] | None = {"simulated": False, "as_it_lies": False}
        self.state: dict[str, Any] = {"page": "pattern", "lay": LAY, "dark": False}
        self.asked: list[str] = []
        self.shown: list[dict[str, str]] = []
        self.beside: Any = None

    def show(self) -> None:
        self.shown.append(self.beside.parts(self.about, self.state))

    def ask(self, action: str) -> None:
        self.asked.append(action)

    async def frame(self) -> bytes:
        return b"a frame"


class Worker:
    """What looks at the photograph: answers what it is told to, and keeps what it was asked."""

    def __init__(self) -> None:
        self.answers: list[Any] = []
        self.asked: list[tuple[str, Any]] = []

    async def __call__(self, what: str, *words: str) -> Outcome:
        file = next(Path(word) for word in words if word.endswith("asked.json"))
        self.asked.append((what, json.loads(file.read_text())))
        answer = self.answers.pop(0)
        for path in [self.asked[-1][1].get("small")] if what == "lay" else [words[-1]]:
            Path(path).write_bytes(b"picture")
        return Outcome(0, json.dumps(answer), "") if answer is not None else Outcome(1, "", "died")


@pytest.fixture
def light() -> Light:
    return Light()


@pytest.fixture
def worker(monkeypatch: pytest.MonkeyPatch) -> Worker:
    made = Worker()
    monkeypatch.setattr(cloth_photograph, "run_bounded", made)
    return made


@pytest.fixture
def place(light: Light, worker: Worker, tmp_path: Path) -> Iterator[ClothPhotograph]:
    made = ClothPhotograph(tmp_path, light)  # type: ignore[arg-type]
    yield made
    made.close()


@pytest.fixture
def client(place: ClothPhotograph) -> TestClient:
    routes = [Route("/bring", place.bring, methods=["POST"]), Route("/seen.jpg", place.picture)]
    return TestClient(Starlette(routes=routes))


def test_what_is_found_goes_to_the_light_and_stays_beside_what_it_says(client, light, worker, place) -> None:
    worker.answers = [{"record": "{}", "says": ["143 places of the print were seen."]}]
    assert client.get("/seen.jpg").status_code == 404
    said = client.post("/bring", content=b"photo").json()
    assert said == {"say": "The print was found."}
    assert light.asked == ["lies 3 row-open {}"]
    assert worker.asked[0][1]["lay"] == LAY
    assert "The print is looked for" in light.shown[0]["photographs"]
    assert client.get("/seen.jpg").content == b"picture"
    light.state = {"page": "registration"}
    parts = place.parts(light.about, light.state)
    assert parts["photographs"] == ""
    assert "143 places" in parts["shots"]
    light.state = {"page": "stop"}
    assert place.parts(light.about, light.state) == {"photographs": "", "shots": ""}
    assert client.get("/seen.jpg").status_code == 404


def test_what_is_wrong_is_said_and_nothing_goes_to_the_light(client, light, worker) -> None:
    worker.answers = [{"wrong": ["This is another print than the job's."]}, None]
    said = client.post("/bring", content=b"photo").json()
    assert said == {"say": "This is another print than the job's.", "bad": True}
    assert light.asked == []
    assert "another print" in light.shown[-1]["photographs"]
    assert "went wrong" in client.post("/bring", content=b"photo").json()["say"]


def test_where_the_job_has_no_picture_one_motif_is_tapped(light, worker, place) -> None:
    worker.answers = [{"wants_point": True, "wrong": []}, {"record": "{}"}]

    async def tapped() -> None:
        await place._looked_at(None)
        assert "Tap one motif" in place.parts(light.about, light.state)["photographs"]
        assert "data-point" in place.parts(light.about, light.state)["shots"]
        for nonsense in (None, "a", -1, 2):
            place.take({"do": "point", "x": nonsense, "y": 0.5})
        assert not place._tasks
        place.take({"do": "point", "x": 0.25, "y": 0.5})
        await asyncio.gather(*place._tasks)

    asyncio.run(tapped())
    assert worker.asked[1][1]["point"] == [0.25, 0.5]
    assert light.asked == ["lies 3 row-open {}"]


@pytest.mark.parametrize(
    ("pages", "kept"),
    [
        ((("registration", False), ("stop", True)), True),
        ((("registration", False), ("help", False), ("registration", False), ("orientation", True)), True),
        ((("registration", False), ("pattern", False)), False),
        ((("registration", False), ("marking", False), ("stop", True)), False),
        ((("registration", False), ("stop", False)), False),
    ],
)
def test_what_lies_about_a_tapped_motif_is_kept_once_the_cloth_is_laid_by_it(light, worker, place, pages, kept) -> None:
    worker.answers = [{"wants_point": True, "wrong": []}, {"record": "{}"}]

    async def tapped() -> None:
        await place._looked_at(None)
        Path(worker.asked[0][1]["tapped"]).write_bytes(b"a repeat")
        await place._looked_at([0.5, 0.5])

    asyncio.run(tapped())
    tile = Path(worker.asked[0][1]["tile"])
    for page, laid in pages:
        assert not tile.exists()
        light.state = {"page": page, "stop": {"laid": laid}, "job": light.state.get("job")}
        place.parts(light.about, light.state)
    assert (tile.exists() and tile.read_bytes() == b"a repeat") == kept


def test_the_simulated_cloth_is_photographed_by_a_click(light, worker, place) -> None:
    async def clicked() -> None:
        place.take({"do": "shoot"})
        await asyncio.gather(*place._tasks)

    worker.answers = [{}, {"record": "{}", "row_open": False}]
    asyncio.run(clicked())
    assert worker.asked == [], "a real cloth has no virtual camera"
    light.about = {"simulated": True, "as_it_lies": True}
    assert "Photograph the simulated table" in place.parts(light.about, light.state)["photographs"]
    asyncio.run(clicked())
    assert [what for what, _ in worker.asked] == ["cloth", "lay"]
    assert worker.asked[0][1] == {"lay": LAY, "as_it_lies": True, "number": 0}
    assert light.asked == ["lies 3 row-seen {}"]


def test_what_a_panel_laid_back_says_is_shown_and_told_to_the_light(client, light, worker, place) -> None:
    worker.answers = [{"mated": True, "says": ["They miss."], "moves": [["bay-right", -4], ["bay-left-2", 0]]}]
    answer = client.post("/bring", content=b"photo")
    assert answer.json() == {"say": "The cuts of the panel were found."}
    assert light.asked == ["match 3 bay-right=-4 bay-left-2=0"]
    shown = place.parts(light.about, light.state)["shots"]
    assert "They miss." in shown
    assert "the cuts of the panel and its seams" in shown


def test_a_photograph_that_nobody_asked_for_is_refused(client, light, worker, place) -> None:
    light.state = {"page": "stop"}
    answer = client.post("/bring", content=b"photo")
    assert (answer.status_code, answer.json()["bad"]) == (409, True)
    assert place.take({"do": "shoot"}) == cloth_photograph.NOT_LIT
    assert place.take({"do": "press"}) is None
    light.about = None
    assert place.parts(None, {})["photographs"] == ""


def test_more_bytes_than_a_photograph_has_are_not_taken(client, worker, monkeypatch) -> None:
    monkeypatch.setattr(cloth_photograph, "MOST_BYTES", 3)
    assert client.post("/bring", content=b"photo").status_code == 413
