import pytest

from projector.page.form.blank import examples
from projector.page.server.papers import PAPERS
from tests.projector.page.server.serving import served

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
