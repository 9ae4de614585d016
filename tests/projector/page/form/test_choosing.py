from projector.page.form.blank import examples
from projector.page.form.changes import with_item
from projector.page.form.choosing import WRONG, Choosing, one_at_a_time
from projector.page.form.complaints import complaints
from projector.page.form.layout import WINDOWS
from projector.page.form.pages import PAGES, Adding, Block, shown
from projector.page.form.values import values_of

TOWPATH = examples()["Lock-keeper's cottage"]
MILL = examples()["Mill-race reading room"]
WINDOWS_PAGE, PIECES_PAGE = PAGES[3], PAGES[4]


def with_windows(count: int) -> str:
    text = TOWPATH
    for number in range(3, count + 1):
        text = with_item(text, WINDOWS, ("windows",), f"Hatch {number}")
    return text


def test_three_windows_stand_below_each_other():
    values = values_of(with_windows(3))
    parts = one_at_a_time(shown(WINDOWS_PAGE, values), values, {})
    assert [type(part) for part in parts] == [Block, Block, Block, Adding]


def test_of_more_windows_the_chosen_one_is_shown_below_a_list_of_all():
    text = with_windows(5)
    values = values_of(text)
    parts = one_at_a_time(shown(WINDOWS_PAGE, values), values, {("windows",): 1})
    assert [type(part) for part in parts] == [Choosing, Block, Adding]
    assert parts[1].path == ("windows", 1)
    labels = parts[0].labels(values, complaints(text))
    assert labels[1] == "2  Sluice hatch"
    assert labels[4] == f"{WRONG}5  Hatch 5"


def test_a_choice_beyond_the_end_shows_the_last():
    values = values_of(with_windows(4))
    parts = one_at_a_time(shown(WINDOWS_PAGE, values), values, {("windows",): 9})
    assert parts[1].path == ("windows", 3)


def test_many_flaws_of_one_piece_among_few_pieces_are_listed_within_it():
    flaws = ", ".join(f"{{from: {10 * n}, to: {10 * n + 1}}}" for n in range(1, 6))
    text = MILL.replace(
        "        - {from: 105, to: 107 1/2, across: [20, 26], note: thick thread}", f"        [{flaws}]"
    )
    values = values_of(text)
    path = ("cloth", "pieces", 0, "flaws")
    parts = one_at_a_time(shown(PIECES_PAGE, values), values, {path: 3})
    assert [type(part) for part in parts] == [Block, Choosing, Block, Adding, Adding]
    assert parts[2].path == (*path, 3)
    assert parts[1].labels(values, complaints(text))[3] == "4  40 to 41"
