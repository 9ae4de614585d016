from hypothesis import given, settings
from hypothesis import strategies as st

from jobs.cutting.slugs import slug, window_slugs


def test_words_are_joined_by_hyphens():
    assert slug("  East bay / No. 2 ") == "east-bay-no-2"


def test_letters_of_every_script_are_kept():
    assert slug("Großer Saal, Süd") == "grosser-saal-süd"
    assert slug("किताब घर") == "किताब-घर"
    assert slug("窓 一") == "窓-一"


def test_a_name_without_letters_still_gets_a_slug():
    assert slug("!!") == "window"


def test_names_that_look_alike_are_told_apart_whatever_their_order():
    names = ["East bay", "east-bay", "East  Bay", "West"]
    slugs = window_slugs(names)
    assert len(set(slugs.values())) == 4
    assert slugs["West"] == "west"
    assert all(slugs[name].startswith("east-bay-") for name in names[:3])
    assert window_slugs(reversed(names)) == slugs


def test_a_name_that_equals_another_ones_mark_is_still_told_apart():
    marked = window_slugs(["a b", "a-b"])["a b"]
    slugs = window_slugs(["a b", "a-b", marked])
    assert len(set(slugs.values())) == 3


@settings(max_examples=60)
@given(st.lists(st.text(alphabet="aA -é1", max_size=5), max_size=6))
def test_slugs_are_always_different_and_free_of_spaces(names):
    slugs = window_slugs(names)
    assert len(set(slugs.values())) == len(set(names))
    assert all(" " not in one and one for one in slugs.values())
