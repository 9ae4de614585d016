"""One field of the form as widgets: its name, where it is typed or chosen, what it means, and what is wrong with it."""

from __future__ import annotations

import tkinter as tk
from collections.abc import Callable
from tkinter import colorchooser, filedialog, ttk
from typing import Protocol

from projector.desk.window.flow import Flow
from projector.desk.window.look import Look
from projector.page.form.field import Choice, Field, Kind, Switch

OnValue = Callable[[str], None]
PICTURES = (("Pictures", "*.png *.jpg *.jpeg *.tif *.tiff *.webp *.bmp *.PNG *.JPG *.JPEG"), ("All files", "*"))


class Row(Protocol):
    """A field on the page."""

    frame: ttk.Frame
    entry: tk.Widget

    def show(self, value: str) -> None: ...

    def complain(self, words: str) -> None: ...


class _Framed:
    """Label above, input in the middle, the term and the complaint below."""

    def __init__(self, parent: tk.Misc, look: Look, label: str, term: str) -> None:
        self.frame = ttk.Frame(parent, padding=(0, 6, 0, 4))
        self._label = ttk.Label(self.frame, text=label, style="Bold.TLabel", justify="left")
        self._term = ttk.Label(self.frame, text=term, style="Quiet.TLabel", justify="left")
        self._complaint = ttk.Label(self.frame, style="Wrong.TLabel", justify="left")
        self._term.grid(row=3, column=0, columnspan=3, sticky="w", pady=(2, 0))
        self.frame.bind("<Configure>", lambda event: self._wrap(event.width))

    def _wrap(self, width: int) -> None:
        for label in (self._term, self._complaint):
            label.configure(wraplength=max(120, width - 8))

    def complain(self, words: str) -> None:
        """Show what is wrong, or nothing; a sign and words say it, not the colour alone."""
        self._complaint.configure(text=f"\u2716 {words}" if words else "")
        if words:
            self._complaint.grid(row=2, column=0, columnspan=3, sticky="w", pady=(2, 0))
        else:
            self._complaint.grid_remove()


class TypedRow(_Framed):
    """A field to type into: a native entry with its own clipboard and input methods."""

    def __init__(
        self, parent: tk.Misc, look: Look, field: Field, unit: str, on: OnValue, left: Callable[[], None]
    ) -> None:
        left_out = f" Left empty: {field.usual}." if field.usual else ""
        super().__init__(parent, look, field.label, field.term + left_out)
        self._on = on
        self._quiet = False
        self._variable = tk.StringVar(parent)
        self._variable.trace_add("write", lambda *_: self._written())
        self._wide_from = look.em(46 if field.kind is Kind.COLOUR else 34)
        entry = ttk.Entry(self.frame, textvariable=self._variable, width=14, font="TkTextFont")
        self.entry: tk.Widget = entry
        entry.bind("<FocusOut>", lambda _: left(), add=True)
        self._label.configure(width=-18, wraplength=look.em(19))
        self._after = self._hint(field, unit)
        self._after.grid(row=0, column=2, sticky="w", padx=(8, 0))
        self._named = field.kind in (Kind.NAME, Kind.FILE, Kind.COLOURS)
        self.frame.columnconfigure(1 if self._named else 2, weight=1)
        self._stack(self._named)

    def _hint(self, field: Field, unit: str) -> tk.Widget:
        """What stands after the entry: the unit of a length, a button that picks a colour."""
        if field.kind is Kind.FILE:
            return ttk.Button(self.frame, text="Choose...", command=self._choose)
        if field.kind is not Kind.COLOUR:
            text = unit if field.kind is Kind.LENGTH else ""
            return ttk.Label(self.frame, text=text, style="Quiet.TLabel")
        self._swatch = tk.Button(self.frame, text="Pick...", font="TkDefaultFont", relief="raised", command=self._pick)
        return self._swatch

    def _stack(self, stacked: bool) -> None:
        """The entry beside its label, or below it where the page is narrow or a name needs the room."""
        self._label.grid(row=0, column=0, columnspan=3 if stacked else 1, sticky="w", padx=(0, 10))
        row, column, span = (1, 0, 2) if stacked else (0, 1, 1)
        self.entry.grid(row=row, column=column, columnspan=span, sticky="we" if self._named else "w")
        self._after.grid(row=row, column=2)
        self._is_stacked = stacked

    def _wrap(self, width: int) -> None:
        super()._wrap(width)
        stacked = self._named or width < self._wide_from
        if stacked is not self._is_stacked:
            self._stack(stacked)

    def show(self, value: str) -> None:
        """Put a value in without telling."""
        if _parts(self._variable.get()) != _parts(value):
            self._quiet = True
            self._variable.set(value)
            self._quiet = False
        self._tint(value)

    def complain(self, words: str) -> None:
        """As for every field; the border of the entry shows it too."""
        super().complain(words)
        self.entry.configure(style="Wrong.TEntry" if words else "TEntry")  # type: ignore[call-arg]

    def _written(self) -> None:
        if not self._quiet:
            self._tint(self._variable.get())
            self._on(self._variable.get())

    def _choose(self) -> None:
        name = filedialog.askopenfilename(parent=self.frame, title="Picture of one repeat", filetypes=PICTURES)
        if name:
            self._variable.set(name)

    def _pick(self) -> None:
        _, colour = colorchooser.askcolor(self._variable.get() or None, parent=self.frame, title="Colour of the ground")
        if colour:
            self._variable.set(colour)

    def _tint(self, value: str) -> None:
        if not hasattr(self, "_swatch"):
            return
        try:
            red, green, blue = (part >> 8 for part in self.frame.winfo_rgb(value.strip()))
        except tk.TclError:
            return
        dark = 0.3 * red + 0.59 * green + 0.11 * blue < 128
        ground, ink = f"#{red:02x}{green:02x}{blue:02x}", "#ffffff" if dark else "#000000"
        self._swatch.configure(background=ground, foreground=ink, activebackground=ground, activeforeground=ink)


