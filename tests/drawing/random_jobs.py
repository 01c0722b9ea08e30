"""Random jobs of one or two rows, up to 60 raceways in all, on common papers and a roll."""

from __future__ import annotations

from factories import make_face, make_job, make_keep_out, make_printing, make_raceway, make_row
from hypothesis import strategies as st

from templates_engine.job.model import Job, KeepOut, Lips, PaperSize
from templates_engine.trade.papers import read_paper
from templates_engine.trade.raceways import look_up


@st.composite
def jobs(draw: st.DrawFn) -> Job:
    """One or two rows of mixed sizes, on a face just long enough for them or with room to spare."""
    names = draw(st.lists(st.sampled_from(["1/2", "3/4", "1", "1-1/4", "2", "3"]), min_size=1, max_size=60))
    gap = draw(st.sampled_from([0.5, 0.875, 1.125]))
    width = sum(look_up("EMT", name).outside_diameter_in + gap for name in names) + draw(st.integers(2, 12))
    cut = draw(st.integers(0, len(names) // 2))
    deep = max(look_up("EMT", name).outside_diameter_in for name in names)
    rows = [make_row(*names[cut:], gap=gap, snap=draw(st.sampled_from([None, 1 / 16])))]
    if cut:
        rows.append(make_row(*names[:cut], name="B", back_line=1.625 + deep + 1.5, gap=gap))
    if draw(st.booleans()):
        long_ids = [
            make_raceway(name, f"EM-{number}.W{number}") for number, name in enumerate(names[cut:], 10)
        ]
        rows[0] = make_row(*long_ids, gap=gap)
    keep_outs = draw(
        st.lists(st.builds(_keep_out, st.integers(1, max(int(width) - 2, 1)), st.booleans()), max_size=2)
    )
    face = make_face(
        *rows,
        face=draw(st.sampled_from(["top", "bottom", "left", "right"])),
        mark_from=draw(st.sampled_from(["outside", "inside"])),
        width=width,
        depth=1.625 + (deep + 1.5) * len(rows) + draw(st.integers(0, 8)),
        lips=Lips(front_in=draw(st.sampled_from([0.0, 0.5]))),
        keep_outs=keep_outs,
    )
    papers = draw(
        st.lists(st.sampled_from(["letter", "legal", "tabloid", "A4", "24 in roll"]), min_size=1, max_size=2)
    )
    sizes = [read_paper(text) for text in papers]
    printing = make_printing(
        papers=tuple(PaperSize(size.name, size.short_in, size.long_in) for size in sizes),
        overlap_in=draw(st.sampled_from([0.25, 0.5, 1.0])),
        joints=draw(st.sampled_from(["overlap", "butt"])),
    )
    return make_job(face, unit=draw(st.sampled_from(["in", "mm"])), printing=printing)


def _keep_out(at: int, is_round: bool) -> KeepOut:
    if is_round:
        return make_keep_out(float(at), 0.75, diameter=0.5, name="stud")
    return make_keep_out((float(at), at + 1.5), (0.25, 1.25), name="hinge")
