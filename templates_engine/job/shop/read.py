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
from templates_engine.job.text.yaml_tree import parse
from templates_engine.job.written_values import Written, WrittenText
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
    reading.unit = written.units.word(UNITS, "in")
    shop = _figures(written, source)
    usual = ShopDefaults(
        gap=written.gap.gap() if written.gap.is_written else None,
        papers=papers(written.paper) if written.paper.is_written else (),
        margins=margins(written.margins) if written.margins.is_written else None,
        printer=printer(written.printer),
    )
    reading.raise_problems()
    return ReadShop(shop, usual)


# --- figures ------------------------------------------------------------------------------------------------


def _figures(written: WrittenShop, source: str) -> Shop:
    said: dict[str, int] = {}
    """The line of each thing and size that was given so far."""
    fittings: list[ShopFitting] = []
    punches: list[ShopPunch] = []
    for fitting in written.fittings:
        if fitting.is_sound:
            fittings += _fitting(fitting, said)
    for entry in written.punches:
        if entry.is_sound:
            punch, die = _punch(entry, said)
            punches += punch
            fittings += die
    return Shop(source, tuple(fittings), tuple(punches))


def _fitting(written: WrittenFitting, said: dict[str, int]) -> list[ShopFitting]:
    """The fitting, in a list that is empty when it cannot be read."""
    kind = written.kind.word(KINDS, None, **_ALSO_CALLED)
    found = _type_and_size(written)
    across, lug = written.across.length(), written.lug.length_or_none()
    if written.lug.is_written and kind is not None and kind != "bonding bushing":
        written.lug.report(f"A {kind} has no lug", "Take `lug` out, or write `kind: bonding bushing`.")
    if kind is None or found is None:
        return []
    type_name, size = found
    _once(_named(kind, found), written, said)
    _check_width(f"A {kind}", written.across, across, size)
    if lug is not None and lug > size.outside_diameter_in + 1:
        wrong = f"A lug that stands out {written.say(lug)} is longer than can be"
        written.lug.report(wrong, _MEASURE_AGAIN)
    return [ShopFitting(kind, type_name, size.trade_size, across, lug)]


_ALSO_CALLED: dict[str, FittingKind] = {"grounding bushing": "bonding bushing", "die": "punch die"}
_MEASURE_AGAIN = "Look at the unit and measure again."


def _punch(written: WrittenPunch, said: dict[str, int]) -> tuple[list[ShopPunch], list[ShopFitting]]:
    """The punch and its die, in lists that are empty when they cannot be read or are not given."""
    hole, pilot, die = (one.length_or_none() for one in (written.hole, written.pilot, written.die))
    if hole is pilot is die is None:
        remedy = "Write its `hole`, `pilot` or `die`, such as hole: 2.416 in."
        written.report("This punch has no measure", remedy)
    found = _type_and_size(written)
    if found is None:
        return [], []
    type_name, size = found
    punch = ShopPunch(type_name, size.trade_size, hole, pilot)
    _once(_named("punch", found), written, said)
    _check_punch(written, punch, die, size)
    if die is None:
        return [punch], []
    _once(_named("punch die", found), written.die, said)
    return [punch], [ShopFitting("punch die", type_name, size.trade_size, die)]


def _type_and_size(written: WrittenFitting | WrittenPunch) -> tuple[str | None, RacewaySize] | None:
    """The type it is for, None for all, and the size; None when either is missing or unknown."""
    type_name = written.type.from_tables(find_type)
    if type_name is None and written.type.is_written:
        return None
    size = written.size.from_tables(lambda text: look_up(type_name or _ALL_TYPES, text))
    return None if size is None else (type_name, size)


def _named(what: str, found: tuple[str | None, RacewaySize]) -> str:
    type_name, size = found
    return f"{what} for {type_name} {size.trade_size}" if type_name else f"{what} for {size.trade_size}"


def _once(name: str, written: Written, said: dict[str, int]) -> None:
    """Reports what is given a second time."""
    if name in said:
        written.report(f"The {name} stands on line {said[name]} already", "Keep one of the two.")
    said.setdefault(name, written.line)


# --- figures that cannot be right ---------------------------------------------------------------------------


def _check_width(what: str, written: WrittenText, across_in: float, size: RacewaySize) -> None:
    """What goes round a raceway is wider than it, but not many times as wide. NaN passes."""
    outside, say = size.outside_diameter_in, written.say
    words = f"{what} {say(across_in)} across" if across_in == across_in else what
    if across_in <= outside:
        wrong = f"{words} is no wider than the raceway, {say(outside)}"
        written.report(wrong, "Measure it at its widest, and look at the unit.")
    if across_in >= MOST_TIMES * outside:
        wrong = f"{words} is {MOST_TIMES} times as wide as the raceway, {say(outside)}, or more"
        written.report(wrong, _MEASURE_AGAIN)


def _check_punch(written: WrittenPunch, punch: ShopPunch, die_in: float | None, size: RacewaySize) -> None:
    """A pilot is smaller than its hole, and a die wider."""
    hole_in, pilot_in, say = punch.hole_in, punch.pilot_in, written.say
    if hole_in is not None:
        _check_width("A hole", written.hole, hole_in, size)
    if die_in is not None:
        _check_width("A die", written.die, die_in, size)
    hole, what = (size.outside_diameter_in, "raceway") if hole_in is None else (hole_in, "hole")
    if pilot_in is not None and pilot_in >= hole:
        wrong = f"The pilot of {say(pilot_in)} is no smaller than the {what}, {say(hole)}"
        written.pilot.report(wrong, _MEASURE_AGAIN)
    if die_in is not None and hole_in is not None and die_in <= hole_in:
        wrong = f"The die of {say(die_in)} is no wider than the hole, {say(hole_in)}"
        written.die.report(wrong, _MEASURE_AGAIN)
