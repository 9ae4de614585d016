import pytest

from projector.desk.form.spoken import in_form_words


@pytest.mark.parametrize(
    ("written", "spoken"),
    [
        (
            "write `hang: same` for a pair that hangs the same way",
            "choose \u201cThe two panels: hang the same\u201d for a pair that hangs the same way",
        ),
        (
            "leave it out, or say side_to_side: mirror",
            "leave it out, or say \u201cFrom side to side? yes, it mirrors\u201d",
        ),
        ("top_height is not known", "\u201cTop above the floor\u201d is not known"),
        ("write such_a_thing: no", "write such_a_thing: no"),
        ("the length: 12 in; width is free", "the length: 12 in; width is free"),
    ],
)
def test_keys_are_said_as_the_form_names_them(written, spoken):
    assert in_form_words(written) == spoken
