"""A set of photographs of the lit table: judged, kept with what was typed, fitted, used."""

from __future__ import annotations

import asyncio
import json
import math
from pathlib import Path

import numpy as np
import pytest

from calibration.photographs.pattern import Pattern
from jobs.model.choices import Unit
from projector.demo.practice import practice
from projector.demo.virtual_camera import LitTable, Taking, VirtualCamera, from_around, jpeg_bytes
from projector.demo.virtual_projector import Hung, projector_over
from projector.files.table_file import read_stored
from projector.light.pattern import pattern_frame
from projector.page.server import lit_photographs
from projector.page.server.lit_photographs import LitPhotographs, kept_tables
from projector.page.work.taking import Held, taken

SIZE = (640, 480)
LIT = projector_over(72, 54, Hung(tilt_deg=8), size_px=SIZE)
LIKE = VirtualCamera((0.0, 0.0, 70.0), (36.0, 27.0), 750.0, 1000, 750, k1=0.03)


@pytest.fixture(scope="module")
def photos() -> list[bytes]:
    table = LitTable(LIT, pattern_frame(Pattern(*SIZE)), None, (72, 54))
    cameras = from_around((72, 54), LIKE, 4, np.random.default_rng(2))
    return [jpeg_bytes(one, table, Taking(blur_px=0.5, noise=3.0, seed=at)) for at, one in enumerate(cameras)]


def begun(folder: Path) -> LitPhotographs:
    found = LitPhotographs(folder / "state", folder / "table.yaml", lambda: None)
    found.light(SIZE, Unit.INCH)
    return found


async def settled(found: LitPhotographs) -> None:
    while found.is_fitting:
        await asyncio.wait({found._fitting})  # type: ignore[arg-type]


def test_a_set_is_judged_kept_taken_up_again_and_used(tmp_path: Path, photos: list[bytes]) -> None:
    first, second = LIT.to_table(Pattern(*SIZE).crosses_px).tolist()

    async def evening() -> None:
        found = begun(tmp_path)
        assert (await found.bring(b"no picture"))["bad"]
        for photo in photos[:3]:
            assert not (await found.bring(photo))["bad"]
        # The one that shows nothing made way.
        assert [one.sighting is None for one in found.shots] == [False] * 3
        found.type(0, "about so long")
        assert "not a length" in found.wrong(0)

    async def morning() -> None:
        found = begun(tmp_path)
        assert found.typed == ["about so long", ""]
        assert kept_tables(tmp_path / "state") == [tmp_path / "table.yaml"]
        found.begin()
        await found.bring(photos[3])
        assert found.use() == "The calibration is not ready yet."
        found.type(0, f"{math.dist(first, second):.3f}")
        await settled(found)
        assert found.made is not None
        assert "<svg" in found.made.svg
        assert all(found.over(one.name).is_file() for one in found.shots)
        assert found.use() == ""
        assert found.shots == []

    async def next_year() -> None:
        found = begun(tmp_path)
        for photo in photos:
            await found.bring(photo)
        found.type(0, f"{math.dist(first, second) + 3:.3f}")
        await settled(found)
        (doubt,) = [words for _, words in found.fit["doubts"] if "calibrated last" in words]
        assert "lay the tape once more" in doubt
        found.clear()

    asyncio.run(evening())
    asyncio.run(morning())
    asyncio.run(next_year())
    table = read_stored(tmp_path / "table.yaml").table
    assert table.photographed is not None
    assert table.photographed.photographs == 4
    assert kept_tables(tmp_path / "state") == []


def test_whether_anything_has_moved_is_asked_only_where_there_is_something_to_compare(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[tuple[str, ...]] = []

    async def told(*words: str) -> object:
        asked.append(words)
        if words[0] == "table":
            Path(words[words.index("--picture") + 1]).write_text("<svg/>", encoding="utf-8")
            return lit_photographs.Outcome(0, "It has moved.\nWrote it\n", "")
        return lit_photographs.Outcome(0, json.dumps({"seen": 9, "of": 9, "look": [], "sighting": {}}), "")

    monkeypatch.setattr(lit_photographs, "run_bounded", told)

    async def work() -> None:
        found = begun(tmp_path)
        await found.bring(b"one")
        (name,) = [one.name for one in found.shots]
        await found.compare(name)
        assert not found.can_compare
        assert found.moved is None
        (tmp_path / "table.yaml").write_text("", encoding="utf-8")
        (tmp_path / "table.lit.jpg").write_bytes(b"then")
        await found.compare("another")
        assert found.moved is None
        await found.compare(name)
        assert found.moved is not None
        assert (found.moved.said, found.moved.svg) == ("It has moved.", "<svg/>")
        assert str(tmp_path / "table.lit.jpg") in asked[-1]
        found.drop(name)
        assert found.moved is None
        found.clear()

    asyncio.run(work())


def test_a_knocked_projector_lights_elsewhere() -> None:
    hung, hit = practice(), practice(knocked=True)
    apart = hung.projector.to_table([(960.0, 540.0)]) - hit.projector.to_table([(960.0, 540.0)])
    assert 0.4 < float(np.linalg.norm(apart)) < 0.8


def test_photographs_of_another_frame_are_not_mixed_with_those_of_this_one(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    async def told(*words: str) -> object:
        said = {"seen": 9, "of": 9, "look": [], "sighting": {}} if words[0] == "judge" else {}
        return lit_photographs.Outcome(0, json.dumps(said), "")

    monkeypatch.setattr(lit_photographs, "run_bounded", told)

    async def work() -> None:
        found = begun(tmp_path)
        await found.bring(b"one")
        found.light(SIZE, Unit.CENTIMETRE)
        assert len(found.shots) == 1
        found.light((800, 600), Unit.CENTIMETRE)
        assert found.shots == []

    asyncio.run(work())


def test_no_photograph_beyond_a_dozen_is_kept(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    async def told(*words: str) -> object:
        return lit_photographs.Outcome(0, json.dumps({"seen": 9, "of": 9, "look": [], "sighting": {}}), "")

    monkeypatch.setattr(lit_photographs, "run_bounded", told)

    async def work() -> None:
        found = begun(tmp_path)
        for _ in range(lit_photographs.MOST):
            assert not (await found.bring(b"one"))["bad"]
        assert (await found.bring(b"one"))["bad"]
        found.drop(found.shots[0].name)
        assert not (await found.bring(b"one"))["bad"]

    asyncio.run(work())


def test_the_virtual_camera_sees_the_frame_that_is_lit(tmp_path: Path) -> None:
    from PIL import Image

    for name, level in (("dark", 0), ("light", 230)):
        Image.new("L", (1920, 1080), level).save(tmp_path / f"{name}.png")
        taken(tmp_path / f"{name}.png", tmp_path / f"{name}.jpg", Held(6, high=True, upright=False, number=1))
    # A camera exposes for what is bright: beside a lit table the floor is darker than beside a dark one.
    shares = []
    for name in ("dark", "light"):
        with Image.open(tmp_path / f"{name}.jpg") as picture:
            grey = np.asarray(picture.convert("L"), float)
        shares.append(grey[:20, :20].mean() / grey[580:620, 780:820].mean())
    assert shares[1] < shares[0] / 2
