"""The cut sheet and the tags: everything is on the paper, nothing lies over anything else, words can be searched."""

import io
from dataclasses import replace
from fractions import Fraction
from itertools import combinations
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pypdf import PdfReader

from jobs.cutting.cloths import jobs_of_cloths
from jobs.io.reader import parse_job, read_job
from jobs.model.choices import Panels, Unit
from jobs.model.plan import Plan
from jobs.model.print import Print
from jobs.model.window import Window
from jobs.planning.planner import plan_job
from projector.papers.drawing import Drawing, Path, Words
from projector.papers.pdf import pdf_bytes
from projector.papers.sheet.flow import PaperSize, cut_short, wrapped_exactly
from projector.papers.sheet.lengths import LengthFormat, Units
from projector.papers.sheet.pages import TagTooLargeError, sheet_pages, tag_pages
from projector.papers.sheet.turnings import turning_lines
from tests.projector.commands.running import EXAMPLES, READING_ROOM, run

F = Fraction
EDGE_IN = 0.2  # most printers leave this much blank


def job_of(chance: Random, windows: int) -> Plan:
    """A job of the reading-room cloth with so many windows of chance names, lengths and panels, ordered as needed."""
    job = read_job(READING_ROOM)
    words = ("Über", "Long", "stair", "Éclair", "window", "over", "Großmutters", "nook", "12½", "landing")
    made = tuple(
        Window(
            f"{' '.join(chance.choices(words, k=chance.randint(1, 9)))} {n}",
            chance.choice(list(Panels)),
            F(chance.randint(20, 110)),
            cuts_per_panel=F(chance.randint(1, 3)),
        )
        for n in range(windows)
    )
    return plan_job(replace(job, windows=made, cloth=replace(job.cloth, pieces=())))


def check(page: Drawing) -> None:
    for shape in page.shapes:
        points = shape.points if isinstance(shape, Path) else (shape.box[:2], shape.box[2:])
        for x, y in points:
            assert EDGE_IN <= x <= page.width - EDGE_IN, shape
            assert EDGE_IN <= y <= page.height - EDGE_IN, shape
    boxes = sorted((words.box, words.text) for words in page.words)
    for (a, one), (b, other) in combinations(boxes, 2):
        assert not (a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]), (one, other)


@pytest.mark.parametrize("size", list(PaperSize))
@pytest.mark.parametrize(("seed", "windows"), [(1, 1), (2, 4), (3, 9), (4, 16)])
def test_nothing_overlaps_and_nothing_leaves_the_paper(size, seed, windows):
    plan = job_of(Random(seed), windows)
    for page in (*sheet_pages(plan, size, "2026-11-25", Units.BOTH), *tag_pages(plan, size, 3.5, 2.5)):
        check(page)


def test_a_job_of_two_hundred_cuts_has_a_sheet_without_overlaps():
    job = read_job(READING_ROOM)
    windows = tuple(replace(job.windows[0], name=f"Bay {n}") for n in range(100))
    plan = plan_job(replace(job, windows=windows, cloth=replace(job.cloth, pieces=())))
    assert len(plan.placements) == 200
    pages = sheet_pages(plan, PaperSize.LETTER, "2026-11-25")
    for page in pages:
        check(page)
    texts = {words.text for page in pages for words in page.words}
    assert {f"{n}. {p.cut.window}, {p.cut.hand}, 1 of 1" for n, p in enumerate(plan.placements, 1)} <= texts


