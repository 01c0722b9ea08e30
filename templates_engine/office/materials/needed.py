"""Turns laid out jobs into the material they need, each and in all, and tells what they leave open."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from templates_engine.advice.bring_list import BringList, bring_list
from templates_engine.job.model import Job
from templates_engine.layout import solve
from templates_engine.layout.model import Layout
from templates_engine.office.materials.items import GROUPS, HABITS, Item, holes_of, items_of
from templates_engine.units import LengthFormat, Unit
from templates_engine.values import Struct, replace
from templates_engine.wiring import Contents, contents_of_job, fit_sizes


class EnclosureMaterials(Struct, frozen=True):
    """What one enclosure needs, and what its job leaves open."""

    file: str
    mark: str
    items: tuple[Item, ...]
    not_counted: tuple[str, ...]
    sources: tuple[str, ...]


class Materials(Struct, frozen=True):
    """What the enclosures need, each and in all; ``unit`` is the one lengths are told in."""

    enclosures: tuple[EnclosureMaterials, ...]
    in_all: tuple[Item, ...]
    unit: Unit
    left_out: tuple[str, ...] = ()
    """Files of jobs that cannot be used, so that nothing of them is counted."""

    @property
    def not_counted(self) -> tuple[tuple[str, str, str], ...]:
        """Enclosure, file and what of it is not counted."""
        return (
            *(("", file, "the job cannot be used: nothing of it is counted") for file in self.left_out),
            *((one.mark, one.file, words) for one in self.enclosures for words in one.not_counted),
        )

    @property
    def sources(self) -> tuple[str, ...]:
        """Where looked up sizes come from, and by which habits all was counted."""
        looked_up = (source for one in self.enclosures for source in one.sources)
        return (*dict.fromkeys(looked_up), *HABITS)


def laid_out(job: Job) -> tuple[Layout, Contents]:
    """The job's layout and what its raceways carry, unchecked. Raises JobProblems and CannotFit."""
    layout = solve(fit_sizes(job))
    return layout, contents_of_job(layout.job)


def materials(jobs: Sequence[tuple[str, Layout, Contents]], left_out: Sequence[str] = ()) -> Materials:
    """What the jobs need; each with the name of its file and what its raceways carry.

    Lengths are in millimetres where all the jobs are, else in inches.
    """
    unit: Unit = "mm" if all(layout.job.unit == "mm" for _, layout, _ in jobs) else "in"
    enclosures = tuple(_of_enclosure(*one, LengthFormat(unit)) for one in jobs)
    in_all = _together(item for one in enclosures for item in one.items)
    return Materials(enclosures, in_all, unit, tuple(left_out))


def _of_enclosure(file: str, layout: Layout, contents: Contents, lengths: LengthFormat) -> EnclosureMaterials:
    needed = bring_list(layout.job, layout.faces)
    return EnclosureMaterials(
        file=file,
        mark=layout.job.enclosure.mark,
        items=_together(items_of(layout, contents, needed, lengths)),
        not_counted=tuple(_left_open(needed, layout, contents)),
        sources=needed.sources,
    )


def _together(items: Iterable[Item]) -> tuple[Item, ...]:
    """Alike items as one, group after group, kinds as they first come, largest sizes first.

    One tool serves all; of everything else there is as much as all need.
    """
    found: dict[tuple[str, ...], Item] = {}
    for item in items:
        known = found.get(item.key)
        if known is None:
            found[item.key] = item
        else:
            quantity = known.quantity if item.group == "tools" else known.quantity + item.quantity
            found[item.key] = replace(known, quantity=quantity, holes=known.holes + item.holes)
    kinds = list(dict.fromkeys((item.group, item.what) for item in found.values()))
    return tuple(
        sorted(
            found.values(),
            key=lambda item: (
                GROUPS.index(item.group),
                kinds.index((item.group, item.what)),
                -item.rank,
                item.detail,
            ),
        )
    )


# --- what is left open --------------------------------------------------------------------------------------


def _left_open(needed: BringList, layout: Layout, contents: Contents) -> Iterator[str]:
    """What the job does not say and so is not counted, a sentence each."""
    if needed.no_bushing_named:
        yield f"no bushing is named for {', '.join(needed.no_bushing_named)}: none is counted"
    for face in layout.faces:
        for row in face.rows:
            if row.row.back_line == "auto":
                under = "what its strut stands on" if row.row.strut else "its strut"
                yield f"{face.job.face.value}, row {row.row.name} ({row.line.words}): {under} is not counted"
    runs = [hole.raceway.run_length_in for _, hole in holes_of(layout)]
    if None in runs:
        which = f"{runs.count(None)} of {len(runs)} raceways" if any(runs) else "the raceways"
        yield f"{which} have no `run length`: neither they nor what they carry is counted"
    for place, carried in contents.items():
        if carried.missing:
            keys = "` and `".join(carried.missing)
            yield f"{' '.join(place)}: `{keys}` not given, so conductors may be missing"
