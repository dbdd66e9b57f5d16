"""Work shown by widgets: a line that says how it goes, buttons that start and stop it, a bar."""

from __future__ import annotations

from html import escape

import ipywidgets

from checkcloth.desk.background import Work


class Said:
    """A line that says what is said of some work.

    Parameters
    ----------
    work : Work

    Attributes
    ----------
    said : Widget
    """

    def __init__(self, work: Work) -> None:
        self.work, self.said = work, ipywidgets.HTML()
        work.changed = self.show

    def show(self) -> None:
        """Show the work as it stands."""
        # What changes ten times a second is not read out; the end of it is.
        role = "alert" if self.work.alert else "status"
        live = 'aria-live="off"' if self.work.quiet else f'role="{role}"'
        self.said.value = f"<p {live}>{escape(self.work.words)}</p>"


class Task(Said):
    """A button that starts work, one that stops it, a bar, and the line.

    Parameters
    ----------
    words : str
        On the button that starts.
    work : Work

    Attributes
    ----------
    start, stop, bar : Widget
    row : Widget
        These three.
    """

    def __init__(self, words: str, work: Work) -> None:
        super().__init__(work)
        self.start, self.stop = (
            ipywidgets.Button(description=text, layout=ipywidgets.Layout(width="auto"))
            for text in (words, "Stop")
        )
        self.bar = ipywidgets.FloatProgress(min=0, max=1)
        self.bar.add_class("cc-bar")
        self.row = ipywidgets.Box([self.start, self.stop, self.bar])
        self.row.add_class("cc-form-row")
        self.stop.on_click(lambda _: work.stop())
        self._show_running()

    def show(self) -> None:
        """Show the work as it stands."""
        super().show()
        self._show_running()

    def _show_running(self) -> None:
        running = self.work.running
        self.start.disabled = running
        for widget in (self.stop, self.bar):
            widget.layout.display = "" if running else "none"
        self.bar.value = self.work.share if running else 0
