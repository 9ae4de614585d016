"""Jobs opened, begun and saved; unsaved work kept while it is unsaved."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from tkinter import filedialog
from typing import TYPE_CHECKING

from jobs.cutting.slugs import slug
from jobs.io.log import FileRefused
from jobs.io.source import read_text
from projector.desk.window.dialogs import choose, tell
from projector.desk.window.start import Offers
from projector.files.write import CannotWrite, write_whole
from projector.page.form.blank import blank_job, examples
from projector.page.form.document import Document
from projector.page.form.values import values_of
from projector.page.kept import Draft
from projector.words.wording import file_lines

if TYPE_CHECKING:
    from projector.desk.window.desk import Desk

KINDS = (("Job files", "*.yaml *.yml"), ("All files", "*"))


class Filing:
    """Everything about files that the window offers."""

    def __init__(self, desk: Desk) -> None:
        self._desk = desk

    def offers(self) -> Offers:
        """What the first page offers now."""
        desk = self._desk
        return Offers(
            new=lambda unit: desk.begin(Document(blank_job(unit))),
            browse=self.browse,
            examples=[(title, self._example(text)) for title, text in examples().items()],
            recent=[(name, lambda path=path: self.open(path)) for name, path in _named(desk.settings.recent)],  # type: ignore[misc]
            unsaved=[self._unsaved(path, draft) for path, draft in desk.drafts.left()],
        )

    def new(self) -> None:
        """Begin another job: back to the first page."""
        if self.may_leave():
            self._desk.drafts.drop()
            self._desk.document = None
            self._desk.welcome()

    def browse(self) -> None:
        """Choose a job file and open it."""
        name = filedialog.askopenfilename(parent=self._desk.root, title="Open a job", filetypes=KINDS)
        if name and self.may_leave():
            self.open(Path(name))

    def open(self, path: Path) -> None:
        """Open this file; one that the form cannot show says why and where."""
        try:
            text = read_text(path)
            values_of(text)
        except FileRefused as refused:
            lines = [f"{line}." for line in file_lines(refused)]
            advice = "The form cannot show this file. Mend it in a text editor, then open it again."
            tell(self._desk.root, self._desk.look, f"{path.name} cannot be opened", [*lines, "", advice])
            return
        self._desk.settings.opened(path)
        self._desk.drafts.drop()
        self._desk.begin(Document(text, path, text))

    def from_the_job(self, name: str) -> str:
        """The name of a file as a job tells it: from its own folder where the file lies in it."""
        document = self._desk.document
        if document is None or document.path is None or not Path(name).is_absolute():
            return name
        folder = document.path.resolve().parent
        return Path(name).relative_to(folder).as_posix() if Path(name).is_relative_to(folder) else name

    def save(self) -> bool:
        """Save the job where it is kept; whether it was. A new one, or one whose layout changed, asks for a name."""
        document = self._desk.document
        if document is None:
            return False
        self._desk.left()
        if document.path is None or document.rewritten:
            return self.save_as()
        if self._changed_elsewhere(document):
            said = choose(
                self._desk.root,
                self._desk.look,
                f"{document.path.name} was changed by another program",
                ["Since it was opened here the file has got another content. Saving over it would lose that."],
                [("as", "Save under another name"), ("over", "Save over it"), ("", "Cancel")],
            )
            if said != "over":
                return self.save_as() if said == "as" else False
        return self._write(document.path)

    def save_as(self) -> bool:
        """Ask for a name and save there; whether it was saved."""
        document = self._desk.document
        if document is None:
            return False
        title = self._desk.values.text(("job",))
        folder = str(document.path.parent if document.path else self._folder())
        name = filedialog.asksaveasfilename(
            parent=self._desk.root,
            title="Save the job",
            initialdir=folder,
            initialfile=f"{slug(title or 'job')}.yaml",
            defaultextension=".yaml",
            filetypes=KINDS,
        )
        return self._write(Path(name)) if name else False

    def may_leave(self) -> bool:
        """Whether the job may be left: it is saved, or the person agrees to lose what is not."""
        document = self._desk.document
        if document is None or not document.changed or (document.path is None and not document.before):
            return True
        said = choose(
            self._desk.root,
            self._desk.look,
            "Save the changes?",
            [f"{self._desk.values.text(('job',)) or 'This job'} has changes that are in no file yet."],
            [("save", "Save"), ("drop", "Do not save"), ("", "Stay")],
        )
        return self.save() if said == "save" else said == "drop"

    def keep_draft(self) -> None:
        """Keep unsaved work, so that a power cut loses nothing."""
        document = self._desk.document
        if document is None or not document.changed or (document.path is None and not document.before):
            self._desk.drafts.drop()
            return
        path = str(document.path.resolve()) if document.path else None
        try:
            self._desk.drafts.keep(Draft(document.text, path, document.saved))
        except CannotWrite as refused:
            self._desk.bars.say(f"\u2716 Unsaved work cannot be kept: {refused}")

    def _write(self, path: Path) -> bool:
        document = self._desk.document
        assert document is not None
        try:
            write_whole(path, document.text)
        except CannotWrite as refused:
            tell(self._desk.root, self._desk.look, "It was not saved", [str(refused)])
            return False
        self._desk.settings.opened(path)
        self._desk.drafts.drop()
        self._desk.show(document.kept_in(path))
        return True

    def _changed_elsewhere(self, document: Document) -> bool:
        assert document.path is not None
        try:
            return document.path.exists() and read_text(document.path) != document.saved
        except FileRefused:
            return True

    def _folder(self) -> Path:
        recent = self._desk.settings.recent
        return recent[0].parent if recent else Path.home()

    def _example(self, text: str) -> Callable[[], None]:
        return lambda: self._desk.begin(Document(text))

    def _unsaved(self, path: Path, draft: Draft) -> tuple[str, Callable[[], None], Callable[[], None]]:
        def go_on() -> None:
            file = Path(draft.path) if draft.path else None
            self._desk.drafts.take(path)
            self._desk.begin(
                Document(draft.text, file, draft.saved, before=() if draft.saved is None else (draft.saved,))
            )
            self.keep_draft()

        def drop() -> None:
            self._desk.drafts.take(path)
            self._desk.welcome()

        try:
            title = values_of(draft.text).text(("job",)) or "a job without a name"
        except FileRefused:
            title = "a job"
        return (f"{title} ({Path(draft.path).name})" if draft.path else title), go_on, drop


def _named(paths: list[Path]) -> list[tuple[str, Path]]:
    """Each file with its name, and its folders where another has the same name."""
    names = [path.name for path in paths]
    home = str(Path.home())
    return [(str(path).replace(home, "~") if names.count(path.name) > 1 else path.name, path) for path in paths]
