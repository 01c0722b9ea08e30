"""Turns findings and what the raceways carry into the report for the inspector, on one page where it fits."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from templates_engine.checks.model import Finding, Outcome
from templates_engine.checks.raceway_report import RacewayReport
from templates_engine.drawing.cover.findings import not_checked, passed_checks
from templates_engine.drawing.cover.page_flow import PageBlock, bullet, heading, paragraph, space, stack
from templates_engine.drawing.cover.tables import Column, table
from templates_engine.drawing.shapes import Document, DrawnPage
from templates_engine.drawing.style import TEXT_PT
from templates_engine.job.model import Job
from templates_engine.layout.model import Layout
from templates_engine.sheets.model import PageFormat
from templates_engine.trade.conductors import with_unit
from templates_engine.wiring.ampacity import AMBIENT_C

_COLUMNS = (
    Column("raceway", bold=True),
    Column("type and size", gives_way=True),
    Column("conductors", gives_way=True),
    Column("fill, %\nof allowed", "right"),
    Column("carry\ncurrent", "right"),
    Column("adjusted\nto, %", "right"),
    Column("ground,\nasked"),
    Column("device, A,\nlargest"),
)
NOT_TOLD = "not told"
CAUTION = (
    "Computed from the job file alone, by the edition of the code named above; what is marked from memory "
    "has to be verified. It stands beside, not above, the adopted code, the drawings and the authority "
    "having jurisdiction."
)


def inspection_document(
    layout: Layout, reports: Sequence[RacewayReport], findings: Sequence[Finding], page: PageFormat
) -> Document:
    """The report as a file of its own."""
    job, area = layout.job, page.printable
    blocks = [*_head(layout, area.width), *_raceways(reports, area.width), *_findings(findings, area.width)]
    pages = stack(blocks, area)
    return Document(
        f"{job.enclosure.mark}: report for the inspector",
        ", ".join(filter(None, (job.title, job.revision, job.date))),
        page.width_in,
        page.height_in,
        (),
        tuple(DrawnPage(shapes, (), f"report, page {number}") for number, shapes in enumerate(pages, 1)),
    )


def _head(layout: Layout, width: float) -> Iterator[PageBlock]:
    job = layout.job
    yield heading(f"{job.enclosure.mark}: report for the inspector", TEXT_PT + 4)
    told = [job.title, f"revision {job.revision}" if job.revision else "", job.date, job.code]
    told += [job.enclosure.kind, f"{job.enclosure.system} V" if job.enclosure.system else "no system told"]
    told += _conditions(job)
    told += [f"{face.job.face.value} {face.fingerprint}" for face in layout.faces]
    yield from paragraph("; ".join(filter(None, told)) + ".", width)
    yield from paragraph(CAUTION, width)
    yield space(0.1)


def _conditions(job: Job) -> Iterator[str]:
    """What ampacities were worked out for besides the conductors."""
    enclosure = job.enclosure
    yield f"{enclosure.location or 'place not told, taken as dry'}"
    if enclosure.service:
        yield "service equipment"
    stands = (
        f"{enclosure.terminals_c} C"
        if enclosure.terminals_c
        else "60 C up to 100 A, 75 C above, as none is told"
    )
    yield f"terminals of {stands}"
    yield f"air of {AMBIENT_C if enclosure.ambient_c is None else enclosure.ambient_c:g} C"
    if enclosure.nonlinear_loads is not None:
        yield "loads mostly nonlinear" if enclosure.nonlinear_loads else "loads mostly linear"


def _raceways(reports: Sequence[RacewayReport], width: float) -> Iterator[PageBlock]:
    """A row a raceway, named with its face where there are several."""
    several = len({one.face for one in reports}) > 1
    yield heading("Raceways")
    yield from table(_COLUMNS, [_row(one, several) for one in reports], width)
    yield space(0.12)


def _row(one: RacewayReport, several: bool) -> tuple[str, ...]:
    name = f"{one.face} {one.hole.id}" if several else one.hole.id
    devices = ", ".join(f"{there} of {most}" for there, most in one.devices)
    ground = f"{one.ground} of {one.ground_asked}" if one.ground_asked else one.ground
    return (
        name,
        one.hole.raceway_name + (f" to {one.hole.raceway.to}" if one.hole.raceway.to else ""),
        "; ".join(_conductors(one)) or ("nothing" if one.current_carrying == 0 else NOT_TOLD),
        "" if one.fill_percent is None else f"{one.fill_percent:.1f} of {one.fill_limit_percent:g}",
        "" if one.current_carrying is None else str(one.current_carrying),
        "" if one.adjustment_percent is None else f"{one.adjustment_percent:g}",
        ground or ("" if not one.groups else "raceway"),
        devices or ("" if not one.groups else NOT_TOLD),
    )


def _conductors(one: RacewayReport) -> Iterator[str]:
    for group in one.groups:
        wire = group.wire
        metal = " Al" if wire.metal == "Al" else ""
        yield f"{group.count} {group.use} {with_unit(wire.size)}{metal} {wire.insulation}"


def _findings(findings: Sequence[Finding], width: float) -> Iterator[PageBlock]:
    """What fails and what to mind in full, what was not checked, and what passed with its articles."""
    yield heading("Findings")
    for item in findings:
        if item.outcome in (Outcome.FAIL, Outcome.CAUTION):
            where = " ".join(filter(None, (item.face, ", ".join(item.holes))))
            words = f"{item.outcome.value.upper()}, {item.check} ({where}): {item.message} [{item.source}]"
            yield from bullet(words, width, bold=item.outcome is Outcome.FAIL)
    for face in dict.fromkeys(item.face for item in findings):
        for message, lacking in not_checked([item for item in findings if item.face == face]).items():
            checks = "; ".join(f"{item.check} [{item.source}]" for item in lacking)
            where = f" ({face})" if face else ""
            yield from bullet(f"NOT CHECKED{where}, {checks}: {message}", width)
    if passed := passed_checks(findings):
        told = "; ".join(f"{check} [{source}]" for check, source in passed.items())
        yield from paragraph(f"Passed: {told}.", width)
