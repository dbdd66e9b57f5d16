"""The cloth under the hand without JupyterLab: the desk's page over a kernel played in Python.

The kernel answers the requests of the hand with the kit's own functions, late if it is told to,
so that what the page paints meanwhile is the page's own. Run it to look at the page::

    python tests/browser/hand_alone.py FOLDER
"""

from __future__ import annotations

import base64
import json
import sys
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np
from page_alone import CHECKOUT, Wall, details, open_page

from checkcloth import Colourway, read_palette
from checkcloth.cloth.mixing import find_mixing
from checkcloth.errors import CheckclothError
from checkcloth.ideas.by_hand import (
    NUDGES,
    Edit,
    add_stripe,
    colour_of,
    move_stripe,
    nudge,
    put_colour,
    remove_stripe,
    swap_stripes,
)

if TYPE_CHECKING:
    from playwright.sync_api import Page

EVEN = {str(n): [[k, 1] for s in range(1, n + 1) for k in (s, 0)] for n in range(1, 25)}
_HEAR = """() => {
    const binary = text => new DataView(Uint8Array.from(atob(text), c => c.charCodeAt(0)).buffer);
    window.model.late = 0;
    window.model.waiting = 0;
    let line = Promise.resolve(); // answers come in the order of the requests
    window.model.answer = content => {
        window.model.waiting += 1;
        const began = Date.now();
        const asked = window.askKernel(JSON.stringify(content));
        line = line.then(async () => {
            const reply = JSON.parse(await asked);
            while (Date.now() < began + window.model.late) // it may be let go meanwhile
                await new Promise(done => setTimeout(done, 10));
            window.model.waiting -= 1;
            deliver(content, reply);
        });
    };
    const deliver = (content, reply) => {
        for (const [name, text] of Object.entries(reply.bytes)) reply.traits[name] = binary(text);
        window.model.receive(reply.traits);
        const said = {...reply.said, id: content.id};
        window.model.trigger('msg:custom', said, reply.buffers.map(binary));
    };
}"""


@dataclass(frozen=True)
class Card:
    colourway: Colourway
    note: str = ""
    own: bool = False
    stays: frozenset[int] = frozenset()


