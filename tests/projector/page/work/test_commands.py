"""What commands of the program tell, as the page says it."""

from pathlib import Path

from projector.page.work.commands import Outcome


def test_files_that_no_person_named_are_called_by_words():
    kept = Path("/state/practice-table.yaml")
    told = Outcome(0, f"Wrote {kept}\n\n", f"{kept}: 4 marks\nof jobs/mill.yaml")
    assert told.lines({kept: "the practised calibration"}) == [
        "Wrote the practised calibration",
        "4 marks",
        "of jobs/mill.yaml",
    ]
