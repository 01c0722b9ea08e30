"""The sample jobs, to start a job of one's own from."""

from __future__ import annotations

from templates_engine.resources import folder


def sample_names() -> tuple[str, ...]:
    """The samples by name, smallest first."""
    place = folder("sample_jobs")
    return tuple(sorted(path.stem for path in place.glob("*.yaml")))


def sample_text(name: str) -> str | None:
    """A sample's text, None where there is none of that name."""
    return (folder("sample_jobs") / f"{name}.yaml").read_text() if name in sample_names() else None
