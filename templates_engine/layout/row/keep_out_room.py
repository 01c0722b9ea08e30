"""Turns a raceway into the room its fittings need beside a keep-out that gives no clear distance of its own.

::

        ( hole )  fitting or die |<- kept between fittings ->| keep-out       all from the hole's centre

Straps stand on the strut, away from the face, and play no part; a bonding bushing's lug is turned away.
"""

from __future__ import annotations

from collections.abc import Sequence

from templates_engine.job import raceway_fittings
from templates_engine.job.model import FaceJob, Job
from templates_engine.layout.hole_spec import HoleSpec
from templates_engine.layout.row.fitting_gaps import clearance_in
from templates_engine.trade.not_in_tables import NotInTables


def rooms_beside(job: Job, face: FaceJob, cuts: Sequence[HoleSpec]) -> tuple[float, ...] | None:
    """How far each raceway's fittings reach from its centre; None where every keep-out gives its distance."""
    if all(keep_out.clear_in is not None for keep_out in face.keep_outs):
        return None
    return tuple(_room(job, cut) for cut in cuts)


def _room(job: Job, cut: HoleSpec) -> float:
    """Hole and raceway, and whatever fittings the shop file or the tables know."""
    reaches = [cut.radius_in]
    for kind in raceway_fittings.kinds(cut.raceway, job, on_strut=False):
        try:
            across_in = raceway_fittings.envelope(cut.raceway, kind, job).diameter_in
        except NotInTables:
            continue
        reaches.append(across_in / 2 + clearance_in())
    return max(reaches)
