"""The folder that the page works in: which jobs and tables lie there, and no way out of it."""

from __future__ import annotations

from pathlib import Path

from jobs.cutting.slugs import slug
from jobs.io.log import FileRefused
from jobs.io.source import read_text
from jobs.model.records import dataclass
from projector.files.write import write_whole
from projector.page.form.values import values_of

ENDINGS = (".yaml", ".yml")
MOST_FILES = 500
_HEAD_BYTES = 4000


class NoSuchName(Exception):  # noqa: N818 - says what there is not
    """There is no file of that name in the folder."""


@dataclass(frozen=True)
class Listed:
    """A job file: its name, its title, and what it needs to be opened for (empty when it can be)."""

    name: str
    title: str
    wrong: str = ""


class Folder:
    """The files that the page may see. A name is one name: no folder above, below or beside, and no link out."""

    def __init__(self, path: Path) -> None:
        self.path = path.resolve()

    def file(self, name: str) -> Path:
        """The file of this name, whether it is there or not. Raises NoSuchName for what would lie elsewhere."""
        plain = name.strip()
        if not plain or plain.startswith(".") or any(one in plain for one in '/\\:\0<>|"?*') or not plain.isprintable():
            raise NoSuchName(name)
        try:
            found = (self.path / plain).resolve()
        except (OSError, ValueError):
            raise NoSuchName(name) from None
        if found.parent != self.path or len(plain) > 200:
            raise NoSuchName(name)
        return found

    def there(self, name: str) -> Path:
        """The file of this name, which is there. Raises NoSuchName."""
        found = self.file(name)
        if not found.is_file():
            raise NoSuchName(name)
        return found

    def read(self, name: str) -> str:
        """The text of a file. Raises NoSuchName and FileRefused."""
        return read_text(self.there(name))

    def write(self, name: str, text: str | bytes) -> Path:
        """Put this into the file. Raises NoSuchName and CannotWrite."""
        path = self.file(name)
        write_whole(path, text)
        return path

    def free_name(self, title: str, ending: str = ".yaml") -> str:
        """A name made of the title that no file has."""
        stem = slug(title or "job")[:60]
        number = 1
        while (self.path / (name := f"{stem}{'' if number == 1 else f'-{number}'}{ending}")).exists():
            number += 1
        return name

    def jobs(self) -> list[Listed]:
        """The job files, by name."""
        return [one for path in self._begins_with("job") if (one := _listed(path)) is not None]

    def tables(self) -> list[str]:
        """The names of the table files, the one written last first."""
        found = self._begins_with("projector")
        return [path.name for path in sorted(found, key=lambda path: -path.stat().st_mtime)]

    def _begins_with(self, key: str) -> list[Path]:
        """The files with this key at the start of a line."""
        found = sorted(path for path in self.path.iterdir() if path.suffix.lower() in ENDINGS and path.is_file())
        return [path for path in found[:MOST_FILES] if self._inside(path) and f"\n{key}:" in f"\n{_head(path)}"]

    def _inside(self, path: Path) -> bool:
        try:
            return path.resolve().parent == self.path
        except (OSError, RuntimeError):
            return False


def _head(path: Path) -> str:
    try:
        with path.open("rb") as file:
            return file.read(_HEAD_BYTES).decode("utf-8", "replace").replace("\r", "\n")
    except OSError:
        return ""


def _listed(path: Path) -> Listed | None:
    try:
        title = values_of(read_text(path)).text(("job",)).strip()
    except FileRefused:
        return Listed(path.name, path.stem, "It cannot be read as a job file; mend it in a text editor.")
    return Listed(path.name, title or path.stem)
