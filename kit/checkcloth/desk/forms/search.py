"""A form for a search: the brief in words of the trade, start, stop, what was found, the wall."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from html import escape
from pathlib import PurePath
from typing import Any, NamedTuple, Protocol

import ipywidgets

from checkcloth.cloth.bands import PRESETS
from checkcloth.cloth.check import Check
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.length import Length
from checkcloth.cloth.mixing import MIXINGS
from checkcloth.cloth.palette import Palette
from checkcloth.colour.vision import VISIONS
from checkcloth.desk.background import Work
from checkcloth.desk.forms.parts import FileField, Fold, classed, field, form_style, titled
from checkcloth.desk.forms.swatches import Swatches
from checkcloth.desk.forms.task import Said, Task
from checkcloth.desk.forms.thresholds import APART, SOME, Thresholds, words_of
from checkcloth.desk.state.finding import offers
from checkcloth.desk.state.laying import AS_WARP, EVEN, check_of
from checkcloth.errors import ArgumentError, CheckclothError
from checkcloth.files.html import AS_TYPED
from checkcloth.files.live_output import show_live
from checkcloth.files.names import distinct_names
from checkcloth.ideas import (
    HARMONIES,
    HUES_WORDS,
    open_photo,
    palette_from_colour,
    palette_from_photo,
    shift_palette,
)
from checkcloth.scoring.remarks import FAINT, ONE_COLOUR
from checkcloth.scoring.vocabulary import MEASURE_WORDS, MIXING_WORDS, VISION_WORDS
from checkcloth.search import (
    MEASURES,
    Relaxed,
    SearchResult,
    SearchStoppedError,
    Shortlist,
    Wanted,
    estimate,
    join_palettes,
    relaxations,
    search,
)
from checkcloth.search.result import MOST_ADVISED
from checkcloth.search.run import duration_words
from checkcloth.search.wanted import measure_parts

_HOW = (
    ("all, if under 15 minutes", ""),
    ("only for the exact best", "best"),
    ("a sample of a million", "sample"),
)
_KINDS = {
    "least_edge": "edge",
    "ground_single": "stripe on the ground",
    "single_crossing": "crossing on a stripe",
    "single_single": "pair of stripes",
}
_BY = {name: MEASURE_WORDS[name] for name in ("de2000", "dl", "hyab")} | {
    "ratio": "ratio",
    "harmony": "harmony (laboratory)",
}
_HOLD = (
    f"ΔE00 is a colour difference: at arm's length under {ONE_COLOUR:g} is one colour, "
    f"under {FAINT:g} is faint. 0 asks nothing; nor does a ratio of 1 or a harmony of -3. "
    "HyAB is for large differences, where ΔE00 can jump. "
    "Harmony is what observers preferred in a laboratory; above 0 is harmonious."
)
_HERE = "a wall under this form"
_AS_WARP = "as the warp"
_BANDS = "Bands: a name, or an order such as 2 A, 1 ground, 4 B; A is the first stripe."
_WEFTS = "With 0 weft colours the weft has the warp's."
_SEVERAL = "Ctrl- or ⌘-click chooses several, and takes a choice back."


def _measure_words(measure: str) -> str:
    kind, by = measure_parts(measure)
    return f"weakest {_KINDS[kind]}, {_BY[by]}"


# What the form calls the arguments of a brief.
_LABELS = {name: words for name, words, *_ in APART} | {
    "stripes": "Stripes",
    "weft_stripes": "Weft colours",
    "grounds": "Grounds allowed",
    "strengths": "Overlay strengths",
    "must": "Must be in",
    "must_not": "Must not be in",
    "visions": "The same must hold",
    "warp": "Bands",
    "weft": "Bands up the cloth",
    "check": "Bands",
}


def _in_words(error: Exception) -> str:
    """Word an error under the name that its field has on the form."""
    label = _LABELS.get(getattr(error, "argument", ""))
    return f"“{label}” {error.rule}" if label and isinstance(error, CheckclothError) else str(error)


class SearchFields:
    """The widgets of the brief, and the brief that they say."""

    def __init__(self, palettes: Iterable[Palette]) -> None:
        self.palettes = list(palettes)

        def several(words: str, options: Any, value: Any = (), rows: int = 6) -> Any:
            return field(ipywidgets.SelectMultiple, words, options=options, value=value, rows=rows)

        names = [palette.name for palette in self.palettes]
        self.palette = several("Palettes", names, names[:1])
        self.stripes = field(ipywidgets.BoundedIntText, "Stripes", min=1, max=12, value=4)
        self.wefts = field(ipywidgets.BoundedIntText, "Weft colours", min=0, max=12, value=0)
        self.bands = field(ipywidgets.Combobox, "Bands", options=[*PRESETS], value="even")
        words = "Bands up the cloth"
        self.weft = field(ipywidgets.Combobox, words, options=[*PRESETS], placeholder=_AS_WARP)
        for widget in (self.bands, self.weft):
            widget.continuous_update = False
        self.grounds = several("Grounds allowed", [])
        strengths = [(f"{n} %", n / 100) for n in range(10, 101, 10)]
        self.strengths = several("Overlay strengths", strengths, (0.5, 0.7), rows=len(strengths))
        mixings = [(MIXING_WORDS[name], name) for name in MIXINGS]
        self.mixing = field(ipywidgets.Dropdown, "Mixing", options=mixings)
        self.must = several("Must be in", [])
        self.must_not = several("Must not be in", [])
        self.thresholds = Thresholds()
        self.apart = self.thresholds.fields
        order = "Lightness runs from ground over stripe to crossing"
        self.order = field(ipywidgets.Checkbox, order, indent=False)
        self.visions = {
            vision: field(ipywidgets.Checkbox, VISION_WORDS[vision], indent=False)
            for vision in VISIONS[1:]
        }
        measures = [(_measure_words(measure), measure) for measure in MEASURES]
        words = "Best is the strongest in its"
        self.measure = field(ipywidgets.Dropdown, words, options=measures)
        words = "Colourways in the shortlist"
        self.shortlist = field(ipywidgets.BoundedIntText, words, min=1, max=60, value=24)
        self.how_choice = field(ipywidgets.Dropdown, "Look at", options=_HOW)
        self.seed = field(ipywidgets.BoundedIntText, "Seed of a sample", value=1, max=2**31)
        self.swatches = Swatches([self.grounds, self.must, self.must_not])
        self.palette.observe(lambda _: self._offer_colours(), "value")
        self._offer_colours()
        self.how_choice.observe(lambda _: self._show_seed(), "value")
        self._show_seed()
        self.box = self._lay_out()

    def _lay_out(self) -> Any:
        also = [ipywidgets.HTML("<p>The same must hold …</p>"), *self.visions.values()]
        hold = [*self.apart.values(), self.order, ipywidgets.VBox(also)]
        draw = [self.palette, self.stripes, self.wefts, self.bands, self.weft, self.strengths,
                self.mixing]  # fmt: skip
        best = [self.measure, self.shortlist, self.how_choice, self.seed]
        parts = [
            titled("From", *draw, note=f"{_SEVERAL} {_WEFTS} {_BANDS}"),
            titled("Colours", self.grounds, self.must, self.must_not),
            titled("What must hold", *hold, note=_HOLD),
            titled("Best first", *best),
        ]
        parts.append(self.swatches.style)
        return classed(ipywidgets.Box(parts), "cc-form-grid", "cc-wide-columns", "cc-search-fields")

    def _show_seed(self) -> None:
        """Ask for a seed only where something is drawn by lot."""
        self.seed.layout.display = "" if self.how == "sample" else "none"

    @property
    def widgets(self) -> list[Any]:
        """Every field whose change changes the brief."""
        return [
            self.palette, self.stripes, self.wefts, self.bands, self.weft, self.grounds,
            self.strengths, self.mixing, self.must, self.must_not, *self.apart.values(), self.order,
            *self.visions.values(), self.measure,
        ]  # fmt: skip

    @property
    def how(self) -> str | None:
        """How to search, as :func:`search` takes it."""
        return self.how_choice.value or None

    def chosen_palette(self) -> Palette:
        """The palettes that are chosen, as one."""
        chosen = [palette for palette in self.palettes if palette.name in self.palette.value]
        return join_palettes(chosen or self.palettes[:1])

    def add_palette(self, palette: Palette) -> None:
        """Offer another palette, and choose it; a name that is taken gets a number."""
        names = distinct_names([*(one.name for one in self.palettes), palette.name])
        # First in the list, where it is in sight.
        self.palettes.insert(0, Palette(names[-1], palette.colours))
        self.palette.options = [one.name for one in self.palettes]
        self.palette.value = names[-1:]

    def put_saved(self, old: Palette, saved: Palette) -> None:
        """Put a palette that was saved, maybe under another name, in the stead of the first."""
        kept = [one for one in self.palettes if one.name not in (old.name, saved.name)]
        self.palettes = [saved, *kept]
        self.palette.options = [one.name for one in self.palettes]
        self.palette.value = [saved.name]

    def follow_palettes(self, palettes: Iterable[Palette]) -> None:
        """Offer palettes that were saved or edited elsewhere; what is chosen stays so."""
        here = {palette.name: index for index, palette in enumerate(self.palettes)}
        for palette in palettes:
            if palette.name in here:
                self.palettes[here[palette.name]] = palette
            else:
                self.palettes.append(palette)
        choices = (self.palette, self.grounds, self.must, self.must_not)
        before = [choice.value for choice in choices]
        self.palette.options = [one.name for one in self.palettes]
        for choice, chosen in zip(choices, before, strict=True):
            choice.value = [name for name in chosen if name in choice.options]
        self.swatches.show(self.chosen_palette())

    def _offer_colours(self) -> None:
        """Offer the colours of the chosen palettes; what was chosen stays where it can."""
        palette = self.chosen_palette()
        names = [colour.name for colour in palette]
        grounds = [colour.name for colour in palette.grounds]
        stripes = [colour.name for colour in palette.stripes]
        for choice, options, start in (
            (self.grounds, [*grounds, *(n for n in names if n not in grounds)], grounds),
            (self.must, stripes, []),
            (self.must_not, stripes, []),
        ):
            kept = [name for name in choice.value if name in options]
            choice.options = options
            # Grounds of another palette are no choice that anybody made here.
            choice.value = kept if kept and choice is not self.grounds else start
        self.swatches.show(palette)

    @property
    def check(self) -> Check:
        """The bands, of a check of no size that matters."""
        warp, weft = self.bands.value.strip(), self.weft.value.strip()
        weft = AS_WARP if weft == _AS_WARP else weft
        stripes, wefts = self.stripes.value, self.wefts.value
        own = wefts if wefts != stripes else 0
        return check_of(Length("1 mm"), stripes, warp or EVEN, weft, own)

    def wanted(self) -> Wanted:
        """The brief that the fields say.

        Raises
        ------
        ArgumentError
            Where they do not fit together.
        """
        if both := [name for name in self.must.value if name in self.must_not.value]:
            allowed = "without what stands in “Must be in”"
            raise ArgumentError("must_not", allowed, words=", ".join(both))
        asked: dict[str, Any] = self.thresholds.asked
        return Wanted(
            self.chosen_palette(),
            self.stripes.value,
            grounds=self.grounds.value,
            strengths=self.strengths.value,
            mixings=[self.mixing.value],
            must=self.must.value,
            must_not=self.must_not.value,
            lightness_order=self.order.value,
            visions=[name for name, box in self.visions.items() if box.value],
            measure=self.measure.value,
            check=self.check,
            weft_stripes=self.wefts.value,
            **asked,
        )

    def fit_thresholds(self) -> None:
        """Ask for what a palette like the chosen one holds, where nobody chose a number."""
        try:
            wanted = self.wanted()
        except CheckclothError:
            return  # said when the brief is read for its count
        self.thresholds.fit(wanted)


class SearchSources:
    """Where the palette of a search can start: a photograph, one colour, another palette turned.

    Parameters
    ----------
    chosen : callable
        Returns the palette that is chosen now, to be turned.
    add : callable
        Gets each palette that was made.
    troubles : list of str
        Takes the tracebacks of faults of the kit itself.
    save : callable, optional
        Saves a palette that was made beside the others, and returns it as it is called there.
    """

    def __init__(
        self,
        chosen: Callable[[], Palette],
        add: Callable[[Palette], None],
        troubles: list[str],
        save: Callable[[Palette], Palette] | None = None,
    ) -> None:
        self._chosen, self._add, self._save = chosen, add, save
        self._made: Palette | None = None
        self._taken: tuple[str, bytes] | None = None
        number = ipywidgets.BoundedIntText
        self._work = Work("palettes", troubles)
        self.said = Said(self._work).said
        self.photo = FileField("Choose a photograph, or drop one here", self._take)
        hint = "pictures/halt-at-dusk.jpg"
        self.path = field(ipywidgets.Text, "or its path from here", placeholder=hint)
        self.colours = field(number, "How many colours", min=6, max=24, value=12)
        self.colour = field(ipywidgets.Text, "Colour", value="teal", placeholder="teal, #2a6f97")
        hues = [(HUES_WORDS[harmony], harmony) for harmony in HARMONIES]
        self.harmony = field(ipywidgets.Dropdown, "And with it", options=hues, value="analogous")
        self.shades = field(number, "Steps from light to dark, each", min=1, max=8, value=3)
        self.turn = field(number, "Turn hues, °", min=-180, max=180, value=0)
        self.lighten = field(number, "Lighten, %", min=-50, max=50, value=0)
        self.mute = field(number, "Mute, %", min=-100, max=100, value=0)
        self.from_photo, self.from_colour, self.from_palette = (
            self._button(words, work)
            for words, work in (
                ("Take its colours", self.add_photo),
                ("Make a palette of it", self.add_colour),
                ("Change the chosen palette", self.add_shifted),
            )
        )
        self.keep = self._button("Save it beside the others", self.save_made)
        self.keep.layout.display = "none"
        photo = [self.photo, self.path, self.colours, self.from_photo]
        colour = [self.colour, self.harmony, self.shades, self.from_colour]
        palette = [self.turn, self.lighten, self.mute, self.from_palette]
        parts = [
            titled("A photograph", *photo),
            titled("One colour", *colour),
            titled("The palette chosen", *palette),
        ]
        self.box = ipywidgets.VBox(
            [classed(ipywidgets.Box(parts), "cc-form-grid"), self.said, self.keep]
        )

    def _button(self, words: str, work: Callable[[], Palette]) -> Any:
        button = ipywidgets.Button(description=words, layout=ipywidgets.Layout(width="auto"))
        button.on_click(lambda _: self._trying(work))
        return button

    def _take(self, name: str, content: bytes) -> None:
        """Take the colours of a picture as soon as it has come."""
        self._taken = (PurePath(name).stem or "photograph", content)
        self.path.value = ""
        self._trying(self.add_photo)

    def add_photo(self) -> Palette:
        """Make a palette of the photograph at the path, or of the one that was chosen."""
        if path := self.path.value.strip():
            photo, name = open_photo(path), ""
        elif self._taken is not None:
            name, content = self._taken
            photo = open_photo(content)
        else:
            raise ArgumentError("photograph", "chosen, or its path given", words="none")
        return self._hand_on(palette_from_photo(photo, self.colours.value, name=name))

    def add_colour(self) -> Palette:
        """Make a palette of the colour by its harmony."""
        return self._hand_on(
            palette_from_colour(self.colour.value, self.harmony.value, shades=self.shades.value)
        )

    def add_shifted(self) -> Palette:
        """Turn, lighten and mute the palette that is chosen."""
        made = shift_palette(
            self._chosen(),
            turn=self.turn.value,
            lighten=self.lighten.value / 100,
            mute=self.mute.value / 100,
        )
        return self._hand_on(made)

    def save_made(self) -> Palette:
        """Save the palette that was made last as a file; it is in every list then."""
        if self._made is None or self._save is None:
            raise ArgumentError("palette", "one that was made here", words="none")
        saved = self._save(self._made)
        self._made, self.keep.layout.display = None, "none"
        words = f"Saved as {saved.name}.csv beside the others, and in every list."
        self.said.value = f'<p role="status">{escape(words)}</p>{saved._repr_html_()}'
        return saved

    def _hand_on(self, palette: Palette) -> Palette:
        self._add(palette)
        self._made = self._chosen()
        self.keep.layout.display = "none" if self._save is None else ""
        words = "Now the palette to search; it stands first in the list below."
        self.said.value = f'<p role="status">{words}</p>{palette._repr_html_()}'
        return palette

    def _trying(self, work: Callable[[], Palette]) -> None:
        with self._work.saying_faults():
            work()


class Wall(Protocol):
    """What the form needs of the desk that it sends its shortlist to."""

    box: Any

    @property
    def palettes(self) -> dict[str, Palette]: ...  # noqa: D102
    def show(  # noqa: D102
        self, colourways: Iterable[Colourway], origin: str = ..., check: Check | None = ...
    ) -> None: ...


class Surroundings(NamedTuple):
    """What a form has to do with outside of it.

    Attributes
    ----------
    open_wall : callable
        Opens a desk on palettes, beginning with the one of the name given.
    desks : callable
        Returns the desks that are open on this kernel, by name.
    save : callable
        Saves a palette as a file; returns it as it is called there.
    """

    open_wall: Callable[[list[Palette], str], Wall]
    desks: Callable[[], dict[str, Wall]]
    save: Callable[[Palette], Palette]


class SearchForm:
    """The form; make one with :func:`search_form`.

    Parameters
    ----------
    palettes : iterable of Palette
    around : Surroundings
    left_out : tuple of str
        A line for each palette that could not be read.

    Attributes
    ----------
    result : SearchResult or None
        Of the last search, also of one that was stopped.
    shortlist : Shortlist or None
    desk : Desk or None
        The desk whose wall the shortlist is sent to; None until there is one.
    troubles : list of str
        Tracebacks of faults of the kit itself, for a report.
    """

    def __init__(
        self,
        palettes: Iterable[Palette],
        around: Surroundings,
        left_out: tuple[str, ...] = (),
    ) -> None:
        self._around, self.left_out = around, left_out
        self.troubles: list[str] = []
        self.fields = SearchFields(palettes)
        self.sources = SearchSources(
            self.fields.chosen_palette, self.fields.add_palette, self.troubles, self._save_palette
        )
        self._fitting = False
        self.result: SearchResult | None = None
        self.shortlist: Shortlist | None = None
        self.desk: Wall | None = None
        self.work = Work("colourways", self.troubles, word=_in_words)
        self.task = Task("Start the search", self.work)
        self.start, self.stop, self.bar = self.task.start, self.task.stop, self.task.bar
        self.said = classed(self.task.said, "cc-foretold")
        words = "Send the shortlist to the wall"
        self.send = ipywidgets.Button(description=words, layout=ipywidgets.Layout(width="auto"))
        self.name = field(
            ipywidgets.Text, "Name of the shortlist", placeholder="shortlist of a search"
        )
        self.onto = field(ipywidgets.Dropdown, "Onto", options=[_HERE])
        self.sending = classed(ipywidgets.HBox([self.send, self.name, self.onto]), "cc-form-row")
        self.offers = ipywidgets.VBox()
        self.found = ipywidgets.HTML()
        self.wall = ipywidgets.VBox()
        self.box = self._lay_out()
        self._show_found(False)
        self.start.on_click(lambda _: self._begin())
        self.send.on_click(lambda _: self._send())
        for widget in self.fields.widgets:
            widget.observe(lambda _: self._foretell(), "value")
        self._foretell()

    def _lay_out(self) -> Any:
        title = "Start from a photograph, one colour, or another palette"
        self.source_fold = Fold(title, self.sources.box)
        folds = classed(ipywidgets.VBox([self.source_fold.box]), "cc-folds")
        parts = [
            form_style(),
            folds,
            self.fields.box,
            self.task.row,
            self.said,
            self.offers,
            self.sending,
        ]
        if self.left_out:
            lines = " ".join(f"Left out: {line}." for line in self.left_out)
            parts.insert(1, ipywidgets.HTML(f'<p role="status">{escape(lines)}</p>'))
        brief = classed(ipywidgets.VBox(parts), "cc-form")
        found = classed(ipywidgets.VBox([self.found]), "cc-form", "cc-found")
        # The wall right under the button that fills it, where it is seen to come.
        return ipywidgets.VBox([brief, self.wall, found])

    @property
    def wanted(self) -> Wanted:
        """The brief as the form stands now."""
        return self.fields.wanted()

    # -- what the buttons do; also for tests and for code ----------------------------------------

    def run(self) -> SearchResult:
        """Search now, and wait for it."""
        self.work.stop_asked.clear()
        self._finish(self._search()())
        assert self.result is not None
        return self.result

    def send_to_wall(self) -> Wall:
        """Send the shortlist to the wall of a desk, opened under the form when first needed."""
        if not self.shortlist:
            raise ArgumentError(
                "shortlist", "found first", words="nothing", hint="; start a search first"
            )
        self.work.say("Laying the shortlist on the wall …")
        words = self.name.value.strip() or "shortlist of a search"
        other = self._around.desks().get(self.onto.value)
        if other is not None:
            other.show(self.shortlist.colourways, words, self._found_in)
            self.work.say(f"The shortlist is on the wall of the desk {self.onto.value}.")
            return other
        names = [palette.name for palette in self.fields.palettes]
        if self.desk is None or list(self.desk.palettes) != names:
            # Palettes made since are offered there too; what is kept goes on.
            palette = self.fields.palette.value[0] if self.fields.palette.value else ""
            self.desk = self._around.open_wall(self.fields.palettes, palette)
            self.wall.children = [self.desk.box]
        self.desk.show(self.shortlist.colourways, words, self._found_in)
        self.work.say("The shortlist is on the wall below: tick what you like, or press K on it.")
        return self.desk

    @property
    def _found_in(self) -> Check | None:
        """The check that the shortlist was found in, where it is not even."""
        wanted = self.result.wanted if self.result else None
        return wanted.check if wanted and wanted.order_counts else None

    def _save_palette(self, palette: Palette) -> Palette:
        saved = self._around.save(palette)
        self.fields.put_saved(palette, saved)
        return saved

    # -- searching -------------------------------------------------------------------------------

    def _search(self) -> Callable[[], tuple[SearchResult, list[Relaxed]]]:
        """Return the search that the fields ask for, as work for a thread."""
        wanted, how, seed = self.wanted, self.fields.how, self.fields.seed.value
        stop = self.work.stop_asked

        def work() -> tuple[SearchResult, list[Relaxed]]:
            result = search(
                wanted,
                100,
                how=how,
                progress=self.work.progress,
                stop=stop,
                seed=seed,
                one_order=True,
            )
            few = wanted.setting_count <= MOST_ADVISED
            if result.found or not result.complete or not few:
                return result, []
            try:
                return result, list(relaxations(wanted, SOME, stop.is_set))
            except SearchStoppedError:
                return result, []

        return work

    def _begin(self) -> None:
        with self.work.saying_faults():
            self.work.begin(self._search(), self._finish)

    def _send(self) -> None:
        with self.work.saying_faults():
            self.send_to_wall()

    def _finish(self, done: tuple[SearchResult, list[Relaxed]]) -> None:
        self.result, relaxed = result, _ = done
        asked = self.fields.thresholds.asked
        self.offers.children = [self._offer(offer) for offer in offers(asked, relaxed)]
        self.shortlist = result.shortlist(self.fields.shortlist.value)
        self.work.say(f"{result}. It took {duration_words(result.seconds)}.")
        some = bool(self.shortlist)
        counts = (
            f'<details class="cc-many"{"" if some else " open"}>'
            "<summary>How many each condition lets through</summary>"
            f"{result._repr_html_()}</details>"
        )
        self.found.value = (self.shortlist._repr_html_() if some else "") + counts
        self._show_found(some)

    def _offer(self, offer: dict[str, Any]) -> Any:
        """A button that asks for what some colourways hold, and searches again."""
        now = self.fields.thresholds.asked
        changed = {n: value for n, value in offer["at_least"].items() if now.get(n) != value}
        words = f"Ask for: {words_of(changed)}"
        button = ipywidgets.Button(description=words, layout=ipywidgets.Layout(width="auto"))

        def press(_: object) -> None:
            self.fields.thresholds.show(changed)
            self._begin()

        button.on_click(press)
        return button

    def _show_found(self, some: bool) -> None:
        self.send.disabled = not some
        for widget in (self.send, self.sending):
            widget.layout.display = "" if some else "none"
        if some:
            chosen, names = self.onto.value, [_HERE, *self._around.desks()]
            self.onto.options = names
            self.onto.value = chosen if chosen in names else _HERE
            self.onto.layout.display = "" if len(names) > 1 else "none"

    def _foretell(self) -> None:
        """Say what the search would cost, whenever the brief changes."""
        if self._fitting:
            return
        self._fitting = True
        try:
            self.fields.fit_thresholds()
        finally:
            self._fitting = False
        if not self.work.running:
            with self.work.saying_faults():
                self.work.say(str(estimate(self.wanted)))

    def __repr__(self) -> str:
        try:
            return f"<search form: {self.wanted}>"
        except CheckclothError as error:
            return f"<search form: {error}>"

    def _repr_html_(self) -> str:
        brief = repr(self).strip("<>").capitalize()
        words = f"<p {AS_TYPED}>{escape(brief)}. Run the cell for the form itself.</p>"
        return words + str(self.found.value or "")

    def _ipython_display_(self) -> None:
        show_live(self.box._repr_mimebundle_() or {}, self._repr_html_(), repr(self))
