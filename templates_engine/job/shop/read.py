"""Turns a shop file into the shop's own figures and what it usually takes, or into every problem it has.

A figure that cannot be right is refused: a fitting no wider than its raceway, or one many times as wide, is
a slip of the pen or of the unit. What the figures are used for is for ``model.py`` and the later stages.
"""

from __future__ import annotations

from templates_engine.job.read.file_reading import FileReading
from templates_engine.job.read.print_settings import margins, papers, printer
from templates_engine.job.schema import UNITS
from templates_engine.job.shop.defaults import ShopDefaults
from templates_engine.job.shop.find import BESIDE_JOB, ReadShop
from templates_engine.job.shop.model import Shop, ShopFitting, ShopPunch
from templates_engine.job.shop.schema import WrittenFitting, WrittenPunch, WrittenShop
from templates_engine.job.text.check_shape import written_tables
from templates_engine.job.text.file import SHOP_FILE
from templates_engine.job.text.key_paths import KeyPath
from templates_engine.job.text.yaml_tree import parse
from templates_engine.trade.fittings import KINDS, FittingKind
from templates_engine.trade.raceways import RacewaySize, find_type, look_up

MOST_TIMES = 4
"""A fitting this many times as wide as its raceway is a mistake."""
_ALL_TYPES = "RMC"
"""Whose sizes stand for every type of that trade size: their fittings all go round a thread that wide."""


def read_shop_text(text: str, file: str, source: str = BESIDE_JOB) -> ReadShop:
    """The shop file in a text, ``file`` being its name in messages; raises JobProblems."""
    tree = parse(text, file, SHOP_FILE)
    reading = FileReading(file, tree)
    written = written_tables(tree, reading, WrittenShop)
    reading.unit = reading.word(written.units, ("units",), UNITS, "in")
    shop = _figures(written, source, reading)
    usual = _usual(written, reading)
    reading.raise_problems()
    return ReadShop(shop, usual)


def _usual(written: WrittenShop, reading: FileReading) -> ShopDefaults:
    return ShopDefaults(
        gap=None if written.gap is None else reading.gap(written.gap, ("gap",)),
        papers=() if written.paper is None else papers(written.paper, ("paper",), reading),
        margins=None if written.margins is None else margins(written.margins, ("margins",), reading),
        printer=printer(written.printer, ("printer",), reading),
    )


# --- figures ------------------------------------------------------------------------------------------------


def _figures(written: WrittenShop, source: str, reading: FileReading) -> Shop:
    said: dict[tuple[str, str | None, str], int] = {}
    """The line of each thing and size that was given so far."""
    fittings: list[ShopFitting] = []
    punches: list[ShopPunch] = []
    for index, fitting in enumerate(written.fittings or []):
        if reading.is_sound(("fittings", index)):
            fittings += _fitting(fitting, ("fittings", index), said, reading)
    for index, entry in enumerate(written.punches or []):
        if reading.is_sound(("punches", index)):
            punch, die = _punch(entry, ("punches", index), said, reading)
            punches += punch
            fittings += die
    return Shop(source, tuple(fittings), tuple(punches))


def _fitting(
    written: WrittenFitting, path: KeyPath, said: dict[tuple[str, str | None, str], int], reading: FileReading
) -> list[ShopFitting]:
    """The fitting, in a list that is empty when it cannot be read."""
    kind = reading.word(written.kind, (*path, "kind"), KINDS, None, **_ALSO_CALLED)
    found = _size(written, path, reading)
    across = reading.length(written.across, (*path, "across"))
    lug = None if written.lug is None else reading.length(written.lug, (*path, "lug"))
    if written.lug is not None and kind is not None and kind != "bonding bushing":
        remedy = "Take `lug` out, or write `kind: bonding bushing`."
        reading.report((*path, "lug"), f"A {kind} has no lug", remedy)
    if kind is None or found is None:
        return []
    type_name, size = found
    _once(kind, type_name, size, path, said, reading)
    _check_width(f"A {kind}", across, size, (*path, "across"), reading)
    if lug is not None and lug > size.outside_diameter_in + 1:
        wrong = f"A lug that stands out {reading.say(lug)} is longer than can be"
        reading.report((*path, "lug"), wrong, _MEASURE_AGAIN)
    return [ShopFitting(kind, type_name, size.trade_size, across, lug)]


