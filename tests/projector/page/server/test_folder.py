import os

import pytest

from projector.page.server.folder import Folder, NoSuchName

CLIMBING = (
    "../secret.yaml", "..", ".", "", " ", "/etc/passwd", "a/../../secret.yaml", "..\\secret.yaml", "C:secret.yaml",
    "secret.yaml\0.yaml", ".hidden.yaml", "a\nb.yaml", "%2e%2e/secret.yaml", "x" * 201 + ".yaml",
)  # fmt: skip


@pytest.fixture
def folder(tmp_path):
    (tmp_path / "secret.yaml").write_text("job: Secret\n")
    inside = tmp_path / "jobs"
    inside.mkdir()
    return Folder(inside)


@pytest.mark.parametrize("name", CLIMBING)
def test_no_name_leads_out_of_the_folder(folder, name):
    with pytest.raises(NoSuchName):
        folder.there(name)
    with pytest.raises(NoSuchName):
        folder.write(name, "x") if "%" not in name else folder.there(name)


def test_a_link_out_of_the_folder_is_no_file_of_it(folder):
    os.symlink(folder.path.parent / "secret.yaml", folder.path / "mine.yaml")
    with pytest.raises(NoSuchName):
        folder.read("mine.yaml")
    assert folder.jobs() == []


def test_jobs_and_tables_are_told_apart_and_a_spoilt_job_says_so(folder):
    (folder.path / "b.yaml").write_text("# a remark\njob: Towpath\n")
    (folder.path / "a.yml").write_text("job: [\n")
    (folder.path / "table.yaml").write_text("projector: {width: 10, height: 10}\n")
    (folder.path / "list.txt").write_text("job: no\n")
    assert [(one.name, one.title, bool(one.wrong)) for one in folder.jobs()] == [
        ("a.yml", "a", True),
        ("b.yaml", "Towpath", False),
    ]
    assert folder.tables() == ["table.yaml"]


def test_a_name_that_no_file_has_is_made_of_the_title(folder):
    assert folder.free_name("Aunt's parlour / east") == "aunt-s-parlour-east.yaml"
    folder.write("aunt-s-parlour-east.yaml", "job: A\n")
    assert folder.free_name("Aunt's parlour / east") == "aunt-s-parlour-east-2.yaml"
