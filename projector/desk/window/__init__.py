"""The window itself: the only place that imports tkinter."""
