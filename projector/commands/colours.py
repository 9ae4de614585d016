"""``lightchalk colours``: which light shows best on the cloth."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from projector.commands.shared.errors import InputAtFault
from projector.commands.shared.loading import load_job
from projector.commands.shared.options import FILE

if TYPE_CHECKING:
    from projector.light.appearance import Illumination
    from projector.light.choosing import Choice
    from projector.light.cloth_photo import PickedColour

MOST_SHOWN = 5
LOOKED_AT_PIXELS = 90_000
"""A photograph is made this small first, which averages threads and noise away."""
LUX = click.IntRange(0, 100_000)
WHITE_LUX = click.IntRange(1, 100_000)


@click.command("colours", epilog="Example: lightchalk colours jobs/examples/reading_room.yaml --room 500")
@click.argument("job", type=FILE)
@click.option("--photo", type=FILE, help="A photograph of the cloth, flat and evenly lit, to take its colours from.")
@click.option("--room", type=LUX, help="Light of the room on the table, in lux; the job's unless given.")
@click.option("--projector", type=WHITE_LUX, help="Light of full white on the table, in lux; the job's unless given.")
@click.option("--json", "as_json", is_flag=True, help="Print it for other programs.")
def command(job: Path, photo: Path | None, room: int | None, projector: int | None, as_json: bool) -> None:
    """Which colours of light show best on the cloth of a job, with the numbers.

    Colours of the cloth come from the job (colour, motif_colours) or from a photograph. Beside a colour stand its least
    contrast with the unlit cloth around it, on the ground and on every motif, and its smallest difference (CIEDE2000)
    from all that it may lie beside, for every kind of eye.
    """
    from projector.commands.shared import json_text
    from projector.light.appearance import Illumination
    from projector.light.choosing import differences, ranked_choices, share_of
    from projector.light.styles import CUTS, WHITE

    read = load_job(job)
    cloth = read.cloth
    picked = _picked(photo) if photo is not None else ()
    ground, *motifs = [one.colour for one in picked] or [cloth.colour, *cloth.motif_colours]
    given = (read.light.room if room is None else room, read.light.projector if projector is None else projector)
    light = Illumination(*map(float, given))
    choices = ranked_choices(ground, motifs, light)
    white = float(differences((ground, *motifs), (WHITE,), light, share_of(CUTS))[0])
    if as_json:
        click.echo(json_text.dump(_document(ground, motifs, picked, light, choices, white)))
        return
    for line in _lines(ground, motifs, picked, light, choices):
        click.echo(line)


def _picked(photo: Path) -> tuple[PickedColour, ...]:
    from jobs.prints.photographs.opening import open_photo
    from jobs.prints.photographs.problems import PhotoRefused
    from projector.light.cloth_photo import colours_of
    from projector.words.wording import sentence

    try:
        return colours_of(open_photo(photo, LOOKED_AT_PIXELS, least_side=1).rgb8)
    except PhotoRefused as refused:
        raise InputAtFault(f"{photo}: {sentence(refused.problems[0])}") from None


def _document(
    ground: str,
    motifs: list[str],
    picked: tuple[PickedColour, ...],
    light: Illumination,
    choices: tuple[Choice, ...],
    white: float,
) -> dict[str, Any]:
    """What ``colours --json`` prints."""
    from projector.light.choosing import FLOOR, room_to_reach
    from projector.light.styles import GROUPS

    room = room_to_reach((ground, *motifs), light)
    return {
        "ground": ground,
        "motifs": motifs,
        "shares": [round(one.share, 4) for one in picked] or None,
        "room_lx": light.room_lx,
        "projector_lx": light.projector_lx,
        "white_only": round(white, 3),
        "floor": FLOOR,
        "room_to_reach_it_lx": None if room is None else round(room),
        "choices": [
            {
                "field": "#000000",
                "smallest": round(choice.smallest, 3),
                "contrast": round(choice.contrast, 3),
                "kinds": [
                    {
                        "kinds": [kind.value for kind in GROUPS[one.group]],
                        "colour": _hex(one.colour),
                        "contrast": round(one.contrast, 3),
                        "difference": round(one.shows, 3),
                        "apart": None if one.apart is None else round(one.apart, 3),
                    }
                    for one in choice.chosen
                ],
            }
            for choice in choices
        ],
    }


def _lines(
    ground: str, motifs: list[str], picked: tuple[PickedColour, ...], light: Illumination, choices: tuple[Choice, ...]
) -> list[str]:
    from projector.light.styles import name_of_colour
    from projector.session.cutting.doubts import room_in_words

    shares = [f" ({one.share:.0%})" for one in picked] or [""] * (1 + len(motifs))
    words = [f"{colour}{share}" for colour, share in zip((ground, *motifs), shares, strict=True)]
    lines = [f"Cloth: ground {words[0]}" + (f", motifs {', '.join(words[1:])}" if motifs else "")]
    lines.append(f"Light: room {light.room_lx:g} lx, projector {light.projector_lx:g} lx at full white")
    lines.append(f"{'Chosen:':<54}contrast  difference")
    for one in choices[0].chosen:
        colour = f"{name_of_colour(one.colour)} {_hex(one.colour)}"
        lines.append(f"  {one.group:<26} {colour:<24} {one.contrast:6.1f} {one.shows:11.1f}")
    lines += _why(ground, motifs, light, choices[0])
    lines.append("K at the table steps on to:")
    for number, choice in enumerate(choices[1:MOST_SHOWN], 2):
        cut = choice.chosen[0].colour
        lines.append(
            f"  {number}. cut lines {name_of_colour(cut)} {_hex(cut)}: "
            f"contrast {choice.contrast:.1f}, difference {choice.smallest:.1f}"
        )
    room = room_in_words(ground, tuple(motifs), light)
    return [*lines, room] if room else lines


def _why(ground: str, motifs: list[str], light: Illumination, best: Choice) -> list[str]:
    """What was weighed for the cut lines, in sentences."""
    from projector.light.choosing import ALIKE, FLOOR, contrasts, share_of
    from projector.light.styles import CANDIDATES, CUTS, name_of_colour

    surfaces = {"the ground": ground} | {f"motif {motif}": motif for motif in motifs}
    figures = contrasts(list(surfaces.values()), CANDIDATES, light, share_of(CUTS))
    cut = best.chosen[0].colour
    on = [f"{one:.1f} on {name}" for name, one in zip(surfaces, figures[CANDIDATES.index(cut)], strict=True)]
    least = figures.min(axis=1)
    passing = int((least >= FLOOR).sum())
    weakest = CANDIDATES[int(least.argmin())]
    lines = [
        f"Why: thin lines are found by how bright they are. Cut lines in {name_of_colour(cut)} have a contrast of "
        f"{_listed(on)}; {FLOOR:g} is asked for.",
    ]
    if passing:
        lines.append(
            f"{passing} of {len(CANDIDATES)} lights reach that everywhere ({name_of_colour(weakest)} has "
            f"{least.min():.1f}). Of these the one that differs most from all of this cloth is taken, white and "
            f"the colours most eyes tell apart before others no more than {ALIKE:.0%} better."
        )
    else:
        lines.append("No light reaches that everywhere on this cloth: the brightest is taken.")
    lines.append("Letters and questions are always in the light that reads best.")
    return lines


def _listed(parts: list[str]) -> str:
    """Parts of a sentence: "a, b and c"."""
    return parts[0] if len(parts) == 1 else f"{', '.join(parts[:-1])} and {parts[-1]}"


def _hex(colour: int) -> str:
    return f"#{colour:06x}"
