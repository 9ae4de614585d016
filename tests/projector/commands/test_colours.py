"""``lightchalk colours``: the choice with its numbers, from a job or a photograph."""

import json
import re
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from projector.light.appearance import Illumination
from projector.light.choosing import contrasts, ranked_choices, share_of
from projector.light.styles import CUTS, WHITE
from tests.projector.commands.running import READING_ROOM, run

FERRY_LANE = READING_ROOM.with_name("ferry_lane.yaml")
DOCUMENT = (Path(__file__).parents[3] / "docs" / "at-the-table.md").read_text(encoding="utf-8")


@pytest.fixture
def photo(tmp_path: Path) -> Path:
    picture = np.full((120, 160, 3), (216, 200, 150), np.uint8)
    picture[:, 100:] = (40, 60, 90)
    Image.fromarray(picture).save(tmp_path / "cloth.png")
    return tmp_path / "cloth.png"


def test_the_choice_is_that_of_the_cloth_in_the_job() -> None:
    ran = run("colours", READING_ROOM, "--json", "--room", "500")
    said = json.loads(ran.out)
    choices = ranked_choices("#5a6672", ("#e8dcc0", "#d9825b"), Illumination(500))
    assert (ran.code, ran.err) == (0, "")
    assert said["choices"][0]["smallest"] == round(choices[0].smallest, 3)
    assert said["choices"][0]["kinds"][0]["colour"] == f"#{choices[0].chosen[0].colour:06x}"
    assert len(said["choices"]) == len(choices)


def test_what_is_printed_names_the_chosen_colours_with_their_numbers() -> None:
    ran = run("colours", READING_ROOM)
    said = json.loads(run("colours", READING_ROOM, "--json").out)
    for kind in said["choices"][0]["kinds"]:
        assert re.search(rf"{kind['colour']} +{kind['contrast']:.1f} +{kind['difference']:.1f}", ran.out)


def test_what_is_printed_says_why_in_sentences_with_the_figures_of_ground_and_motifs() -> None:
    said = run("colours", FERRY_LANE).out
    figures = contrasts(("#5d2f4f", "#e2cfa8"), (WHITE, 0x0000FF), Illumination(), share_of(CUTS))
    on_ground, on_motif = figures[0]
    assert f"Cut lines in white have a contrast of {on_ground:.1f} on the ground and {on_motif:.1f} on motif" in said
    assert f"(full blue has {figures[1].min():.1f})" in said


def test_a_photograph_gives_ground_and_motif(photo: Path) -> None:
    said = json.loads(run("colours", READING_ROOM, "--photo", photo, "--json").out)
    assert (said["ground"], said["motifs"]) == ("#d8c896", ["#283c5a"])
    assert said["shares"] == [0.625, 0.375]


@pytest.mark.parametrize("content", [b"", b"not a picture", b"\x89PNG\r\n\x1a\n" + bytes(40)])
def test_a_file_that_is_no_photograph_is_refused(tmp_path: Path, content: bytes) -> None:
    wrong = tmp_path / "wrong.png"
    wrong.write_bytes(content)
    ran = run("colours", READING_ROOM, "--photo", wrong)
    assert ran.code == 1
    assert "give a PNG, JPEG, TIFF or WebP file" in ran.err or "save it anew" in ran.err


def test_half_a_photograph_is_refused(photo: Path) -> None:
    photo.write_bytes(photo.read_bytes()[:-60])
    assert run("colours", READING_ROOM, "--photo", photo).code == 1


def test_a_photograph_that_is_not_there_is_refused(tmp_path: Path) -> None:
    ran = run("colours", READING_ROOM, "--photo", tmp_path / "none.png")
    assert (ran.code, "there is no such file" in ran.err) == (1, True)


@pytest.mark.parametrize("words", [("--room", "-1"), ("--projector", "0"), ("--room", "bright"), ("--room", "nan")])
def test_light_without_meaning_is_wrong_usage(words: tuple[str, str]) -> None:
    assert run("colours", READING_ROOM, *words).code == 2


def test_cloth_that_swallows_all_light_is_told(tmp_path: Path) -> None:
    job = tmp_path / "job.yaml"
    job.write_text(READING_ROOM.read_text().replace('"#5a6672"', '"#0d0d0d"'))
    ran = run("colours", job)
    room = json.loads(run("colours", job, "--json").out)["room_to_reach_it_lx"]
    # Reckoned 49 lx: told in fives below fifty, rounded down.
    assert (room, "swallows light" in ran.out, "Darken the room to 45 lx or less (now 300)" in ran.out) == (
        49,
        True,
        True,
    )


def test_cloth_on_which_all_is_seen_is_told_nothing_of_the_room() -> None:
    ran = run("colours", READING_ROOM)
    assert "swallows" not in ran.out
    assert json.loads(run("colours", READING_ROOM, "--json").out)["room_to_reach_it_lx"] is None


def test_the_document_tells_the_keys_of_the_json() -> None:
    said = json.loads(run("colours", READING_ROOM, "--json").out)
    for key in (*said, *said["choices"][0], *said["choices"][0]["kinds"][0]):
        assert f"`{key}`" in DOCUMENT, key