@dataclass
class Kernel:
    """What the hand asks for, done with the kit's functions; ``asked`` is what it asked."""

    cards: dict[int, Card]
    palette: str = "anniversary"
    kept: tuple[int, ...] = ()
    bands: dict[str, Any] = field(default_factory=lambda: EVEN)
    asked: list[dict[str, Any]] = field(default_factory=list)
    past: list[tuple[str, dict[int, Card]]] = field(default_factory=list)
    stamp: int = 1

    @property
    def laid(self) -> dict[str, Any]:
        """Bands that are not even, as the page is told of them."""
        for stripes, bands in self.bands.items():
            if bands != EVEN[stripes]:
                count = int(stripes)
                return {"stripes": count, "wefts": count, "warp": bands, "weft": bands}
        return {}

    def wall(self) -> Wall:
        """Return the wall and the kept as they are now."""
        said = self.past[-1][0] if self.past else ""
        on_wall = [card.colourway for number, card in self.cards.items() if number not in self.kept]
        first = on_wall[0] if on_wall else None
        traits = {
            "palette": self.palette,
            "laid": self.laid,
            "strength": None,
            "stamp": self.stamp,
        }
        made = Wall(on_wall, [self.cards[n].colourway for n in self.kept], traits)
        sent = made.sent()["traits"]
        facts = sent["facts"] | {"undo": said, "message": said, "families": ["Violet", "Duck egg"]}
        traits["kept"] = [one | {"family": "Violet"} for one in sent["kept"]]
        mixing = first.mixing if first else "source-over"
        return replace(made, traits={**traits, "facts": facts, "mixing": mixing})

    def answer(self, text: str) -> str:
        """Answer a request, written as JSON."""
        content = json.loads(text)
        what = content.pop("do")
        if what not in ("look", "ping", "palette", "refresh"):
            self.asked.append({"do": what, **{k: v for k, v in content.items() if k != "id"}})
        reply: dict[str, Any] = {"said": {}, "buffers": [], "traits": {}, "bytes": {}}
        try:
            getattr(self, f"do_{what}")(reply, content)
        except (CheckclothError, ValueError) as error:
            reply["said"] = {"error": str(error)}
        return json.dumps(reply)

    def _send(self, reply: dict[str, Any]) -> None:
        self.stamp += 1
        reply |= self.wall().sent()

    def _put(self, reply: dict[str, Any], number: int, card: Card, words: str) -> None:
        self.past.append((words, dict(self.cards)))
        self.cards[number] = card
        self._send(reply)

    def _edit(
        self, reply: dict[str, Any], content: dict[str, Any], edit: Edit, **changes: Any
    ) -> None:
        number = content["number"]
        card = replace(self.cards[number], colourway=edit.colourway, own=True, **changes)
        self._put(reply, number, card, edit.words)

    def _cloth(self, content: dict[str, Any]) -> Colourway:
        return self.cards[content["number"]].colourway

    def _colour(self, content: dict[str, Any]) -> Any:
        if "text" in content:
            named = [one for one in self._palette(self.palette) if one.name == content["text"]]
            return named[0] if named else content["text"]
        return self._palette(content["palette"])[content["index"]]

    def _palette(self, name: str) -> list[Any]:
        return list(read_palette(CHECKOUT / "palettes" / f"{name}.csv"))

    def do_ping(self, reply: dict[str, Any], content: dict[str, Any]) -> None:
        pass

    do_refresh = do_ping

    def do_look(self, reply: dict[str, Any], content: dict[str, Any]) -> None:
        card = self.cards[content["number"]]
        told = details(content["number"], card.colourway)
        said = told["said"] | {"note": card.note, "own": card.own}
        said["kept"] = content["number"] if content["number"] in self.kept else 0
        said["stripes"] = [[*one[:2], n in card.stays] for n, one in enumerate(said["stripes"], 1)]
        said["ground"] = [*said["ground"][:2], 0 in card.stays]
        reply["said"], reply["buffers"] = said, [told["tones"], told["colours"]]

    def do_palette(self, reply: dict[str, Any], content: dict[str, Any]) -> None:
        colours = self._palette(content["palette"])
        reply["said"] = {"colours": [[one.name, one.hex, one.role, 0] for one in colours]}

    def do_encode(self, reply: dict[str, Any], content: dict[str, Any]) -> None:
        mixing, _, _, _, n = content["recipe"]
        rgb = np.array(
            [[int(hexed[k : k + 2], 16) / 255 for k in (1, 3, 5)] for hexed in content["colours"]]
        )
        data = find_mixing(mixing).encode(rgb, n).astype("<f4").tobytes()
        reply["buffers"] = [base64.b64encode(data).decode()]

    def do_colour(self, reply: dict[str, Any], content: dict[str, Any]) -> None:
        edit = put_colour(self._cloth(content), content["part"], self._colour(content))
        self._edit(reply, content, edit)

    def do_nudge(self, reply: dict[str, Any], content: dict[str, Any]) -> None:
        assert content["axis"] in NUDGES
        cloth, part = self._cloth(content), content["part"]
        moved = nudge(colour_of(cloth, part), content["axis"], content["steps"])
        self._edit(reply, content, put_colour(cloth, part, moved))

    def do_order(self, reply: dict[str, Any], content: dict[str, Any]) -> None:
        edit = move_stripe(self._cloth(content), content["stripe"], content["to"])
        self._edit(reply, content, edit)

    def do_swap(self, reply: dict[str, Any], content: dict[str, Any]) -> None:
        edit = swap_stripes(self._cloth(content), content["first"], content["second"])
        self._edit(reply, content, edit)

    def do_add_stripe(self, reply: dict[str, Any], content: dict[str, Any]) -> None:
        cloth = self._cloth(content)
        at = content.get("at", len(cloth.stripes) + 1)
        unused = [one for one in self._palette(self.palette)
                  if one.role == "stripe" and one not in cloth.stripes]  # fmt: skip
        colour = self._colour(content) if "palette" in content else unused[0]
        self._edit(reply, content, add_stripe(cloth, at, colour))

    def do_copy_stripe(self, reply: dict[str, Any], content: dict[str, Any]) -> None:
        cloth, stripe = self._cloth(content), content["stripe"]
        self._edit(reply, content, add_stripe(cloth, stripe + 1, cloth.stripes[stripe - 1]))

    def do_remove_stripe(self, reply: dict[str, Any], content: dict[str, Any]) -> None:
        self._edit(reply, content, remove_stripe(self._cloth(content), content["stripe"]))

    def do_own(self, reply: dict[str, Any], content: dict[str, Any]) -> None:
        changes = {k: content[k] for k in ("strength", "mixing") if k in content}
        edit = Edit(self._cloth(content).with_(**changes), "changed by itself")
        self._edit(reply, content, edit)

    def do_stays(self, reply: dict[str, Any], content: dict[str, Any]) -> None:
        card, part = self.cards[content["number"]], frozenset({content["part"]})
        stays = card.stays | part if content["stays"] else card.stays - part
        self._put(reply, content["number"], replace(card, stays=stays), "stays")

    def do_name(self, reply: dict[str, Any], content: dict[str, Any]) -> None:
        edit = Edit(self._cloth(content).with_(name=content["text"]), f"Named {content['text']}")
        self._edit(reply, content, edit)

    def do_note(self, reply: dict[str, Any], content: dict[str, Any]) -> None:
        card = replace(self.cards[content["number"]], note=content["text"])
        self._put(reply, content["number"], card, "Note written")

    def do_family(self, reply: dict[str, Any], content: dict[str, Any]) -> None:
        assert content["number"] in self.kept

    def do_copy(self, reply: dict[str, Any], content: dict[str, Any]) -> None:
        assert content["number"] in self.kept

    def do_undo(self, reply: dict[str, Any], content: dict[str, Any]) -> None:
        if self.past:
            self.cards = self.past.pop()[1]
        self._send(reply)


