"""Pages of the sheet as pictures and as a file: ink keeps off the edges, no line of letters is covered or moved."""

import io
from dataclasses import replace
from fractions import Fraction

import numpy as np
import pytest
from pypdf import PdfReader

from jobs.io.reader import read_job
from jobs.model.choices import Panels, TurnedOver
from jobs.model.job import Pins
from jobs.model.piece import Flaw, Piece
from jobs.model.plan import Plan
from jobs.model.window import RowRule, Window
from jobs.planning.planner import plan_job
from projector.papers.drawing import Drawing, Words
from projector.papers.pdf import pdf_bytes
from projector.papers.png import image_of
from projector.papers.sheet.flow import PaperSize
from projector.papers.sheet.lengths import LengthFormat, Units
from projector.papers.sheet.pages import sheet_pages, tag_pages
from projector.papers.sheet.pictures import hung_blocks
from projector.papers.sheet.sewing import fold_blocks, leftover_blocks
from tests.projector.commands.running import EXAMPLES, READING_ROOM
from tests.projector.papers.sheet.test_sheet import check

F = Fraction
DAY = "2026-11-25"
PPI = 40
BLANK_IN = 0.25  # most printers leave so much of the edge blank
SEEN = 60  # levels of 255 between letters and their ground: a covered line shows none
POINT_IN = 0.02 / 72  # PDF numbers have two decimals of a point
PIECES = tuple(
    Piece(F(length), F(row), (Flaw(F(40), F(42), None, "slub"), Flaw(F(100), F(101), (F(10), F(14)))), "A12")
    for length, row in ((1000, 3), (720, 5), (400, 7), (1500, 2))
)


