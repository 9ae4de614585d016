"""At the table and on paper: calibrate, practise, cut, and what is printed or sent."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from tkinter import filedialog
from typing import TYPE_CHECKING

from jobs.cutting.slugs import slug
from projector.desk import errands
from projector.desk.errands import Errand, Outcome
from projector.desk.window.dialogs import choose, tell
from projector.desk.window.runner import Runner
from projector.files.write import make_folder, write_whole
from projector.page.form.document import elsewhere
from projector.page.kept import state_folder

if TYPE_CHECKING:
    from projector.desk.window.desk import Desk

TABLES = (("Table files", "*.yaml *.yml"), ("All files", "*"))
Then = Callable[[int | None], None]


class Tablework:
    """What is done at the table; the sessions themselves are processes of their own."""

    def __init__(self, desk: Desk) -> None:
        self._desk = desk
        self.runner = Runner(desk.root)

    def calibrate(self) -> None:
        """Calibrate the projector, or practise it where there is none."""
        self._with_screen("Calibrate", self._calibrate)

    def practise(self) -> None:
        """Cut the job as it is now on the simulated table."""
        if (job := self._copy_of_job()) is not None:
            self._run(errands.cut(job, None, None), hidden=(job,))

    def cut(self) -> None:
        """Cut the job by the light of the projector, or on the simulated table where there is none."""
        if self._sound():
            self._with_screen("Cut", self._cut)

    def sheet(self) -> None:
        """Write the cut sheet and tags."""
        job = self._copy_of_job()
        if job is not None and (out := self._name_for("Cut sheet", ".pdf")):
            self._run(errands.sheet(job, out, self._desk.values.unit), hidden=(job,))

    def picture(self) -> None:
        """Write a picture of the windows or of the cloth."""
        job = self._copy_of_job()
        if job is None:
            return
        answers = [("hung", "The windows as they hang"), ("cloth", "The cloth with its cuts"), ("", "Cancel")]
        of = choose(self._desk.root, self._desk.look, "A picture of what?", [], answers)
        if of and (out := self._name_for("Picture", ".png")):
            self._run(errands.picture(job, out, of), hidden=(job,))

    def copy_order(self) -> None:
        """Put the order on the clipboard."""
        if not self._sound():
            return
        text = self._desk.results.order_text()
        if not text:
            self._desk.bars.say("There is no order yet: it is still being reckoned, or the job cannot be cut as it is.")
        else:
            self._desk.root.clipboard_clear()
            self._desk.root.clipboard_append(text)
            self._desk.bars.say("The order is on the clipboard: paste it into a letter.")

    def _calibrate(self, display: int | None) -> None:
        if display is None:
            folder = state_folder()
            make_folder(folder)
            table = folder / "practice-table.yaml"
            self._run(errands.calibrate(table, self._desk.values.unit, None), hidden=(table,))
            return
        name = filedialog.asksaveasfilename(
            parent=self._desk.root, title="Keep the calibration in", initialfile="table.yaml", filetypes=TABLES
        )
        if name:
            self._desk.settings.remember("table", name)
            self._run(errands.calibrate(Path(name), self._desk.values.unit, display))

    def _cut(self, display: int | None) -> None:
        if display is None:
            self.practise()
            return
        table = self._table()
        if table is None or not self._desk.filing.save():
            return
        document = self._desk.document
        assert document is not None
        assert document.path is not None
        job = document.path

        def ended(cutting: Outcome) -> None:
            self.runner.run(errands.status(job), lambda record: self._tell(errands.with_record(cutting, record)))

        self._run(errands.cut(job, table, display), then=ended)

    def _table(self) -> Path | None:
        """The table file to cut by; the one used last unless another is chosen."""
        last = self._desk.settings.text("table")
        answers = [("other", "Choose a table file..."), ("calibrate", "Calibrate first"), ("", "Cancel")]
        if last and Path(last).is_file():
            answers.insert(0, ("last", f"Cut by {Path(last).name}"))
        words = ["The calibration says where the inches of your table are. It holds as long as nothing was moved."]
        said = choose(self._desk.root, self._desk.look, "By which calibration?", words, answers)
        if said == "calibrate":
            self.calibrate()
        if said == "other":
            last = filedialog.askopenfilename(parent=self._desk.root, title="The table file", filetypes=TABLES)
            if last:
                self._desk.settings.remember("table", last)
        return Path(last) if said in ("last", "other") and last else None

    def _with_screen(self, what: str, then: Then) -> None:
        """Ask which screen is the projector, once it is known what screens there are; None: the simulated table."""

        def found(outcome: Outcome) -> None:
            self._desk.bars.refresh()
            screens = errands.screens(outcome)
            words = ["Only one screen was found, so no projector seems to be plugged in."]
            answers = [("simulated", "Practise on the simulated table")]
            if len(screens) > 1:
                words = ["Which screen is the projector?"]
                answers = [(str(number), f"{number}: {name}") for number, name in reversed(screens)] + answers
            elif screens:
                answers.append((str(screens[0][0]), "It is this screen"))
            said = choose(self._desk.root, self._desk.look, what, words, [*answers, ("", "Cancel")])
            if said:
                then(None if said == "simulated" else int(said))

        if not self.runner.busy:
            self._desk.bars.say(errands.SCREENS.runs)
            self.runner.run(errands.SCREENS, found)

    def _run(
        self, errand: Errand, hidden: tuple[Path, ...] = (), then: Callable[[Outcome], None] | None = None
    ) -> None:
        """Run the errand and say what came of it, or do ``then`` with that."""
        desk = self._desk
        if self.runner.busy:
            open_still = ["Another window of the table is still open; leave it first."]
            tell(desk.root, desk.look, "One thing after another", open_still)
            return
        desk.bars.say(errand.runs)
        self.runner.run(errand, then or self._tell, hidden)

    def _tell(self, outcome: Outcome) -> None:
        self._desk.bars.refresh()
        tell(self._desk.root, self._desk.look, outcome.heading, outcome.lines or ("It is done.",))

    def _sound(self) -> bool:
        """Whether the job has nothing to mend; otherwise the person is led to the first thing."""
        desk = self._desk
        if desk.document is None:
            return False
        if desk.complaints.job is not None:
            return True
        tell(desk.root, desk.look, "Something is to be mended first", [*desk.complaints.beside.values()][:6])
        if desk.complaints.beside:
            desk.go_to(next(iter(desk.complaints.beside)))
        return False

    def _copy_of_job(self) -> Path | None:
        """A file with the job as it is now, saved or not."""
        if not self._sound():
            return None
        document = self._desk.document
        assert document is not None
        if document.path is not None and not document.changed:
            return document.path
        folder = state_folder() / "copies"
        make_folder(folder)
        path = folder / f"{slug(self._desk.values.text(('job',)))[:60]}.yaml"
        write_whole(path, elsewhere(document))
        return path

    def _name_for(self, title: str, ending: str) -> Path | None:
        document = self._desk.document
        assert document is not None
        folder = document.path.parent if document.path else Path.home()
        name = filedialog.asksaveasfilename(
            parent=self._desk.root,
            title=title,
            initialdir=str(folder),
            initialfile=slug(self._desk.values.text(("job",))) + ending,
            defaultextension=ending,
        )
        return Path(name) if name else None