def six(
    *names: str, ground: str = "Icing", mixing: str = "source-over", strength: float = 0.5
) -> Colourway:
    """Return a colourway of the anniversary palette by names of its colours."""
    known = {one.name: one for one in read_palette(CHECKOUT / "palettes" / "anniversary.csv")}
    return Colourway(known[ground], [known[name] for name in names], strength, mixing)


NAMES = (
    "Duck Egg Shell",
    "Sugared Almond",
    "Sea Holly Mist",
    "Cowslip Green",
    "Peach Skin",
    "Primrose Bank",
)


def kernel_of(*colourways: Colourway, **more: Any) -> Kernel:
    """Return a kernel with these on the wall, and as many kept as ``kept`` numbers them."""
    cards = {n: Card(one) for n, one in enumerate(colourways, 1)}
    return Kernel(cards, **more)


def open_hand(page: Page, kernel: Kernel, *, dark: bool = False) -> list[str]:
    """Show the desk over a kernel; return the list that the page's errors will be in."""
    page.expose_function("askKernel", kernel.answer)
    problems = open_page(page, kernel.wall(), dark=dark)
    page.evaluate(_HEAR)
    page.evaluate("() => { window.model.sent = []; }")
    return problems


def main(folder: Path) -> None:
    """Write pictures of the page."""
    from lab_driver import CHROMIUM_FLAGS, find_chromium
    from playwright.sync_api import sync_playwright

    folder.mkdir(parents=True, exist_ok=True)
    walls = [six(*np.roll(NAMES, k)) for k in range(6)]
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(
            executable_path=find_chromium(), args=list(CHROMIUM_FLAGS),
            ignore_default_args=["--hide-scrollbars"],
        )  # fmt: skip
        for width in (360, 640, 980, 1320):
            for dark in (False, True):
                page = browser.new_page(viewport={"width": width, "height": 900})
                problems = open_hand(page, kernel_of(*walls), dark=dark)
                name = f"{width}-{'dark' if dark else 'light'}"
                page.wait_for_timeout(300)
                page.screenshot(path=folder / f"{name}.png")
                page.get_by_role("option", name="Stripe 3 of 6").click()
                page.wait_for_timeout(300)
                page.screenshot(path=folder / f"{name}-colour.png")
                page.get_by_role("button", name="Strength 50 %").click()
                page.screenshot(path=folder / f"{name}-own.png")
                page.keyboard.press("Escape")
                for view in ("Tablecloth", "3 checks") if not dark else ("Tea towel",):
                    page.get_by_role("radio", name=view).click()
                    page.screenshot(path=folder / f"{name}-{view.replace(' ', '-')}.png")
                print(name, json.dumps(problems))
                page.close()
        browser.close()


if __name__ == "__main__":
    main(Path(sys.argv[1]))