_ALSO_CALLED: dict[str, FittingKind] = {"grounding bushing": "bonding bushing", "die": "punch die"}
_MEASURE_AGAIN = "Look at the unit and measure again."


def _punch(
    written: WrittenPunch, path: KeyPath, said: dict[tuple[str, str | None, str], int], reading: FileReading
) -> tuple[list[ShopPunch], list[ShopFitting]]:
    """The punch and its die, in lists that are empty when they cannot be read or are not given."""
    hole, pilot, die = (
        None if text is None else reading.length(text, (*path, name))
        for name, text in (("hole", written.hole), ("pilot", written.pilot), ("die", written.die))
    )
    if hole is pilot is die is None:
        remedy = "Write its `hole`, `pilot` or `die`, such as hole: 2.416 in."
        reading.report(path, "This punch has no measure", remedy)
    found = _size(written, path, reading)
    if found is None:
        return [], []
    type_name, size = found
    _once("punch", type_name, size, path, said, reading)
    _check_punch(size, hole, pilot, die, path, reading)
    if die is None:
        return [ShopPunch(type_name, size.trade_size, hole, pilot)], []
    _once("punch die", type_name, size, (*path, "die"), said, reading)
    return (
        [ShopPunch(type_name, size.trade_size, hole, pilot)],
        [ShopFitting("punch die", type_name, size.trade_size, die)],
    )


def _size(
    written: WrittenFitting | WrittenPunch, path: KeyPath, reading: FileReading
) -> tuple[str | None, RacewaySize] | None:
    """The type it is for, None for all, and the size; None when either is missing or unknown."""
    type_name = None
    if written.type is not None:
        type_name = reading.from_tables(written.type, (*path, "type"), find_type)
        if type_name is None:
            return None
    if written.size is None:
        return None
    size = reading.from_tables(
        written.size, (*path, "size"), lambda text: look_up(type_name or _ALL_TYPES, text)
    )
    return None if size is None else (type_name, size)


def _once(
    what: str,
    type_name: str | None,
    size: RacewaySize,
    path: KeyPath,
    said: dict[tuple[str, str | None, str], int],
    reading: FileReading,
) -> None:
    key = (what, type_name, size.trade_size)
    if key in said:
        which = f"{type_name} {size.trade_size}" if type_name else size.trade_size
        wrong = f"The {what} for {which} stands on line {said[key]} already"
        reading.report(path, wrong, "Keep one of the two.")
    said.setdefault(key, reading.mark(path).line)


# --- figures that cannot be right ---------------------------------------------------------------------------


def _check_width(what: str, across_in: float, size: RacewaySize, path: KeyPath, reading: FileReading) -> None:
    """What goes round a raceway is wider than it, but not many times as wide. NaN passes."""
    outside = size.outside_diameter_in
    words = f"{what} {reading.say(across_in)} across" if across_in == across_in else what
    if across_in <= outside:
        wrong = f"{words} is no wider than the raceway, {reading.say(outside)}"
        reading.report(path, wrong, "Measure it at its widest, and look at the unit.")
    if across_in >= MOST_TIMES * outside:
        wrong = f"{words} is {MOST_TIMES} times as wide as the raceway, {reading.say(outside)}, or more"
        reading.report(path, wrong, _MEASURE_AGAIN)


def _check_punch(
    size: RacewaySize,
    hole_in: float | None,
    pilot_in: float | None,
    die_in: float | None,
    path: KeyPath,
    reading: FileReading,
) -> None:
    """A pilot is smaller than its hole, and a die wider."""
    if hole_in is not None:
        _check_width("A hole", hole_in, size, (*path, "hole"), reading)
    if die_in is not None:
        _check_width("A die", die_in, size, (*path, "die"), reading)
    hole, what = (size.outside_diameter_in, "raceway") if hole_in is None else (hole_in, "hole")
    if pilot_in is not None and pilot_in >= hole:
        wrong = f"The pilot of {reading.say(pilot_in)} is no smaller than the {what}, {reading.say(hole)}"
        reading.report((*path, "pilot"), wrong, _MEASURE_AGAIN)
    if die_in is not None and hole_in is not None and die_in <= hole_in:
        wrong = f"The die of {reading.say(die_in)} is no wider than the hole, {reading.say(hole_in)}"
        reading.report((*path, "die"), wrong, _MEASURE_AGAIN)
