"""The map of zones: a wire for each, whole where it is live, open where it is off, and where the hands go."""

from collections.abc import Iterable

from engine.view.models import WhereView, ZoneRow
from tui.draw.listed import listed
from tui.lines import Block, Line, block, piece, wrap

_WIRES = {"live": ("=====", "fail"), "off": ("=/ /=", "marginal"), "doubt": ("-/?/-", "marginal"),
          "dead": ("-/ /-", "pass")}  # fmt: skip
"""How a zone is drawn: whole and double is live, open is off, thin is proved dead. The words stand beside it."""

TITLE = "Where is power, where are my hands"


def zone_lines(zones: Iterable[ZoneRow], width: int) -> list[Line]:
    """Return a line or two for each zone: the wire, its name, how it stands, and whether hands go on it."""
    lines = []
    for zone in zones:
        wire, look = _WIRES[zone.state]
        said = [piece(f"{zone.name}: ", "ask"), piece(zone.words, look)]
        hands = [piece(f"; {zone.hands}", "strong")] if zone.hands else []
        lines += wrap([*said, *hands], width, (piece("> " if zone.hands else "  ", "now"), piece(f"{wire} ", look)))
    return lines


def zone_block(zones: Iterable[ZoneRow], width: int) -> Block:
    """Return the map under its title; nothing where there are no zones."""
    lines = zone_lines(zones, width)
    return block("zones", [*wrap([piece(TITLE, "title")], width), *lines] if lines else ())


def where_blocks(view: WhereView, width: int) -> list[Block]:
    """Return the whole of it: the map, how things were left, what else is open on this boat."""
    return [
        zone_block(view.zones, width),
        listed("How it was left", view.physical, width),
        listed("Also open on this boat", view.beside, width),
    ]
