"""A job that is open: its text with what was changed, what pages ask of it, and what is answered. No network here."""

from __future__ import annotations

import time
from collections.abc import Callable, Mapping
from dataclasses import replace
from pathlib import Path as FilePath
from typing import Any

from jobs.cutting.cloths import jobs_of_cloths
from jobs.io.editing import CannotEdit, Edit, edited
from jobs.io.log import FileRefused
from jobs.model.choices import Unit
from jobs.model.cuts import Hand
from jobs.model.doubts import doubts
from jobs.model.job import Job
from jobs.model.lengths import parse_length
from jobs.model.problems import Path
from jobs.model.records import dataclass
from projector.page.form import changes, plainness
from projector.page.form.complaints import Complaints, complaints
from projector.page.form.document import Aside, Document
from projector.page.form.field import Field, Group, Kind, Switch
from projector.page.form.implied import told_or_implied
from projector.page.form.pages import Adding, Block, fields_shown, parts_shown
from projector.page.form.units import in_unit
from projector.page.form.values import Values, values_of
from projector.page.form.wishing import wished_place, with_wish, without_wish
from projector.page.kept import Draft

PAUSE_S = 2.0
"""After so long without a key, what is typed next is a step of its own."""
LONGEST_VALUE = 2000

Reply = dict[str, Any]


class Refused(Exception):  # noqa: N818 - says what happened
    """What a page asked cannot be done; the words are for the person."""


@dataclass(frozen=True)
class Way:
    """A way to buy less cloth: what it saves, in words, and its edits of the text."""

    saves: str
    sentence: str
    edits: tuple[Edit, ...]


