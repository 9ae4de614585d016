"""What is the matter with the disk, and what a person can do about it."""

import errno
from pathlib import Path

import pytest

from jobs.journal.cannot import CannotRecord


@pytest.mark.parametrize(
    ("number", "advice"),
    [
        (errno.ENOSPC, "make room"),
        (errno.EFBIG, "make room"),
        (errno.EROFS, "make the folder writable"),
        (errno.EACCES, "make the folder writable"),
        (errno.ENOENT, "see that the folder of the job is there"),
        (errno.ENOLCK, "copy the job into a folder on this computer"),
        (errno.EIO, "see to the disk"),
    ],
)
def test_each_failure_of_the_disk_has_its_advice(number, advice):
    refused = CannotRecord(Path("den.yaml.cuts"), OSError(number, "Out of luck"))
    assert refused.advice.startswith(advice)
    assert str(refused) == "den.yaml.cuts cannot be written: Out of luck"


def test_a_reason_in_words_brings_its_own_advice():
    refused = CannotRecord(Path("den.yaml.cuts"), "another program has changed it", "leave first")
    assert (refused.reason, refused.advice) == ("another program has changed it", "leave first")