@pytest.mark.parametrize("size", list(PaperSize))
@pytest.mark.parametrize("seed", [6, 7])
def test_no_name_of_a_cut_is_cut_off_on_the_sheet(size, seed):
    # Narrow things: cuts of 14 to 30 in beside long ones, names of up to nine words.
    chance = Random(seed)
    job = job_of(chance, 5).job
    windows = [replace(one, finished_length=F(chance.randint(14, 30))) for one in job.windows[1:]]
    plan = plan_job(replace(job, windows=(job.windows[0], *windows)))
    pages = sheet_pages(plan, size, "2026-11-25")
    said = [words.text for page in pages for words in page.words if words.text != cut_short(job.title, 0.11, 5)]
    assert not [text for text in said if text.endswith("..")]
    pictured = " ".join(said[: said.index("Cuts, in order: tick each when it is made")])
    for number, placed in enumerate(plan.placements, 1):
        whole = " ".join(f"{number}. {placed.cut.window}".split())
        assert whole in pictured
    for page in pages:
        check(page)


@pytest.mark.parametrize("name", ["reading_room", "attic_studio", "potting_shed", "lock_cottage"])
def test_the_sheet_of_an_example_can_be_searched_for_every_cut_and_its_numbers(name, tmp_path):
    out = tmp_path / "sheet.pdf"
    ran = run("sheet", EXAMPLES / f"{name}.yaml", "--out", out, "--paper", "a4")
    assert ran.code == 0, ran.err
    reader = PdfReader(out)
    text = " ".join(" ".join(page.extract_text().split()) for page in reader.pages)
    plan = plan_job(read_job(EXAMPLES / f"{name}.yaml"))
    from jobs.model.lengths import show_cut

    for placed in plan.placements:
        cut, unit = placed.cut, plan.job.unit
        assert cut.name in text
        assert f"piece {placed.piece}, {show_cut(placed.start, unit)} to {show_cut(placed.end, unit)}" in text
    for number, page in enumerate(reader.pages, 1):
        assert float(page.mediabox.width) / 72 == pytest.approx(210 / 25.4, abs=0.001)  # PDF rounds to 1/100 point
        if "TOP" not in page.extract_text() or number == 1:
            assert plan.job.title in page.extract_text()
    assert text.count("Never look into the lens") == 1


def test_the_file_has_a_list_of_its_sections_that_leads_to_their_pages(tmp_path):
    out = tmp_path / "sheet.pdf"
    assert run("sheet", EXAMPLES / "lock_cottage.yaml", "--out", out).code == 0
    reader = PdfReader(out)
    found = [(entry.title, reader.get_destination_page_number(entry)) for entry in reader.outline]
    assert [title for title, _ in found][0::9] == ["Windows, as seen from inside the room", "Top tags"]
    assert len(found) == 10
    for title, page in found:
        words = " ".join(reader.pages[page].extract_text().split())
        assert title in words or (title == "Top tags" and "TOP" in words)


def test_accents_and_fractions_can_be_searched_in_the_file():
    page = Drawing(4, 2, (Words("Großmutters Küche, 12½", (0.5, 1), 0.1),))
    text = PdfReader(io.BytesIO(pdf_bytes([page], "é"))).pages[0].extract_text()
    assert "Großmutters Küche, 12½" in text


def test_each_cut_has_a_tag_with_its_name_way_and_leading_edge():
    plan = plan_job(read_job(READING_ROOM))
    (page,) = tag_pages(plan, PaperSize.LETTER, 3.5, 2.5)
    texts = [words.text for words in page.words]
    assert texts.count("TOP") == 2
    assert {"River window", "left, 1 of 1", "right, 1 of 1", "cut 1, 93 in", "cut 2, 93 in"} <= set(texts)
    # A left panel leads with its right edge, a right one with its left, seen from the room.
    assert {"leading edge: right of TOP", "leading edge: left of TOP"} <= set(texts)
    assert not [text for text in texts if "selvedge" in text]
    (metric,) = tag_pages(plan, PaperSize.A4, 3.5, 2.5, Units.CENTIMETRES)
    assert "cut 1, 236.2 cm" in [words.text for words in metric.words]