class OpenJob:
    """One job that pages show. The text is the only state; all that is shown follows from it.

    ``version`` counts the changes. ``agreed`` are the doubts that the person agreed to, each with the value it was
    raised for. ``looks`` are pictures of pairs that may look either way, by window and answer. ``asking_unit`` is
    another unit that was chosen, until it is said what becomes of the numbers.
    """

    def __init__(
        self, name: str, document: Document, agreed: tuple[str, ...] = (), clock: Callable[[], float] = time.monotonic
    ) -> None:
        self.name, self.document = name, document
        self.agreed = frozenset(agreed)
        self.version = 0
        self.asking_unit = ""
        self.ways: tuple[Way, ...] = ()
        self.ways_of = ""
        self.looks: dict[int, dict[str, str]] = {}
        self._clock, self._typed_at = clock, -PAUSE_S
        self._touched: dict[Path, str] = {}
        self._read()

    @property
    def title(self) -> str:
        """What the job is called."""
        return self.values.text(("job",)).strip() or "A job without a name"

    @property
    def file(self) -> FilePath | None:
        """The file it is kept in."""
        return self.document.path

    @property
    def unsaved(self) -> bool:
        """Whether there is something that no file holds yet and that somebody has typed."""
        return self.document.changed and (self.document.path is not None or bool(self.document.before))

    @property
    def draft(self) -> Draft:
        """What is kept of it while it is unsaved."""
        path = str(self.document.path) if self.document.path else None
        return Draft(self.document.text, path, self.document.saved, tuple(sorted(self.agreed)))

    @property
    def doubts(self) -> dict[Path, tuple[str, str]]:
        """Doubts by where they stand: each with its words and with what agrees to it; those agreed to left out."""
        return self._doubts

    def take(self, page: str, asked: Mapping[str, Any]) -> Reply:
        """Do what a page asks. Raises Refused, with the words of why not."""
        do = _ASKED.get(str(asked.get("do")))
        if do is None:
            raise Refused("This page is older than the program. Load it again.")
        try:
            return do(self, page, asked)
        except CannotEdit as refused:
            raise Refused(f"{refused}.") from None
        except (KeyError, TypeError, ValueError, IndexError, StopIteration):
            raise Refused("That is not there any more. Load the page again.") from None

    @property
    def cloths(self) -> tuple[str, ...]:
        """The names of the cloths from which something is cut; none where it is one alone, or the job is not whole."""
        if self.complaints.job is None:
            return ()
        names = tuple(one.name for one in jobs_of_cloths(self.complaints.job))
        return names if len(names) > 1 else ()

    # What can be asked.

    def _type(self, page: str, asked: Mapping[str, Any]) -> Reply:
        """A value was typed or chosen; one that another page has changed meanwhile is not written over."""
        path, value = _path(asked["path"]), str(asked["value"])[:LONGEST_VALUE]
        found = fields_shown(self.values).get(path)
        if found is None:
            raise Refused("This field is not there any more: another page changed the job.")
        field = found[1]
        theirs = told_or_implied(self.values, path)
        if self._touched.get(path, page) != page and theirs not in (asked.get("saw"), value):
            return {"clash": theirs}
        if path == ("units",):
            self.asking_unit = value if value != self.values.unit.value else ""
            self.version += 1
            return {}
        now = self._clock()
        paused, self._typed_at = now - self._typed_at > PAUSE_S, now
        self._set(
            self.document.typed(
                path, self._named(field, value), needed=field.needed, paused=paused, listed=field.listed
            )
        )
        self._touched[path] = page
        return {}

    def _named(self, field: Field, value: str) -> str:
        """The name of a file is told from the folder of the job."""
        if field.kind is not Kind.FILE or self.file is None or not FilePath(value).is_absolute():
            return value
        folder = self.file.resolve().parent
        return FilePath(value).relative_to(folder).as_posix() if FilePath(value).is_relative_to(folder) else value

    def _leave(self, page: str, asked: Mapping[str, Any]) -> Reply:
        self.document = self.document.left_field()
        return {}

    def _switch(self, page: str, asked: Mapping[str, Any]) -> Reply:
        """An answer that decides which keys there are."""
        path, name = _path(asked["path"]), str(asked["name"])
        block, switch = next(
            (block, item)
            for block in parts_shown(self.values)
            if isinstance(block, Block) and block.path == path
            for item in block.items
            if isinstance(item, Switch) and item.name == name
        )
        answer = str(asked["value"])
        if answer not in switch.keys:
            raise KeyError(answer)
        if switch.name == "patterned":
            step = plainness.made_patterned if answer == "yes" else plainness.made_plain
            cloth = self.values.cloth_of(path)
            if (answer == "yes") != self.values.is_patterned(path):
                self._set(self.document.done(lambda text, aside: step(text, aside, cloth)))
        else:
            self._set(self.document.done(lambda text, aside: changes.switched(text, block.path, switch, answer, aside)))
        return {}

    def _add(self, page: str, asked: Mapping[str, Any]) -> Reply:
        path = _path(asked["path"])
        group = self._list(path)
        name = changes.other_name(self.values, "Window") if group.thing == "window" else ""
        self._set(self.document.done(lambda text, _: changes.with_item(text, group, path, name)))
        first = next(item.key for item in group.items if isinstance(item, Field))
        return {"focus": _text((*path, self.values.count(path) - 1, *first))}

    def _copy(self, page: str, asked: Mapping[str, Any]) -> Reply:
        path = _path(asked["path"])
        self._block(path)
        name = changes.other_name(self.values, self.values.text((*path, "name")) or "Window")
        self._set(self.document.done(lambda text, _: changes.with_copy(text, path, name)))
        return {"focus": _text((*path[:-1], self.values.count(path[:-1]) - 1, "name"))}

    def _remove(self, page: str, asked: Mapping[str, Any]) -> Reply:
        path = _path(asked["path"])
        if self.values.count(path[:-1]) <= self._block(path).group.least:
            raise Refused("One is needed.")
        self._set(self.document.done(lambda text, _: changes.without(text, path)))
        return {}

    def _take_out(self, page: str, asked: Mapping[str, Any]) -> Reply:
        """A key that no field shows is taken out."""
        path = _path(asked["path"])
        if path not in [one.path for one in self.complaints.elsewhere]:
            raise KeyError(path)
        self._set(self.document.done(lambda text, _: changes.without(text, path)))
        return {}

    def _undo(self, page: str, asked: Mapping[str, Any]) -> Reply:
        self._set(self.document.undone())
        return {"force": True}

    def _redo(self, page: str, asked: Mapping[str, Any]) -> Reply:
        self._set(self.document.redone())
        return {"force": True}

    def _revert(self, page: str, asked: Mapping[str, Any]) -> Reply:
        self._set(self.document.reverted())
        return {"force": True}

    def _unit(self, page: str, asked: Mapping[str, Any]) -> Reply:
        """What becomes of the numbers now that another unit was chosen: ``convert``, ``keep`` or ``leave``."""
        word, self.asking_unit = self.asking_unit, ""
        if word and asked["value"] == "convert":
            self._set(self.document.done(lambda text, _: in_unit(text, Unit(word))))
        elif word and asked["value"] == "keep":
            self._set(self.document.done(lambda text, _: edited(text, [Edit(("units",), word, ("job",))])))
        else:
            self.version += 1
        return {"force": True}

    def _save_cloth(self, page: str, asked: Mapping[str, Any]) -> Reply:
        """One of the ways to buy less is taken."""
        way = self.ways[int(asked["value"])]
        if self.ways_of != self.document.text:
            raise Refused("The job has changed meanwhile. Look at the ways again.")
        self._set(self.document.done(lambda text, _: edited(text, way.edits)))
        return {"force": True, "say": f"{way.sentence[:1].upper()}{way.sentence[1:]}. Undo takes it back."}

    def _wish(self, page: str, asked: Mapping[str, Any]) -> Reply:
        """A cut shall lie near a place on the cloth."""
        job = self._whole()
        near = parse_length(str(asked["near"]), self.values.unit)
        place = wished_place(asked["panel"], asked["cut"], asked["piece"], near)
        path = _path(asked["path"])
        self._set(self.document.done(lambda text, _: with_wish(text, job, path, place)))
        return {"force": True, "say": "It is tried there. Undo takes it back."}

    def _unwish(self, page: str, asked: Mapping[str, Any]) -> Reply:
        """A cut may lie anywhere again."""
        job, path = self._whole(), _path(asked["path"])
        panel, cut = Hand(str(asked["panel"])), int(asked["cut"])
        self._set(self.document.done(lambda text, _: without_wish(text, job, path, panel, cut)))
        return {"force": True, "say": "It may lie anywhere again."}

    def _whole(self) -> Job:
        if self.complaints.job is None:
            raise Refused("Mend what is marked first.")
        return self.complaints.job

    def _agree(self, page: str, asked: Mapping[str, Any]) -> Reply:
        """A doubt is agreed to: the value is meant."""
        agrees = self._doubts[_path(asked["path"])][1]
        self.agreed |= {agrees}
        self.version += 1
        self._read()
        return {}

    # What follows.

    def replaced(self, change: Callable[[str, Aside], str]) -> None:
        """Make a change that comes from another place of the page. Raises CannotEdit."""
        self._set(self.document.done(change))

    def saved_as(self, path: FilePath) -> None:
        """It was written to this file."""
        self.document = self.document.kept_in(path)
        self.version += 1

    def _set(self, document: Document) -> None:
        if document.text != self.document.text:
            self._touched = {path: page for path, page in self._touched.items() if path in fields_shown(self.values)}
        self.document = document
        self.version += 1
        self._read()

    def _read(self) -> None:
        self.values: Values = values_of(self.document.text)
        self.complaints: Complaints = complaints(self.document.text)
        self._doubts: dict[Path, tuple[str, str]] = {}
        if self.complaints.job is None:
            return
        from projector.words.wording import Voice, sentence

        shown = fields_shown(self.values)
        for problem in doubts(self.complaints.job):
            agrees = f"{_text(problem.path)}={self.values.told(problem.path)}"
            if problem.path in shown and problem.path not in self._doubts and agrees not in self.agreed:
                said = sentence(problem, self.complaints.job.unit, Voice.FORM)
                self._doubts[problem.path] = f"{said[:1].upper()}{said[1:]}.", agrees

    def _block(self, path: Path) -> Block:
        return next(one for one in parts_shown(self.values) if isinstance(one, Block) and one.path == path)

    def _list(self, path: Path) -> Group:
        return next(one.group for one in parts_shown(self.values) if isinstance(one, Adding) and one.path == path)


