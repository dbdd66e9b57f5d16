"""A range of the invented client, as it is handed on; for the page and the sheet that travel."""

from __future__ import annotations

from checkcloth import Check, Chosen, ChosenSet, Colourway, NamedColour

# The brief's eight codes as they stand in a mail, and the order that it gives six of them in.
MAIL = """For the counter, please:
Duck Egg #b9d9d4   Almond #f3c9cf
Sea Holly #aebfe0
Cowslip #cfe3a6
Peach #f6c6a5, Primrose #f7eaa0
Cream #fbf4e3
Slate #55606e
"""
ORDER = ("Peach", "Duck Egg", "Primrose", "Sea Holly", "Almond", "Cowslip")
_COLOURS = {
    "Icing": "#fdfaf5",
    "Sugared Almond": "#eda3b5",
    "Primrose Bank": "#e8c963",
    "Duck Egg Shell": "#8fc7c1",
    "Sea Holly Mist": "#9eaae4",
    "Cowslip Green": "#a9ca7e",
    "Peach Skin": "#f2b084",
    "Crème Caramel": "#c99a66",
    "Faded Violet": "#c09fd4",
}
_RANGE = (
    ("Violet", "Violet six", "For the garden room. The first drawn, and the one to start from.",
     "Faded Violet, Duck Egg Shell, Cowslip Green, Peach Skin, Primrose Bank, Sea Holly Mist"),
    ("Violet", "Violet three", "Quieter: violet and blue with one warm stripe.",
     "Faded Violet, Primrose Bank, Sea Holly Mist"),
    ("Violet", "Violet two", "The plainest of the family.", "Faded Violet, Primrose Bank"),
    ("Duck egg", "Duck egg six", "The coolest six. Almond keeps it from looking like a kitchen.",
     "Duck Egg Shell, Sugared Almond, Sea Holly Mist, Cowslip Green, Peach Skin, Primrose Bank"),
    ("Duck egg", "Duck egg three", "", "Duck Egg Shell, Peach Skin, Cowslip Green"),
    ("Duck egg", "Duck egg two", "Goes with the painted chairs.", "Duck Egg Shell, Peach Skin"),
    ("Almond", "Almond six", "With Crème Caramel, to sit with the wood of the counter.",
     "Sugared Almond, Primrose Bank, Faded Violet, Duck Egg Shell, Crème Caramel, Cowslip Green"),
    ("Almond", "Almond three", "", "Sugared Almond, Crème Caramel, Faded Violet"),
    ("Almond", "Almond two", "The sweetest. See it as a whole napkin before you decide.",
     "Sugared Almond, Faded Violet"),
)  # fmt: skip
NOTE = (
    "Three families for the three rooms. In each, the six is for tablecloths, the three for "
    "napkins and the two for tea towels; all hang together, because each begins with the same "
    "stripe."
)
OPTIONS = {
    "note": NOTE,
    "reference": "QH 26-04",
    "date": "27 November 2026",
    "sizes": ["1/4 in", "1 in"],
    "strengths": [0.3, 0.35, 0.4, 0.45, 0.5, 0.55, 0.6],
}


def colour(name: str) -> NamedColour:
    return NamedColour.of(_COLOURS[name], name)


def tea_rooms(mixing: str = "source-over") -> ChosenSet:
    """Nine colourways in three families, of six, three and two stripes."""
    members = [
        Chosen(
            Colourway(
                colour("Icing"), [colour(one) for one in stripes.split(", ")], 0.5, mixing, name
            ),
            note,
            family=family,
        )
        for family, name, note, stripes in _RANGE
    ]
    return ChosenSet(Check("1/2 in", 6), members, "Tea rooms, spring")


def many(count: int, mixing: str = "source-over") -> ChosenSet:
    """So many six-stripe colourways, three to a family."""
    names = [name for name in _COLOURS if name != "Icing"]
    members = []
    for index in range(count):
        stripes = [colour(names[(index + step * (1 + index % 3)) % 8]) for step in range(6)]
        cloth = Colourway(colour("Icing"), stripes, 0.5, mixing, f"Table cloth {index + 1}")
        members.append(Chosen(cloth, "A note of a usual length.", family=f"Room {index // 3 + 1}"))
    return ChosenSet(Check("1/2 in", 6), members, "Tea rooms, all")