def test_a_tag_says_that_a_cut_used_face_down_hangs_with_its_back_to_the_room():
    job = read_job(READING_ROOM)
    plan = plan_job(replace(job, cloth=replace(job.cloth, faces_alike=True, print=Print(), pieces=())))
    for size in ((3.5, 2.5), (1.5, 1.0)):
        (page,) = tag_pages(plan, PaperSize.LETTER, *size)
        assert [words.text for words in page.words].count("back to the room") == 1
        check(page)


TURNED = """
job: Two lights
units: in
cloth: {name: Linen, width: 55, selvedge: 1/2, sold_by: 1/4 yd}
cloths: [{name: Sateen, width: 55, selvedge: 1/2}]
allowances: {heading_kind: pinch pleats, hem_kind: double, side_hem: 3, seam: 1/2}
doubled: [side hem]
windows:
  - name: Hall
    panels: left
    finished_length: 80
    cuts_per_panel: 2
    lining: {cloth: Sateen, heading: 1, hem: 3}
    bands: [{edge: leading, width: 3}]
  - {name: Nook, panels: right, finished_length: 60, allowances: {heading_kind: eyelets, hem_kind: single, side_hem: 0}}
"""


def test_tags_and_sheet_say_of_each_panel_what_is_turned_over_and_seamed():
    """Pinch pleats take 4 1/2 and a double hem 8, that is 4 twice; eyelets 8, a single hem 4 3/4 (common practice, no
    source). The first of the two cuts is hemmed at its leading edge, 1 1/2 twice, and seamed in the selvedge. The
    band, 3 wide, is seamed at its sides; its ends are turned over with the face."""
    made = parse_job(TURNED, "job")
    linen, sateen = (plan_job(one.job) for one in jobs_of_cloths(made))
    said = {
        placed.cut.id: turning_lines(placed.cut, plan.job, LengthFormat(Unit.INCH))
        for plan in (linen, sateen)
        for placed in plan.placements
    }
    hall = ("top: pinch pleats, turn over 4 1/2 in", "foot: double hem, turn up 4 in twice")
    assert said["hall-left-1"] == (*hall, "sides: hem 1 1/2 in twice, seam 1/2 in")
    assert said["nook-right"] == ("top: eyelets, turn over 8 in", "foot: single hem, turn up 4 3/4 in")
    band = ("sides: seam 1/2 in", "ends: 4 1/2 in and 8 in, turned over with the face")
    assert said["hall-leading-band-left"] == band
    # A lining is turned over as it is told to be, whatever its face is called.
    assert said["hall-lining-left-1"][:2] == ("top: turn over 1 in", "foot: turn up 3 in")
    tags = [words.text for page in tag_pages(linen, PaperSize.LETTER, 3.5, 2.5) for words in page.words]
    assert [tags.count(line) for line in hall] == [2, 2]
    assert {*said["nook-right"], *band} <= set(tags)
    sheet = " ".join(words.text for page in sheet_pages(linen, PaperSize.LETTER, "2026-11-25") for words in page.words)
    assert f"To sew: {'; '.join(said['nook-right'])}." in sheet
    assert "Hem, double, turned twice: fold 4 in and then 8 in above the foot edge" in sheet
    for page in tag_pages(linen, PaperSize.LETTER, 3.5, 2.5):
        check(page)
    # On the smallest tag nobody could read them.
    small = [words.text for page in tag_pages(linen, PaperSize.LETTER, 1.5, 1.0) for words in page.words]
    assert not [text for text in small if text.startswith(("top:", "foot:", "sides:", "ends:"))]


@pytest.mark.parametrize("size", [(9.0, 2.0), (3.0, 12.0), (0.5, 0.5)])
def test_a_tag_that_the_paper_cannot_hold_or_nobody_can_read_is_refused(size):
    with pytest.raises(TagTooLargeError, match="cannot be made on letter paper"):
        tag_pages(plan_job(read_job(READING_ROOM)), PaperSize.LETTER, *size)