class ChosenRow(_Framed):
    """A field of which one of a few words is chosen; each is a button of its own, so that a click is enough."""

    def __init__(
        self, parent: tk.Misc, look: Look, item: Field | Switch, choices: tuple[Choice, ...], on: OnValue
    ) -> None:
        super().__init__(parent, look, item.label, item.term)
        self._variable = tk.StringVar(parent)
        self._usual = item.usual if isinstance(item, Field) else ""
        self._label.grid(row=0, column=0, columnspan=3, sticky="w")
        flow = Flow(self.frame)
        flow.grid(row=4, column=0, columnspan=3, sticky="we", pady=(2, 0))
        self.entry: tk.Widget = flow
        for choice in choices:
            button = ttk.Radiobutton(
                flow,
                text=choice.label,
                value=choice.word,
                variable=self._variable,
                command=lambda: on(self._variable.get()),
            )
            flow.add(button)
            self.entry = button if self.entry is flow else self.entry

    def show(self, value: str) -> None:
        """Put a value in without telling; left out, what is usual is shown as chosen."""
        self._variable.set(value or self._usual)


class TickedRow(_Framed):
    """A field of which any of a few words are ticked."""

    def __init__(self, parent: tk.Misc, look: Look, field: Field, on: OnValue) -> None:
        super().__init__(parent, look, field.label, field.term)
        self._label.grid(row=0, column=0, columnspan=3, sticky="w")
        flow = Flow(self.frame)
        flow.grid(row=4, column=0, columnspan=3, sticky="we", pady=(2, 0))
        self.entry: tk.Widget = flow
        self._ticks = {choice.word: tk.BooleanVar(parent) for choice in field.choices}

        def tell() -> None:
            on(", ".join(word for word, tick in self._ticks.items() if tick.get()))

        for choice in field.choices:
            box = ttk.Checkbutton(flow, text=choice.label, variable=self._ticks[choice.word], command=tell)
            flow.add(box)
            self.entry = box if self.entry is flow else self.entry

    def show(self, value: str) -> None:
        """Put the ticks in without telling."""
        said = _parts(value)
        for word, tick in self._ticks.items():
            tick.set(word in said)


def _parts(value: str) -> list[str]:
    """What stands between the commas: a comma just typed is no change."""
    return [part.strip() for part in value.split(",") if part.strip()]


AnyRow = TypedRow | ChosenRow | TickedRow


def row_of(
    parent: tk.Misc,
    look: Look,
    item: Field | Switch,
    unit: str,
    others: list[str],
    on: OnValue,
    left: Callable[[], None],
) -> AnyRow:
    """The widgets of a field or switch; ``others`` are the names of windows to choose from."""
    if isinstance(item, Switch) or item.kind is Kind.CHOICE:
        return ChosenRow(parent, look, item, item.choices, on)
    if item.kind is Kind.SEVERAL:
        return TickedRow(parent, look, item, on)
    if item.kind is Kind.WINDOW:
        return ChosenRow(parent, look, item, tuple(Choice(name, name) for name in others), on)
    return TypedRow(parent, look, item, unit, on, left)
