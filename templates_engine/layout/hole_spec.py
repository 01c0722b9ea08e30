"""Turns a raceway into what is cut for it: hole circle, limits and pilot.

Where its centre stands is for others.
"""

from __future__ import annotations

from templates_engine.geometry import Point
from templates_engine.job.model import Cutter, Raceway
from templates_engine.job.shop.model import MEASURED, Shop, ShopPunch, punch
from templates_engine.layout.model import Hole, RowLine
from templates_engine.layout.row.failure import RowError
from templates_engine.trade import cutters, knockouts
from templates_engine.trade.not_in_tables import NotInTables
from templates_engine.trade.raceways import RacewaySize
from templates_engine.units import exact
from templates_engine.values import Struct


class HoleSpec(Struct, frozen=True):
    """A raceway of known size with its hole and pilot, not yet at a place."""

    raceway: Raceway
    size: RacewaySize
    diameter_in: float
    least_in: float
    most_in: float
    source: str
    pilot: cutters.Pilot | None

    @property
    def radius_in(self) -> float:
        """Half the larger of hole and raceway: what must stay clear of other things on the face."""
        return max(self.diameter_in, self.size.outside_diameter_most_in) / 2

    @property
    def reach_in(self) -> float:
        """Half the raceway at its largest: from its centre to its side."""
        return self.size.outside_diameter_most_in / 2

    def centre_v(self, line: RowLine) -> float:
        """The centre's distance from the back edge: its factory knockout's, or on the row's centre line, or
        half the (mean) diameter in front of its back line.
        """
        if self.raceway.centre_v_in is not None:
            return self.raceway.centre_v_in
        return line.centre_v(self.size.outside_diameter_in)

    def at(self, row_name: str, u_in: float, line: RowLine) -> Hole:
        """The hole at its place."""
        v_in = self.centre_v(line)
        return Hole(
            id=self.raceway.id,
            row=row_name,
            raceway=self.raceway,
            type=self.size.type,
            trade_size=self.size.trade_size,
            u_in=u_in,
            v_in=v_in,
            outside_diameter_in=self.size.outside_diameter_in,
            outside_diameter_most_in=self.size.outside_diameter_most_in,
            hole_diameter_in=self.diameter_in,
            hole_least_in=self.least_in,
            hole_most_in=self.most_in,
            hole_source=self.source,
            cutter=self.raceway.cutter.value if self.pilot else "none",
            pilot_diameter_in=self.pilot.diameter_in if self.pilot else None,
            pilot_source=f"{self.pilot.source}; {self.pilot.provenance}" if self.pilot else "",
            quarter_points_in=quarter_points(Point(u_in, v_in), self.diameter_in),
        )


def quarter_points(centre: Point, diameter_in: float) -> tuple[Point, Point, Point, Point]:
    """Where the centre's cross-lines meet the hole circle: toward start edge, end edge, back and front."""
    u, v, half = centre.x, centre.y, diameter_in / 2
    return Point(u - half, v), Point(u + half, v), Point(u, v - half), Point(u, v + half)


def hole_spec(raceway: Raceway, shop: Shop) -> HoleSpec:
    """What is cut for a raceway, by the shop's own punch where it has one.

    Raises RowError when its size is not known or no such hole is listed.
    """
    if raceway.size is None:
        raise RowError(
            raceway.place,
            f"{raceway.id} has no trade size yet, so its hole and its place cannot be worked out.",
            "Write its trade size, such as size: 2.",
        )
    try:
        return _hole_spec(raceway, raceway.size, shop)
    except NotInTables as error:
        raise RowError(raceway.place, f"{raceway.id}: {error.message}", error.remedy) from error


def _hole_spec(raceway: Raceway, size: RacewaySize, shop: Shop) -> HoleSpec:
    own = punch(shop, size)
    own_words = f"{shop.source}; {MEASURED}"
    if raceway.hole == "punch" and own is not None and own.hole_in is not None:
        diameter = least = most = own.hole_in
        source = own_words
    elif isinstance(raceway.hole, str):
        table = knockouts.look_up if raceway.hole == "knockout" else knockouts.field_punch
        listed = table(size)
        diameter, least, most = listed.nominal_in, listed.least_in, listed.most_in
        source = f"{listed.source}; {listed.provenance}"
    else:
        diameter = least = most = raceway.hole
        source = "given in the job"
    if raceway.knockout != "cut":
        return HoleSpec(raceway, size, diameter, least, most, source, None)
    pilot = _own_pilot(raceway, own, shop.source) or cutters.pilot(raceway.cutter.value, size, diameter)
    if pilot.diameter_in >= diameter:
        raise NotInTables(
            f"The shop's punch of trade size {size.trade_size} starts from a pilot of "
            f"{exact(pilot.diameter_in)} in, no smaller than the hole of {exact(diameter)} in.",
            "Check the hole, or the pilot in the shop file.",
        )
    return HoleSpec(raceway, size, diameter, least, most, source, pilot)


def _own_pilot(raceway: Raceway, own: ShopPunch | None, source: str) -> cutters.Pilot | None:
    """The pilot of the shop's punch where that is what cuts; a hole given otherwise is another punch's."""
    if raceway.cutter is not Cutter.PUNCH or own is None or own.pilot_in is None:
        return None
    if not isinstance(raceway.hole, str) and raceway.hole != own.hole_in:
        return None
    return cutters.Pilot(own.pilot_in, f"{exact(own.pilot_in)} in pilot", source, MEASURED)
