"""``lightchalk colours``: which light shows best on the cloth."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from projector.commands.errors import InputAtFault
from projector.commands.loading import FILE, load_job

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

    Colours of the cloth come from the job (colour, motif_colours) or from a photograph. The number beside a colour is
    its smallest difference (CIEDE2000) from all that it lies beside, for every kind of eye.
    """
    from projector.commands import json_text
    from projector.light.appearance import Illumination
    from projector.light.candidates import BLACK, WHITE
    from projector.light.choosing import differences, ranked_choices

    read = load_job(job)
    cloth = read.cloth
    picked = _picked(photo) if photo is not None else ()
    ground, *motifs = [one.colour for one in picked] or [cloth.colour, *cloth.motif_colours]
    given = (read.light.room if room is None else room, read.light.projector if projector is None else projector)
    light = Illumination(*map(float, given))
    choices = ranked_choices(ground, motifs, light)
    white = float(differences((ground, *motifs), BLACK, (WHITE,), light)[0])
    if as_json:
        click.echo(json_text.dump(_document(ground, motifs, picked, light, choices, white)))
        return
    for line in _lines(ground, motifs, picked, light, choices, white):
        click.echo(line)


def _picked(photo: Path) -> tuple[PickedColour, ...]:
    from jobs.photo.opening import open_photo
    from jobs.photo.refusals import PhotoRefused
    from projector.light.cloth_photo import colours_of

    try:
        return colours_of(open_photo(photo, LOOKED_AT_PIXELS, least_side=1).rgb8)
    except PhotoRefused as refused:
        raise InputAtFault(f"{photo}: {refused.what}; {refused.advice}") from None


def _document(
    ground: str,
    motifs: list[str],
    picked: tuple[PickedColour, ...],
    light: Illumination,
    choices: tuple[Choice, ...],
    white: float,
) -> dict[str, Any]:
    """What ``colours --json`` prints."""
    from projector.light.candidates import GROUPS

    return {
        "ground": ground,
        "motifs": motifs,
        "shares": [round(one.share, 4) for one in picked] or None,
        "room_lx": light.room_lx,
        "projector_lx": light.projector_lx,
        "white_only": round(white, 3),
        "choices": [
            {
                "field": _hex(choice.field),
                "smallest": round(choice.smallest, 3),
                "kinds": [
                    {
                        "kinds": [kind.value for kind in GROUPS[one.group]],
                        "colour": _hex(one.colour),
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
    ground: str,
    motifs: list[str],
    picked: tuple[PickedColour, ...],
    light: Illumination,
    choices: tuple[Choice, ...],
    white: float,
) -> list[str]:
    from projector.light.candidates import name_of_colour
    from projector.light.choosing import PLAINLY

    shares = [f" ({one.share:.0%})" for one in picked] or [""] * (1 + len(motifs))
    said = [f"{colour}{share}" for colour, share in zip((ground, *motifs), shares, strict=True)]
    lines = [f"Cloth: ground {said[0]}" + (f", motifs {', '.join(said[1:])}" if motifs else "")]
    lines.append(f"Light: room {light.room_lx:g} lx, projector {light.projector_lx:g} lx at full white")
    best = choices[0]
    lines.append(f"Chosen: {_field(best)}")
    for one in best.chosen:
        colour = f"{name_of_colour(one.colour)} {_hex(one.colour)}"
        lines.append(f"  {one.group:<26} {colour:<24} {one.shows:6.1f}")
    lines.append(f"White cut lines on unlit cloth would have {white:.1f}.")
    for number, choice in enumerate(choices[1:MOST_SHOWN], 2):
        cut = choice.chosen[0].colour
        lines.append(
            f"  {number}. cut lines {name_of_colour(cut)} {_hex(cut)}, {_field(choice)}: {choice.smallest:.1f}"
        )
    if best.smallest < PLAINLY:
        lines.append(
            "This cloth swallows light: lines are hard to see in any colour. Darken the room, widen the lines (+)."
        )
    return lines


def _field(choice: Choice) -> str:
    return "the cloth lit all over, marks darker than it" if choice.field else "marks lit on unlit cloth"


def _hex(colour: int) -> str:
    return f"#{colour:06x}"
