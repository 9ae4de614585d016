import json
import zlib

import numpy as np
import pytest
from PIL import Image

from jobs.io.reader import parse_job
from projector.page.form.blank import examples
from projector.page.work import commands
from tests.projector.page.server.serving import ORIGIN, served

PER_IN = 40.0


def cloth(path) -> bytes:
    """A print of 7 1/4 by 4 3/8 in: 290 by 175 pixels at 40 to the inch, mirrored both ways."""
    y, x = np.mgrid[:900, :1800]
    waves = 90 + 60 * np.sin(2 * np.pi * x / 290) * np.cos(2 * np.pi * y / 175) + 30 * np.sin(2 * np.pi * y / 175)
    Image.fromarray(np.repeat(waves.astype(np.uint8)[..., None], 3, 2)).save(path, quality=92)
    return path.read_bytes()


@pytest.fixture
def at(tmp_path):
    (tmp_path / "jobs").mkdir()
    (tmp_path / "jobs" / "mill.yaml").write_text(examples()["Mill-race reading room"])
    with served(tmp_path / "jobs", tmp_path / "state") as (client, _, workshop):
        where = client.get("/open/mill.yaml").headers["location"]
        (topic,) = workshop.jobs.values()
        yield client, where, topic


def post(client, where: str, body: object) -> dict:
    content = body if isinstance(body, bytes) else json.dumps(body).encode()
    return client.post(where, content=content, headers=ORIGIN).json()


def test_a_photograph_is_measured_seen_and_put_into_the_job(at, tmp_path):
    client, where, topic = at
    shown = post(client, f"{where}/photo?name=cloth.jpg", cloth(tmp_path / "cloth.jpg"))
    assert "shown.jpg" in shown["html"]
    picture = client.get(f"{where}/photo/shown.jpg")
    assert picture.headers["content-type"] == "image/jpeg"
    # The photograph is 1800 pixels wide and shown at most 1600 wide: places are told in shown pixels, and 1440 of these
    # are 1620 of the photograph, 40 1/2 in.
    asked = {"way": "ruler", "places": [[100, 200], [1540, 200]], "typed": ["40 1/2"]}
    found = post(client, f"{where}/measure", asked)
    assert "What was found" in found["html"]
    (answer,) = topic.photograph.found.answers
    assert answer.label == "Repeat along 4 3/8, across 7 1/4 in, straight"
    for name in ("seen.jpg", "tile.png"):
        assert client.get(f"{where}/photo/{name}").status_code == 200
    assert post(client, f"{where}/take", {"answer": 0, "picture": True})["go"] == f"{where}#s-print"
    job = parse_job(topic.job.document.text, "job")
    assert float(job.cloth.repeat.along) == pytest.approx(4.375, rel=0.01)
    assert (tmp_path / "jobs" / job.cloth.picture).is_file()
    topic.job.take("a", {"do": "undo"})
    assert topic.job.document.text == examples()["Mill-race reading room"]


@pytest.mark.parametrize("name", ["..%2fphoto", "photo", "sheet.png", "%2fetc%2fpasswd", "shown.jpg%00"])
def test_no_other_file_of_the_folder_is_shown(at, tmp_path, name):
    client, where, _ = at
    post(client, f"{where}/photo?name=x.jpg", cloth(tmp_path / "cloth.jpg"))
    assert client.get(f"{where}/photo/{name}").status_code == 404


def bomb(side: int) -> bytes:
    """A PNG of some kilobytes that claims so many pixels on each side, all black."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        return len(data).to_bytes(4, "big") + kind + data + zlib.crc32(kind + data).to_bytes(4, "big")

    head = side.to_bytes(4, "big") * 2 + bytes([8, 0, 0, 0, 0])
    rows = zlib.compressobj(9)
    body = b"".join(rows.compress(bytes(side + 1)) for _ in range(200)) + rows.flush()
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", body) + chunk(b"IEND", b"")


@pytest.mark.parametrize("data", [bomb(200_000), bomb(12_000), b"", b"GIF89a", b"<svg onload='x'/>", b"\x00" * 1000])
def test_a_bomb_and_what_is_no_picture_are_refused_in_words(at, data):
    client, where, topic = at
    said = post(client, f"{where}/photo?name=x.png", data)
    assert said["wrong"]
    assert not topic.photograph.is_there
    assert client.get(f"{where}/photo/shown.jpg").status_code == 404


def test_more_bytes_than_a_photograph_has_are_not_taken(at, monkeypatch):
    from projector.page.server.answers import prints

    monkeypatch.setattr(prints, "MOST_BYTES", 1000)
    client, where, topic = at
    answer = client.post(f"{where}/photo", content=b"x" * 1001, headers=ORIGIN)
    assert answer.status_code == 413

    def endless():
        for _ in range(1001):
            yield b"x" * 10

    assert client.post(f"{where}/photo", content=endless(), headers=ORIGIN).status_code == 413
    assert topic.photograph is None


def test_a_picture_that_wants_more_memory_than_there_is_for_it_harms_nobody(monkeypatch, capsys):
    from projector.page.work import bounded

    def hungry(photo, out):
        raise MemoryError

    monkeypatch.setattr(bounded, "MOST_BYTES", -1)
    monkeypatch.setattr(bounded, "preview", hungry)
    with pytest.raises(SystemExit) as ended:
        bounded.main(["preview", "a", "b"])
    assert ended.value.code == 1
    assert "too large" in capsys.readouterr().err


@pytest.mark.parametrize(
    "asked",
    [{}, {"way": "ruler", "places": "x", "typed": []}, {"way": "x", "places": [], "typed": []},
     {"way": "ruler", "places": [["a", 1]], "typed": ["1"]}, {"way": "ruler", "places": [[1, 2]], "typed": ["1"]},
     {"way": "ruler", "places": [[1, 2], [3, 4]], "typed": ["x; rm -rf"]}],
)  # fmt: skip
def test_what_cannot_be_measured_says_what_to_do(at, tmp_path, asked):
    client, where, _ = at
    post(client, f"{where}/photo?name=x.jpg", cloth(tmp_path / "cloth.jpg"))
    assert post(client, f"{where}/measure", asked)["wrong"]


def test_a_command_that_hangs_is_ended(monkeypatch):
    import asyncio

    monkeypatch.setattr(commands, "PATIENCE_S", 0.01)
    ran = asyncio.run(commands.run_command("order", "-"))
    assert not ran.well
    assert "took too long" in ran.err
