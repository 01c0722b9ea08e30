"""Random jobs for tests of advice: often too shallow, too close or too long for their box."""

from __future__ import annotations

from factories import from_edge, make_face, make_job, make_keep_out, make_raceway, make_row
from hypothesis import strategies as st

from templates_engine.job.model import Job, Lips


def sixteenths(low: float, high: float) -> st.SearchStrategy[float]:
    return st.integers(round(low * 16), round(high * 16)).map(lambda count: count / 16)


@st.composite
def jobs(draw: st.DrawFn) -> Job:
    """Boxes with one or two rows of mixed sizes in one face."""
    rows = []
    for name in draw(st.sampled_from(["A", "A", "AB"])):
        raceways = [
            make_raceway(
                draw(st.sampled_from(["1/2", "1", "2", "3", "4"])),
                f"{name}{number}",
                type=draw(st.sampled_from(["EMT", "RMC"])),
                bushing=draw(st.sampled_from([None, "bonding", "insulated"])),
                hole=draw(st.sampled_from(["knockout", "knockout", "punch"])),
            )
            for number in range(1, draw(st.integers(2, 5)))
        ]
        back_line = draw(st.sampled_from(["strut", "strut", "auto" if name == "B" else "strut", 2.0]))
        rows.append(
            make_row(
                *raceways,
                name=name,
                back_line=back_line,
                strut=None if isinstance(back_line, float) else draw(st.sampled_from([0.8125, 1.625, 3.25])),
                gap=draw(sixteenths(0, 1.25)),
                snap=draw(st.sampled_from([None, 1 / 16])),
                placing=draw(st.sampled_from([None, from_edge(3.0), from_edge(3.0, "end", "near side")])),
            )
        )
    seam = make_keep_out((9.0, 9.5), clear=0.25)
    face = make_face(
        *rows,
        face=draw(st.sampled_from(["top", "left"])),
        width=draw(st.sampled_from([20.0, 30.0])),
        depth=draw(sixteenths(3, 9)),
        lips=Lips(front_in=draw(st.sampled_from([0.0, 0.5]))),
        keep_outs=draw(st.sampled_from([(), (), (seam,)])),
    )
    return make_job(face, back_gap=draw(st.sampled_from([0.0, 0.25, 1.0])))
