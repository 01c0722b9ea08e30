"""Records in the register what is drawn, and refuses a layout that changed under an unchanged revision."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

from templates_engine.errors import JobProblems, Problem
from templates_engine.job.text.file import load_text
from templates_engine.office.building import name_from
from templates_engine.office.register.faces import faces_of_layout, faces_of_plan
from templates_engine.office.register.find_register import register_file_over
from templates_engine.office.register.store import DRAFT, DRAWN, EntryFace, Register, RegisterEntry
from templates_engine.pipeline import Solved
from templates_engine.sheets.model import SheetPlan


class Recording:
    """One drawing, about to be recorded."""

    def __init__(self, register: Register, job: Path, solved: Solved) -> None:
        self._register, self._file, self._solved = register, job, solved
        self._job = name_from(register.folder, job)

    def refuse_same_revision(self) -> None:
        """Raises JobProblems where a face was drawn otherwise under the revision the job still has.

        A draft is nothing to cut from, and counts neither way.
        """
        if self._solved.fails:
            return
        revision = self._solved.layout.job.revision
        last = self._register.last_under(self._job, revision)
        changed = [
            last[one.face]
            for one in faces_of_layout(self._solved.layout)
            if one.face in last and last[one.face].face.fingerprint != one.fingerprint
        ]
        if changed:
            raise JobProblems([self._same_revision(changed, revision)])

    def _same_revision(self, changed: list[EntryFace], revision: str) -> Problem:
        faces = ", ".join(f"{one.face.face} (was {one.face.fingerprint})" for one in changed)
        under = f"revision {revision} was drawn" if revision else "it was drawn without a revision"
        words = f"the layout has changed since {under} on {day(changed[0].entry.at)}: {faces}."
        remedy = (
            f"Write the next {'letter' if revision else 'one, such as `revision: A`,'} under `revision`; or, "
            "where no sheet of it has left the office, add --same-revision."
        )
        return Problem(words, remedy, file=str(self._file), key="revision")

    def record(self, plan: SheetPlan, pdf: Path) -> None:
        """Keeps it, unless it is the last that is kept. Raises CannotWrite and JobProblems."""
        job = self._solved.layout.job
        entry = RegisterEntry(
            self._job,
            job.enclosure.mark,
            job.title,
            job.revision,
            job.unit,
            job.denominator,
            now(),
            DRAFT if self._solved.fails else DRAWN,
            name_from(self._register.folder, pdf),
            load_text(self._file),
        )
        self._register.add(entry, faces_of_plan(plan.faces))


def recording(job: Path, solved: Solved, *, same_revision: bool = False) -> Recording | None:
    """How to record a drawing of the job; None where no register is kept.

    Raises CannotWrite, and JobProblems where the layout changed under the ``same_revision``, unless it may.
    """
    file = register_file_over(job.parent)
    if file is None:
        return None
    register = Register(file)
    register.refuse_unwritable()  # before a template is written that could not be recorded
    made = Recording(register, job, solved)
    if not same_revision:
        made.refuse_same_revision()
    return made


def now() -> str:
    """The time as the register writes it."""
    return datetime.now().astimezone().isoformat(timespec="minutes")


def day(at: str) -> str:
    """Such a time as people read it: "26 Nov 2026 15:40"."""
    moment = datetime.fromisoformat(at)
    return f"{moment.day} {moment:%b %Y %H:%M}"