_ASKED: dict[str, Callable[[OpenJob, str, Mapping[str, Any]], Reply]] = {
    "type": OpenJob._type,
    "leave": OpenJob._leave,
    "switch": OpenJob._switch,
    "add": OpenJob._add,
    "copy": OpenJob._copy,
    "remove": OpenJob._remove,
    "take out": OpenJob._take_out,
    "undo": OpenJob._undo,
    "redo": OpenJob._redo,
    "revert": OpenJob._revert,
    "unit": OpenJob._unit,
    "save cloth": OpenJob._save_cloth,
    "wish": OpenJob._wish,
    "let go": OpenJob._unwish,
    "agree": OpenJob._agree,
}


def opened(name: str, draft: Draft) -> OpenJob:
    """The job of a draft, the first step back being what its file held."""
    before = () if draft.saved is None else (draft.saved,)
    document = Document(draft.text, FilePath(draft.path) if draft.path else None, draft.saved, before=before)
    if draft.path is None:
        document = replace(document, before=(draft.text,))
    return OpenJob(name, document, draft.agreed)


def can_be_shown(text: str) -> bool:
    """Whether the form can show this text: it is YAML, however much is wrong in it."""
    try:
        values_of(text)
    except FileRefused:
        return False
    return True


def _path(told: str) -> Path:
    return tuple(int(part) if part.isdigit() else part for part in str(told).split("/") if part)


def _text(path: Path) -> str:
    return "/".join(map(str, path))


path_text = _text
