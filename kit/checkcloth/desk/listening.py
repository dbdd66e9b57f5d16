"""Which slider or field changes what."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

from checkcloth.cloth.length import Length

if TYPE_CHECKING:
    from checkcloth.desk.desk import Desk
    from checkcloth.desk.doing import Doing

__all__ = ["listen"]


def listen(desk: Desk, doing: Doing) -> None:
    """Let every control of a desk change its state, with faults said on the page."""
    controls = desk.controls

    def on(widget: Any, trait: str, act: Callable[[Any], None]) -> None:
        def heard(change: Any) -> None:
            if not desk.sending.showing and not desk.retired:
                desk.sending.message = ""
                doing.guard(lambda: act(change["new"]))

        widget.observe(heard, trait)

    def set_size(size: Length) -> None:
        desk.commit(desk.state.with_(size=size), f"check size {size}", "size")

    def set_strength(per_cent: int) -> None:
        state = desk.state.with_(strength=per_cent / 100)
        desk.commit(state, f"strength {per_cent} %", "strength")

    def set_mixing(name: str) -> None:
        desk.commit(desk.state.with_(mixing=name or None), f"mixing {name or 'as each came'}")

    on(controls.size, "index", lambda index: set_size(controls.steps[index]))
    on(controls.size_text, "value", lambda text: set_size(Length(text)) if text else None)
    on(controls.strength, "value", set_strength)
    on(controls.mixing, "value", set_mixing)
    on(controls.stripes, "value", lambda n: desk.redraw(f"{n} stripes", "stripes", stripes=n))
    on(
        controls.palette,
        "value",
        lambda name: desk.redraw(f"palette {name}", palette=name, ground=""),
    )
    on(
        controls.ground,
        "value",
        lambda name: desk.redraw(f"ground {name or 'drawn as well'}", ground=name),
    )
    on(controls.count, "value", lambda n: desk.redraw(f"{n} at most", count=n))