def test_an_ordinary_tag_cuts_no_word_short():
    pages = tag_pages(plan_job(read_job(EXAMPLES / "lock_cottage.yaml")), PaperSize.A4, 3.5, 2.5)
    texts = {words.text for page in pages for words in page.words}
    assert {"joins 1: right of TOP", "joins 1: left of TOP"} <= texts
    assert not [text for text in texts if ".." in text]


@pytest.mark.parametrize("size", [(1.5, 1.0), (2.0, 1.25), (1.5, 3.0)])
def test_the_smallest_tags_still_say_which_side_leads(size):
    plan = plan_job(read_job(EXAMPLES / "lock_cottage.yaml"))
    texts = [words.text for page in tag_pages(plan, PaperSize.A4, *size) for words in page.words]
    leads = [text for text in texts if text.endswith(" of TOP")]
    assert len(leads) == len(plan.placements)
    assert {text.partition(":")[0] for text in leads} <= {"leads", "leading edge", "joins 1", "joins 2"}
    for page in tag_pages(plan, PaperSize.A4, *size):
        check(page)


def test_small_tags_keep_their_lines_apart():
    plan = job_of(Random(5), 6)
    for page in tag_pages(plan, PaperSize.A4, 1.5, 1.0):
        check(page)


def test_both_units_stand_beside_each_other(tmp_path):
    pages = sheet_pages(plan_job(read_job(READING_ROOM)), PaperSize.A4, "2026-11-25", Units.BOTH)
    # 93 in = 236.22 cm, shown to the millimetre
    assert any("93 in (236.2 cm)" in words.text for page in pages for words in page.words)


def test_a_file_that_is_no_pdf_is_refused_and_one_part_can_be_left_out(tmp_path):
    assert run("sheet", READING_ROOM, "--out", tmp_path / "sheet.txt").code == 1
    assert run("sheet", READING_ROOM, "--out", tmp_path / "s.pdf", "--tags", "99x2").code == 1
    assert list(tmp_path.iterdir()) == []
    ran = run("sheet", READING_ROOM, "--out", tmp_path / "t.pdf", "--only", "tags", "--tags", "9 cm x 6 cm")
    assert ran.code == 0, ran.err
    assert len(PdfReader(tmp_path / "t.pdf").pages) == 1


@given(st.floats(1.0, 6.0))
def test_a_length_is_never_parted_between_lines(room):
    text = "first row 4 1/2 in (11.4 cm) below the top edge; from 27 in (68.6 cm) to 101 3/16 in, that is 2 1/4 yd"
    lines = wrapped_exactly(text, 0.095, room)
    assert " ".join(lines) == text
    for length in ("4 1/2 in", "11.4 cm", "27 in", "68.6 cm", "101 3/16 in", "2 1/4 yd"):
        if Words(f"({length}),", (0, 0), 0.095).length <= room:
            assert any(length in line for line in lines)


def test_words_wider_than_their_room_are_broken_and_names_cut_short():
    assert "".join(wrapped_exactly("x" * 100, 0.1, 1.0)) == "x" * 100
    assert all(Words(line, (0, 0), 0.1).length <= 1.0 for line in wrapped_exactly("W" * 100, 0.1, 1.0))
    assert cut_short("short", 0.1, 5.0) == "short"
    assert Words(cut_short("W" * 100, 0.1, 1.0), (0, 0), 0.1).length <= 1.0


def test_half_cuts_are_counted_as_such_and_plain_cloth_has_no_row() -> None:
    text = (
        "job: Velvet\ncloth: {width: 54, selvedge: 1/2, print: {one_way: yes}}\n"
        "windows: [{name: Music room, panels: pair, finished_length: 90, cuts_per_panel: 1 1/2}]\n"
    )
    plan = plan_job(parse_job(text, "velvet"))
    said = " ".join(words.text for page in sheet_pages(plan, PaperSize.LETTER, "2026-11-25") for words in page.words)
    assert "2 cuts and 2 half cuts of 90 in" in said
    assert "pieces as ordered are drawn." in said
