"""How the light of a job is remembered: written whole, read strictly, and as at first where it is damaged."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jobs.reading.problems import Problems
from projector.files.light_file import LightSettings, light_or_usual, light_path, read_light, write_light

NAMES = ("rows and columns", "match marks", "letters")


def test_it_stands_beside_the_job() -> None:
    assert light_path(Path("rooms") / "den.yaml") == Path("rooms") / "den.yaml.light"


def test_without_a_file_the_light_is_as_at_first(tmp_path: Path) -> None:
    assert light_or_usual(tmp_path / "none.light", NAMES) == (LightSettings(), "")


@given(
    st.sets(st.sampled_from(NAMES)).map(lambda names: tuple(sorted(names))), st.integers(-50, 50), st.integers(0, 99)
)
def test_what_was_written_is_read(
    tmp_path_factory: pytest.TempPathFactory, dark: tuple[str, ...], wider: int, colours: int
) -> None:
    path = tmp_path_factory.getbasetemp() / "den.yaml.light"
    write_light(path, LightSettings(dark, wider, colours))
    assert read_light(path, NAMES) == LightSettings(dark, wider, colours)


@pytest.mark.parametrize(
    "text",
    [
        "dark: [curtains]\n",
        "wider: lots\n",
        "colours: 9999999999\n",
        "dark: 3\n",
        "\x00",
        "",
        "spare: 1\n",
        "wider: ²\n",
    ],
)
def test_a_damaged_file_gives_the_usual_light_and_one_sentence(tmp_path: Path, text: str) -> None:
    path = tmp_path / "den.yaml.light"
    path.write_text(text, encoding="utf-8")
    settings, said = light_or_usual(path, NAMES)
    assert settings == LightSettings()
    assert said == f"{path} is damaged: all layers are lit, in the usual widths and colours."
    with pytest.raises(Problems):
        read_light(path, NAMES)