def plan_of_cuts(count: int, pieces: tuple[Piece, ...] = ()) -> Plan:
    """The reading-room cloth for so many cuts of a few lengths, the last of an odd number a single panel."""
    job = read_job(READING_ROOM)
    names = ("Porch", "Long gallery, north side", "Kitchen window over the sink")
    windows = tuple(
        Window(
            f"{names[n % 3]} {n + 1}",
            Panels.PAIR if count - 2 * n > 1 else Panels.WHOLE,
            F((81, 54, 110, 97)[n % 4]),
            row=RowRule(below_top=F(13, 2)),
        )
        for n in range((count + 1) // 2)
    )
    cloth = replace(job.cloth, pieces=pieces)
    plan = plan_job(replace(job, windows=windows, cloth=cloth, pins=Pins(F(11), F(1))))
    assert len(plan.placements) == count
    return plan


def assert_seen(page: Drawing) -> None:
    """Nothing lies within the blank edge, and every line of letters differs from its ground in the picture."""
    pixels = np.asarray(image_of(page, PPI).convert("L")).astype(int)
    edge = round(BLANK_IN * PPI)
    inner = pixels[edge:-edge, edge:-edge]
    assert (pixels == 255).sum() == pixels.size - inner.size + (inner == 255).sum()
    for words in page.words:
        left, upper, right, lower = (round(value * PPI) for value in words.box)
        box = pixels[max(0, upper) : lower + 1, max(0, left) : right + 1]
        assert box.max() - box.min() > SEEN, words


CASES = [(1, Units.INCHES), (2, Units.BOTH), (12, Units.CENTIMETRES), (12, Units.BOTH)]


@pytest.mark.parametrize("size", list(PaperSize))
@pytest.mark.parametrize(("cuts", "units"), CASES)
def test_in_pictures_of_the_pages_every_line_is_seen_and_the_edges_are_blank(size, cuts, units):
    plan = plan_of_cuts(cuts)
    for page in (*sheet_pages(plan, size, DAY, units), *tag_pages(plan, size, 3.5, 2.5)):
        check(page)
        assert_seen(page)


@pytest.mark.parametrize("name", ["lock_cottage", "attic_studio", "potting_shed"])
def test_in_pictures_of_an_example_every_line_is_seen(name):
    plan = plan_job(read_job(EXAMPLES / f"{name}.yaml"))
    for page in (*sheet_pages(plan, PaperSize.A4, DAY), *tag_pages(plan, PaperSize.A4, 3.0, 2.0)):
        check(page)
        assert_seen(page)


@pytest.mark.parametrize(("cuts", "pieces"), [(60, ()), (12, PIECES)])
def test_in_pictures_of_some_pages_of_a_large_job_every_line_is_seen(cuts, pieces):
    pages = sheet_pages(plan_of_cuts(cuts, pieces), PaperSize.LETTER, DAY, Units.BOTH)
    for page in pages[:: max(1, len(pages) // 4)]:
        check(page)
        assert_seen(page)


def test_a_covered_line_of_letters_would_be_noticed():
    (page,) = tag_pages(plan_of_cuts(1), PaperSize.LETTER, 3.5, 2.5)
    from projector.papers.drawing import Path, rectangle

    plate = Path(rectangle(0.6, 0.6, 7.9, 10.4), fill="#ffffff", closed=True)
    with pytest.raises(AssertionError):
        assert_seen(replace(page, shapes=(*page.shapes, plate)))


def test_letters_in_the_file_stand_where_the_drawing_has_them():
    pages = sheet_pages(plan_of_cuts(2), PaperSize.A4, DAY, Units.BOTH)
    for sheet, page in zip(PdfReader(io.BytesIO(pdf_bytes(pages, "t"))).pages, pages, strict=True):
        found: dict[str, list[tuple[float, float]]] = {}

        def note(text, outer, own, font, size, found=found):
            if text.strip() and outer[:4] == [1.0, 0.0, 0.0, 1.0]:
                found.setdefault(text.strip(), []).append((own[4] / 72, own[5] / 72))

        sheet.extract_text(visitor_text=note)
        level = [words for words in page.words if not words.upwards]
        assert level
        for words in level:
            x, y = words.start[0], page.height - words.start[1]
            assert any(abs(x - a) < POINT_IN and abs(y - b) < POINT_IN for a, b in found[words.text]), words


def texts_of(blocks) -> str:
    return " ".join(shape.text for block in blocks for shape in block.shapes if isinstance(shape, Words))


def test_pieces_that_are_not_opened_are_named_and_not_drawn():
    plan = plan_of_cuts(12, PIECES)
    closed = [use.number for use in plan.pieces if not use.used]
    assert closed
    pages = sheet_pages(plan, PaperSize.LETTER, DAY)
    texts = [words.text for page in pages for words in page.words]
    assert texts.count("Not opened: no cut lies on it.") == len(closed)
    for number in closed:
        assert any(text.startswith(f"Piece {number}: not opened, all ") for text in texts)


def test_scraps_too_short_to_keep_are_counted_in_one_line():
    # 1 to 2 in between two cuts and before the first, 12 1/8 in at the end of 90 in: see the piece as ordered
    plan = plan_of_cuts(1)
    said = texts_of(leftover_blocks(plan, LengthFormat(plan.job.unit), 7.0))
    (use,) = plan.pieces
    long = [span for span in use.leftovers if span.end - span.start >= 5]
    assert said.count("Piece 1:") == len(long)
    assert ("scrap" in said) is (len(long) < len(use.leftovers))


def test_hems_turned_twice_the_stiffener_and_every_pin_are_given_in_inches():
    job = replace(plan_of_cuts(2).job, doubled=(TurnedOver.HEM, TurnedOver.SIDE_HEM), stiffener=F(5, 8))
    said = texts_of(fold_blocks(plan_job(job), LengthFormat(job.unit), 7.0))
    assert "Hem, turned twice: fold 4 in and then 8 in above the foot edge." in said
    assert "Side hems: 2 in, turned twice, 1 in each time." in said
    assert "Stiffener: its upper edge 5/8 in below the cut edge of the heading." in said
    # 54 less two selvedges of 1/2 and two side hems of 2 is 49; 47 between the outer pins is 5 steps of 9 2/5
    assert "of a panel 49 in wide: 6, from one side 1 in, 10 3/8 in, 19 13/16 in, 29 3/16 in, 38 5/8 in, 48 in." in said


def test_windows_that_look_the_same_are_drawn_once_under_all_their_names():
    job = plan_of_cuts(2).job
    windows = tuple(replace(job.windows[0], name=f"Bay {n}") for n in range(1, 13))
    plan = plan_job(replace(job, windows=(*windows, Window("Porch", Panels.WHOLE, F(60)))))
    said = texts_of(hung_blocks(plan, LengthFormat(job.unit), 7.0))
    assert " ".join(said.split()).count("Bay 1, Bay 2, Bay 3") == 1
    assert "Bay 10 and 2 more" in said
    assert said.count("left") == 1
    assert "Porch" in said
