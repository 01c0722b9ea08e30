"""Makes buildings of invented panels in a folder, and ways to see what stands there."""

from __future__ import annotations

from pathlib import Path

RACEWAYS = (
    "{type: EMT, size: 1, count: 3}, {type: EMT, size: 3/4}",
    "{type: EMT, size: 1-1/4, count: 2}, {type: RMC, size: 3/4, cutter: hole saw}",
    "{type: EMT, size: 2}, {type: EMT, size: 1, count: 2}",
    "{type: EMT, size: 3/4, count: 4}",
)
FLOORS = ("ground floor", "ground floor/east", "second floor", "second floor/plant room")
TOO_SHALLOW = "{type: RMC, size: 5}"


def panel(
    mark: str,
    raceways: str = RACEWAYS[0],
    *,
    revision: str = "A",
    width: str = "20",
    paper: str = "letter",
    second_face: bool = False,
) -> str:
    """The job file of one panel; the second face has two rows."""
    text = f"""job: Lakeside school
revision: {revision}
enclosure: {{mark: {mark}, kind: panelboard, width: {width}, height: 40, depth: 5-3/4, back gap: 1/4}}
faces:
  - face: top
    mark from: outside
    rows:
      - {{strut: 13/16, gap: 1, place: centred, raceways: [{raceways}]}}
"""
    if second_face:
        text += """  - face: bottom
    mark from: outside
    rows:
      - {strut: 13/16, gap: 1, place: centred, raceways: [{type: EMT, size: 3/4, count: 2}]}
      - {back line: 3-1/2, gap: 1-1/8, place: centred, raceways: [{type: EMT, size: 1}]}
"""
    return f'{text}print: {{paper: "{paper}"}}\n'


def make_building(folder: Path, count: int = 40) -> list[Path]:
    """So many panels over the floors, every one another; the files in the order of their names."""
    files = []
    for number in range(count):
        floor = folder / FLOORS[number % len(FLOORS)]
        floor.mkdir(parents=True, exist_ok=True)
        file = floor / f"LP-{number + 1:02}.yaml"
        width = f"{18 + number // 4}-1/2"
        file.write_text(panel(f"LP-{number + 1}", RACEWAYS[number % 3], width=width), encoding="utf-8")
        files.append(file)
    return sorted(files)


def drawn(folder: Path) -> dict[str, bytes]:
    """Every PDF below a folder by its name there."""
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in sorted(folder.rglob("*.pdf"))}


def strays(folder: Path) -> list[str]:
    """Files that nobody asked for: all but templates and what is remembered of them."""
    return sorted(
        path.name
        for path in folder.rglob("*")
        if path.is_file() and path.suffix != ".pdf" and path.name != ".drawn.json"
    )
