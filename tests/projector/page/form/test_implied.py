"""What a plane group says of the mirrors of a print is shown in the form."""

import pytest

from jobs.io.log import FileRefused
from jobs.io.reader import parse_job
from jobs.model.groups import GROUPS
from projector.page.form.implied import KEYS, told_or_implied
from projector.page.form.pages import fields_shown
from projector.page.form.values import values_of

JOB = """job: Sluice
cloth:
  width: 56
  repeat: {along: 9, across: 14}
  print: PRINT
windows: [{name: Landing, panels: whole, finished_length: 70}]
"""

SHEET = ("cloth", "print")


def shown(print_keys: str) -> list[str]:
    values = values_of(JOB.replace("PRINT", print_keys))
    return [told_or_implied(values, (*SHEET, key)) for key in KEYS]


@pytest.mark.parametrize("group", GROUPS)
@pytest.mark.parametrize("said", ["", ", top_to_bottom: mirror", ", top_to_bottom: glide", ", top_to_bottom: none"])
def test_the_form_shows_what_the_reader_makes_of_a_group(group, said):
    print_keys = f"{{group: {group}{said}}}"
    try:
        sheet = parse_job(JOB.replace("PRINT", print_keys), "a").cloth.print
    except FileRefused:
        assert "" in shown(print_keys)  # contradicted, or not said which way it lies: nothing is shown as chosen
        return
    half_turn = "yes" if sheet.half_turn else "no"
    # What the file itself says stays on show as it was said, though the reader makes a mirror of the slide of cm.
    first = said.rpartition(" ")[2] or sheet.top_to_bottom.value
    assert shown(print_keys) == [first, sheet.side_to_side.value, half_turn]


def test_without_a_group_nothing_is_implied():
    assert shown("{top_to_bottom: mirror}") == ["mirror", "", ""]


def test_a_mirror_that_only_the_group_says_has_its_offset_asked():
    values = values_of(JOB.replace("PRINT", "{group: pmm}"))
    assert {(*SHEET, "mirror_offset"), (*SHEET, "mirror_offset_across")} <= set(fields_shown(values))
