"""The job being worked on: its text, where it is kept, what was changed and can be taken back."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import field, replace
from pathlib import Path as FilePath

from jobs.io.editing import CannotEdit
from jobs.io.log import FileRefused
from jobs.io.reader import parse_job
from jobs.io.writer import job_text
from jobs.model.problems import Path
from jobs.model.records import dataclass
from projector.page.form.changes import with_value
from projector.page.form.values import values_of

MOST_STEPS = 500

Aside = dict[Path, str]


@dataclass(frozen=True)
class Document:
    """``text`` is what the form shows, ``saved`` what the file at ``path`` held when it was last read or written.

    Typing in one field is one step, however many keys it took, until the person pauses; the edit starts from ``base``,
    the text before the field was entered, so that a value cleared and typed anew keeps its remark. ``rewritten`` tells
    that the layout of the file could not be kept, so that it belongs under another name.
    """

    text: str
    path: FilePath | None = None
    saved: str | None = None
    before: tuple[str, ...] = ()
    after: tuple[str, ...] = ()
    typing: Path | None = None
    base: str = ""
    aside: Aside = field(default_factory=dict)
    rewritten: bool = False

    @property
    def changed(self) -> bool:
        """Whether there is something that no file holds yet."""
        return self.text != self.saved

    def typed(
        self, path: Path, value: str, *, needed: bool = False, paused: bool = False, listed: bool = False
    ) -> Document:
        """The same with this value at the path; windows level with one that is renamed follow. Raises CannotEdit."""
        going_on = self.typing == path
        base = self.base if going_on else self.text
        text, rewritten = _with(
            base, lambda text: _named(with_value(text, path, value, needed=needed, listed=listed), text, path)
        )
        return replace(
            self,
            text=text,
            before=self.before if going_on and not paused else self._remembered(),
            after=(),
            typing=path,
            base=base,
            rewritten=self.rewritten or rewritten,
        )

    def left_field(self) -> Document:
        """The same; what is typed next is a step of its own."""
        before = self.before[:-1] if self.typing and self.before and self.before[-1] == self.text else self.before
        return replace(self, typing=None, before=before)

    def done(self, change: Callable[[str, Aside], str]) -> Document:
        """The same with a change made as one step; the change may put values aside. Raises CannotEdit."""
        aside = dict(self.aside)
        text, rewritten = _with(self.text, lambda text: change(text, aside))
        if text == self.text:
            return replace(self, typing=None, aside=aside)
        return replace(
            self,
            text=text,
            before=self._remembered(),
            after=(),
            typing=None,
            aside=aside,
            rewritten=self.rewritten or rewritten,
        )

    def undone(self) -> Document:
        """One step back; the same where nothing was done."""
        if not self.before:
            return self
        *before, text = self.before
        return replace(self, text=text, before=tuple(before), after=(self.text, *self.after), typing=None)

    def redone(self) -> Document:
        """The step that was taken back, made again."""
        if not self.after:
            return self
        text, *after = self.after
        return replace(self, text=text, before=(*self.before, self.text), after=tuple(after), typing=None)

    def reverted(self) -> Document:
        """As it was when it was opened or last saved; that is a step too, and can be taken back."""
        if self.saved is None or self.saved == self.text:
            return self
        return replace(self, text=self.saved, before=self._remembered(), after=(), typing=None, rewritten=False)

    def kept_in(self, path: FilePath) -> Document:
        """The same after it was written to this file."""
        return replace(self, path=path, saved=self.text, typing=None, rewritten=False)

    def _remembered(self) -> tuple[str, ...]:
        return (*self.before, self.text)[-MOST_STEPS:]


def _named(text: str, before: str, path: Path) -> str:
    """The changed text, in which what names a renamed window or cloth names it by its new name."""
    values = values_of(text)
    if path[-1:] != ("name",):
        return text
    naming = "level_with" if path[0] == "windows" else "cloth" if path[:-1] in values.cloths else ""
    old, new = values_of(before).text(path), values.text(path)
    for one in [other for other in values.texts if other[-1] == naming]:
        if old.strip() and values.text(one).casefold() == old.casefold():
            text = with_value(text, one, new, needed=True)
    return text


def _with(text: str, change: Callable[[str], str]) -> tuple[str, bool]:
    """The changed text, and whether it had to be written anew because its layout did not allow the change."""
    try:
        return change(text), False
    except CannotEdit as refused:
        try:
            anew = job_text(parse_job(text, "job"))
        except (FileRefused, ValueError):
            raise refused from None
        return change(anew), True


def elsewhere(document: Document) -> str:
    """The text as it may lie in another folder than its file: pictures of prints are named from the root."""
    text, path = document.text, document.path
    if path is None:
        return text
    values = values_of(text)
    for cloth in values.cloths:
        picture = values.text((*cloth, "picture")).strip()
        if picture:
            text = with_value(text, (*cloth, "picture"), str(path.resolve().parent / picture))
    return text
