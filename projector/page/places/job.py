"""The place of one job: its form, its problems, and what comes of it, as named parts that are told when they change."""

from __future__ import annotations

from dataclasses import field
from typing import Any

from jobs.model.records import dataclass
from projector.page.form.open_job import OpenJob, path_text
from projector.page.form.pages import fields_shown
from projector.page.places.form import FormSection, Part, sections
from projector.page.places.templates import rendered
from projector.page.work.asked import HOUSE


@dataclass
class Results:
    """What was worked out last. ``cut`` is what of it is cut already, ``old`` tells that the form has changed since."""

    order: dict[str, Any] = field(default_factory=dict)
    plan: dict[str, Any] = field(default_factory=dict)
    hung: dict[int, str] = field(default_factory=dict)
    cloth: str = ""
    ways: tuple[dict[str, Any], ...] = ()
    ways_are_needed: bool = False
    refused: tuple[str, ...] = ()
    refused_at: tuple[tuple[str | int, ...], ...] = ()
    """The path of what each line is about."""
    cut: dict[str, Any] = field(default_factory=dict)
    progress: str = ""
    old: bool = True
    busy: bool = False

    def stale(self) -> None:
        """The form has changed: what is shown is of a moment ago."""
        self.old = True

    def take(self, answer: dict[str, Any]) -> None:
        """Take an answer in; the first of a request puts what was refused aside."""
        match answer["stage"]:
            case "order":
                self.order, self.refused, self.old, self.busy = answer, (), False, True
                self.hung = {}
            case "picture" if answer["of"] == "hung":
                self.hung[answer["window"]] = answer["svg"]
            case "picture":
                self.cloth = answer["svg"]
            case "cuts":
                self.cut = answer
            case "progress":
                self.progress = answer["words"]
            case "plan":
                self.plan, self.progress = answer, ""
            case "savings":
                self.ways, self.ways_are_needed = tuple(answer["ways"]), bool(answer.get("short"))
            case "refused":
                self.refused, self.old, self.progress = tuple(answer["lines"]), False, ""
                self.refused_at = tuple(map(tuple, answer["paths"]))
                self.plan, self.ways = {}, ()
            case "fault":
                self.refused = (f"Working it out went wrong ({answer['words']}). Please report it.",)
                self.refused_at = ((),)
        if answer["stage"] in ("done", "refused", "fault"):
            self.busy = False


@dataclass(frozen=True)
class Link:
    """A problem or doubt in the list: where it is, in words, and the field it leads to."""

    where: str
    words: str
    field: str = ""
    take_out: str = ""
    agree: str = ""


def job_parts(
    job: OpenJob, results: Results, window: int, trouble: str, memo: dict[str, tuple[object, str]]
) -> dict[str, str]:
    """The parts of the place by name, each as HTML; ``memo`` keeps parts whose values are the same as last time."""
    form = sections(job)
    parts = {
        "bar": rendered("parts/bar.html", job=job, trouble=trouble, name=job.file.name if job.file else ""),
        "chips": rendered("parts/chips.html", sections=form),
        "mend": rendered("parts/mend.html", problems=_problems(job), doubts=_doubts(job)),
    }
    for section in form:
        inside = {part.id: _remembered(memo, part) for part in section.parts}
        parts[f"s-{section.key}"] = _section(job, section, {})
        parts |= inside
    parts |= _result_parts(job, results, window)
    return parts


def whole_sections(job: OpenJob, parts: dict[str, str]) -> list[tuple[FormSection, str]]:
    """The sections with their parts in them, for a page that is loaded."""
    return [(section, _section(job, section, parts)) for section in sections(job)]


def _section(job: OpenJob, section: FormSection, inside: dict[str, str]) -> str:
    return rendered("parts/section.html", section=section, inside=inside, print=f"/job/{job.name}/print")


def _remembered(memo: dict[str, tuple[object, str]], part: Part) -> str:
    held = memo.get(part.id)
    if held is not None and held[0] == part:
        return held[1]
    html = rendered("parts/block.html", part=part)
    memo[part.id] = part, html
    return html


def _result_parts(job: OpenJob, results: Results, window: int) -> dict[str, str]:
    names = [
        job.values.text(("windows", number, "name")).strip() or f"Window {number + 1}"
        for number in range(job.values.count(("windows",)))
    ]
    mend = job.complaints.count
    shown = fields_shown(job.values) if results.refused else {}
    lead = [f"f-{'-'.join(map(str, path))}" if path in shown else "" for path in results.refused_at]
    refused = list(zip(results.refused, lead, strict=True)) if results.refused else []
    return {
        "buy": rendered("parts/buy.html", results=results, refused=refused, mend=mend),
        "which": rendered("parts/which.html", names=names, window=window, house=HOUSE),
        "hung": rendered("parts/picture.html", id="hung", svg=results.hung.get(window, ""), old=results.old or mend),
        "cloth": rendered("parts/picture.html", id="cloth", svg=results.cloth, old=results.old or mend),
        "peek": rendered("parts/peek.html", results=results, mend=mend),
        "order": rendered("parts/order.html", results=results, mend=mend),
    }


def _problems(job: OpenJob) -> list[Link]:
    fields = fields_shown(job.values)
    found = [
        Link(_where(path, job, fields[path][1].label), words, f"f-{'-'.join(map(str, path))}")
        for path, words in job.complaints.beside.items()
    ]
    found += [Link("", one.words, take_out=path_text(one.path) if one.path else "") for one in job.complaints.elsewhere]
    return found


def _doubts(job: OpenJob) -> list[Link]:
    fields = fields_shown(job.values)
    return [
        Link(_where(path, job, fields[path][1].label), words, f"f-{'-'.join(map(str, path))}", agree=path_text(path))
        for path, (words, _) in job.doubts.items()
    ]


def _where(path: tuple[str | int, ...], job: OpenJob, label: str) -> str:
    """Which window or piece a field is of, and the field."""
    if path[0] == "windows" and isinstance(path[1], int):
        name = job.values.text((*path[:2], "name")).strip() or f"Window {path[1] + 1}"
        return f"{name}, {label}"
    if path[:2] == ("cloth", "pieces") and len(path) > 2 and isinstance(path[2], int):
        return f"Piece {path[2] + 1}, {label}"
    return label
