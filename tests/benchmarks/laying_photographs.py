"""The print laid by one photograph of the lit pattern: how pairs meet, how true the uncertainty is, what is refused.

    python -m tests.benchmarks.laying_photographs [RIGS [LONG_PX [FIRST]]]

Each rig (``tests/calibration/laying/rigs.py``): a projector hung aslant, a calibration by marks set to 1/100 in, cloth
of some plane group up to 1 1/2 % long or short, skewed and bowed up to 3 %, laid up to 1 1/2 degrees aslant, 1/100 to
1/10 in thick and a little uneven, photographed by hand at a slant, JPEG 85, noise 5 of 255. Two cuts of one bolt, each
laid and photographed anew: told is by how much their edges miss each other's print over the whole width, at top and
foot, laid by photographs and by four, nine and sixteen touched points placed to the nearest 1/32 in on the same cloth.
Then how often what is said of 95 in 100 holds, over places of the edges; whether another print, or the cloth turned or
on its face, is taken; what of the right ones is refused.
"""

from __future__ import annotations

import resource
import sys
import time

import numpy as np

from calibration.laying.laying import Laid, Photo, Planned, laid_from_photograph
from calibration.laying.tile import Tile
from calibration.problems import PhotographRefused
from calibration.registration.advice import where_next
from calibration.registration.fit import PrintFit
from calibration.registration.lattice import Motif, PrintPoint
from calibration.registration.registering import register
from tests.calibration.laying.rigs import Rig, rig

EDGES_X = (7.0, 97.0)
TOUCHED = (4, 9, 16)
PLACED_IN = 1 / 64


def edges_of(made: Rig) -> tuple[float, float]:
    """Piece positions of top and foot, which lie near both ends of the table."""
    along = made.cloth.to_piece(np.array([(x, 31.0) for x in EDGES_X]))[:, 0]
    return float(along[0]), float(along[1])


def off(made: Rig, fit: PrintFit, edges: tuple[float, float]) -> np.ndarray:
    """How far (2, 55) both edges lie off the print, whole rows apart: which row it is nobody asks here."""
    found = np.array([made.off_print(fit, edge) for edge in edges])
    row = made.lattice.along_in * made.cloth.cloth.stretch_along
    return found - np.round(np.median(found) / row) * row


def touched(made: Rig, edges: tuple[float, float], count: int, rng: np.random.Generator) -> PrintFit:
    """The fit by points that a careful hand touches where the program asks for them."""
    motifs: list[Motif] = []
    while len(motifs) < count and (motif := where_next(made.lattice, *edges, motifs)) is not None:
        motifs.append(motif)
    places = made.lies_at(made.lattice.places(motifs)) + rng.uniform(-PLACED_IN, PLACED_IN, (len(motifs), 2))
    points = [PrintPoint(row, column, (x, y)) for (row, column), (x, y) in zip(motifs, places.tolist(), strict=True)]
    return register(points, made.carried).fit


def wrongly_taken(made: Rig, photo: Photo, other: Rig, way: int) -> bool:
    """Whether a photograph is taken as right for another print (way 0), or for this one lying otherwise (1 to 3)."""
    tile = other.tile if way == 0 else (made.tile[::-1, ::-1], made.tile[:, ::-1], made.tile[::-1])[way - 1]
    planned = Planned(made.carried, Tile.of_picture(np.ascontiguousarray(tile), made.lattice))
    try:
        return not laid_from_photograph(photo, made.table, planned).problems
    except PhotographRefused:
        return False


def symmetric(made: Rig, way: int) -> bool:
    """Whether the print looks the same when it lies that way, so that nobody could tell."""
    setting = made.setting
    turned, over = setting.half_turn, "none"
    if way == 1:
        return turned
    mirror = setting.side_to_side if way == 2 else setting.top_to_bottom
    return mirror.value != over


def main(rigs: int, long_px: int, first: int) -> None:
    rows, held, spent, refused, wrong = [], [], [], [], []
    of_said: list[np.ndarray] = []
    for seed in range(first, first + rigs):
        laid: list[tuple[Rig, Laid, tuple[float, float]]] = []
        pair, photo = [rig(seed, long_px), rig(seed, long_px, cut=1)], None
        edges = edges_of(pair[0])
        by = round(110 / pair[0].lattice.along_in) * pair[0].lattice.along_in
        for number, made in enumerate(pair):
            photo = made.photo()
            here = edges if number == 0 else (edges[0] + by, edges[1] + by)
            start = time.process_time()
            try:
                found = laid_from_photograph(photo, made.table, made.planned())
            except PhotographRefused as why:
                refused.append(seed)
                print(f"rig {seed}: refused, {why}", flush=True)
                continue
            spent.append(time.process_time() - start)
            if found.problems:
                refused.append(seed)
                print(f"rig {seed}: {found.problems[0].code}", flush=True)
                continue
            laid.append((made, found, here))
            error = off(made, found.registration.fit, here)
            places = [(edge, c) for edge in here for c in np.linspace(0.5, made.lattice.width_in - 0.5, 55)]
            of_said.append(np.abs(error.ravel()) / found.registration.along_error_in(places))
            held.append(float((of_said[-1] <= 1).mean()))
        way = seed % 4
        if photo is not None and not (way and symmetric(pair[0], way)):
            wrong.append(wrongly_taken(pair[1], photo, rig(seed + 5000, 1000), way))
            if wrong[-1]:
                print(f"rig {seed}: taken wrongly, way {way}", flush=True)
        if len(laid) < 2:
            continue
        apart = [off(made, found.registration.fit, here) for made, found, here in laid]
        rng = np.random.default_rng(seed)
        peers = []
        for count in TOUCHED:
            ends = [off(made, touched(made, here, count, rng), here) for made, _, here in laid]
            peers.append(float(np.abs(ends[0] - ends[1]).max()))
        rows.append((float(np.abs(apart[0] - apart[1]).max()), *peers))
        shown = " ".join(f"{one:.4f}" for one in rows[-1])
        print(f"rig {seed}: {shown} held {held[-2]:.2f} {held[-1]:.2f}, {spent[-1]:.1f} s", flush=True)
    table = np.array(rows)
    print(f"\n{len(rows)} pairs of {rigs}, photographs of {long_px} px; refused of the right ones: {len(refused)}")
    names = ("by photograph", *(f"{count} touched points" for count in TOUCHED))
    for name, column in zip(names, table.T, strict=True):
        within, most = 100 * np.mean(column <= 1 / 16), np.quantile(column, 0.95)
        print(f"{name:>18}: within 1/16 in {within:5.1f} %, 95 of 100 within {most:.4f}, largest {column.max():.4f}")
    least = np.quantile(np.concatenate(of_said), 0.95)
    print(f"said of 95 in 100, held in {100 * np.mean(held):.1f}: {least:.2f} of it would have been enough")
    print(f"wrong ones taken: {sum(wrong)} of {len(wrong)}")
    memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024
    print(f"one photograph: {np.median(spent):.1f} s of processor time in the median; {memory} MB for all of this")


if __name__ == "__main__":
    given = [int(one) for one in sys.argv[1:]]
    main(*(given + [200, 2016, 0][len(given) :]))
