"""A panel that was cut on the simulated table, laid back and photographed: what the page is told of its mate."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from calibration.registration.fit import PrintFit
from jobs.io.reader import parse_job
from projector.demo.setup import demo_setup
from projector.page.form.blank import examples
from projector.page.work.laying import laid
from projector.page.work.taking import cloth_taken
from projector.scene.lit_stretch import plan_on_table
from projector.session.actions import Action
from projector.session.cutting.state import setup_of
from tests.projector.session.sessions import after, at_work, cutting_of, key

LEFT = "river-window-left"


def test_a_panel_cut_off_its_rows_is_photographed_and_its_seam_drawn(tmp_path: Path) -> None:
    job = parse_job(examples()["Mill-race reading room"], "the job")
    demo = demo_setup(job)
    setup = setup_of(plan_on_table(job, demo.table.lit_area()), demo.table)
    session = at_work(plan=setup, done=(LEFT,))
    while session.at:
        session, _ = after(session, Action.PREVIOUS_STOP)
    assert session.placement.cut.id == LEFT
    lattice = session.lattice
    assert lattice is not None
    # By the plan's numbers, but 1/8 in too far to the right; the cloth lay as planned.
    light = PrintFit(lattice, (1 / 8 - float(session.stop.cloth_at_left), 0.0))
    cutting = cutting_of(setup)
    cutting.state = replace(session, cut_by=(light,))
    key(cutting, "V")
    frame = np.zeros(cutting.size_px[::-1], np.uint32)
    cutting.paint(frame)
    Image.fromarray((frame & 255).astype(np.uint8)).save(tmp_path / "frame.png")
    lay = cutting.publish()["lay"]
    (tmp_path / "asked.json").write_text(json.dumps({"lay": lay, "as_it_lies": False, "number": 0}))
    cloth_taken(tmp_path / "frame.png", tmp_path / "asked.json", tmp_path / "photo.jpg")
    files = {name: str(tmp_path / name) for name in ("small", "seen", "tapped", "tile")}
    asked = {"lay": lay, "photo": str(tmp_path / "photo.jpg"), "point": None}
    (tmp_path / "asked.json").write_text(json.dumps({**asked, **files, "simulated": True}))
    told = laid(tmp_path / "asked.json")
    assert told.get("mated"), told
    # The mate lies the other way about: its light goes to the left, by 1/8 in and what the photograph is off.
    ((mate, right_64ths),) = told["moves"]
    assert (mate, right_64ths) == ("river-window-right", pytest.approx(-8, abs=3))
    said = " ".join(told["says"])
    assert "River window, left, 1 of 1, laid back" in said
    # 93 in long on a table of 72: its top alone is in the light. It was cut 1/8 in too low on its print.
    assert "Its foot is not in the picture and is not judged" in said
    assert "THEY MISS" in said
    assert "move the light" in said
    assert "to the left, towards its foot, and cut there" in said
    with Image.open(tmp_path / "small") as small, Image.open(tmp_path / "seen") as seen:
        assert small.size == seen.size
        assert np.abs(np.asarray(small, float) - np.asarray(seen, float)).max() > 100
    # Whoever has shown nobody the print is told so; there is no motif to tap.
    (tmp_path / "asked.json").write_text(json.dumps({**asked, **files, "simulated": False}))
    assert "Nothing is known of how this print looks" in " ".join(laid(tmp_path / "asked.json")["wrong"])
