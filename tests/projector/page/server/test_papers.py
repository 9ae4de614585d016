import re

import pytest

from jobs.journal import journal_path
from projector.page.form.blank import examples
from projector.page.server.papers import PAPERS
from tests.projector.commands.running import run
from tests.projector.page.server.serving import served
from tests.projector.page.server.test_jobs_list import cut

MILL = examples()["Mill-race reading room"]

BEGINS = {"pdf": b"%PDF", "svg": b"<?xml", "png": b"\x89PNG", "csv": b"id,window,", "dxf": b"  0"}


@pytest.fixture(scope="module")
def at(tmp_path_factory):
    folder = tmp_path_factory.mktemp("papers")
    (folder / "jobs").mkdir()
    (folder / "jobs" / "mill.yaml").write_text(examples()["Mill-race reading room"])
    with served(folder / "jobs", folder / "state") as (client, _, workshop):
        where = client.get("/open/mill.yaml").headers["location"]
        (topic,) = workshop.jobs.values()
        yield client, where, topic


@pytest.mark.parametrize(("paper", "ending"), [*((one.key, one.endings[0]) for one in PAPERS), ("hung", "png")])
def test_every_paper_is_made_and_saved_under_the_name_of_the_job(at, paper, ending):
    client, where, _ = at
    answer = client.get(f"{where}/paper/{paper}.{ending}?save=1")
    assert answer.status_code == 200
    assert answer.content.startswith(BEGINS[ending])
    name = f"mill-race-reading-room-{paper}.{ending}"
    assert answer.headers["content-disposition"] == f'attachment; filename="{name}"'


def test_a_paper_is_of_the_job_as_it_is_now_saved_or_not(at):
    client, where, topic = at
    topic.job.take("a", {"do": "type", "path": "windows/0/name", "value": "Weir window"})
    assert "Weir window" in client.get(f"{where}/paper/hung.svg").text
    topic.job.take("a", {"do": "undo"})


def test_the_plan_on_paper_is_the_one_around_what_is_cut_and_a_spoilt_record_is_said(tmp_path):
    (tmp_path / "jobs").mkdir()
    job = tmp_path / "jobs" / "mill.yaml"
    job.write_text(MILL)
    cut(job, 2)
    # Of a job that is not begun the window named first would be cut first, from where the other's panels were cut.
    more = re.search(r"\n  - name: .*?(?=\n\S|\Z)", MILL, re.S).group()
    new = more.replace("River window", "Weir window")
    job.write_text(MILL.replace(more, new + more).replace("7 1/2 yd", "15 yd"))
    command = run("export", str(job), "--as", "csv", "--out", str(tmp_path / "command.csv"))
    assert command.code == 0
    with served(tmp_path / "jobs", tmp_path / "state") as (client, _, _workshop):
        where = client.get("/open/mill.yaml").headers["location"]
        assert client.get(f"{where}/paper/plan.csv").content == (tmp_path / "command.csv").read_bytes()
        record = journal_path(job)
        kept = record.read_bytes()
        record.unlink()
        assert client.get(f"{where}/paper/plan.csv").content != (tmp_path / "command.csv").read_bytes()
        record.mkdir()
        assert "What is cut already cannot be read" in client.get(f"{where}/paper/plan.csv").text
        record.rmdir()
        record.write_bytes(kept)


@pytest.mark.parametrize("end", ["sheet.exe", "passwd.pdf", "sheet.pdf?table=..%2fx.yaml", "lines.dxf?stop=x"])
def test_what_is_no_paper_is_not_here(at, end):
    client, where, _ = at
    assert client.get(f"{where}/paper/{end}").status_code == 404


def test_a_stop_that_there_is_not_is_said(at):
    client, where, _ = at
    answer = client.get(f"{where}/paper/lines.dxf?stop=99")
    assert answer.status_code == 409
    assert "The lines of a stop cannot be made of the job as it is" in answer.text
    assert "--stop 99" in answer.text
    assert f'href="{where}">Back to the job' in answer.text


def test_with_something_to_mend_no_paper_is_offered(at):
    client, where, topic = at
    assert "Cut sheet" in client.get(f"{where}/papers").text
    topic.job.take("a", {"do": "type", "path": "cloth/width", "value": "x"})
    text = client.get(f"{where}/papers").text
    assert "Cut sheet" not in text
    assert "mended first" in text
    topic.job.take("a", {"do": "undo"})
