"""Writes the golden texts anew: ``python -m tests.golden.rewrite [NAME ...]``, from the project's folder.

Read ``git diff tests/golden`` before it is committed, line by line: what stands there becomes right.
"""

from __future__ import annotations

import os
import sys
import tempfile
from pathlib import Path

HERE = Path(__file__).parent
sys.path[:0] = [str(HERE), str(HERE.parent)]

from golden_text import golden_file, jobs, text_of  # noqa: E402


def main(names: list[str]) -> None:
    from templates_engine.user_folder import OVERRIDE

    wanted = jobs()
    unknown = [name for name in names if name not in wanted]
    if unknown:
        sys.exit(f"No such golden text: {', '.join(unknown)}. There are: {', '.join(wanted)}.")
    with tempfile.TemporaryDirectory() as settings:
        os.environ[OVERRIDE] = settings
        for name, job in wanted.items():
            if names and name not in names:
                continue
            with tempfile.TemporaryDirectory() as at:
                text = text_of(name, job, Path(at))
            file = golden_file(name)
            same = file.exists() and file.read_text(encoding="utf-8") == text
            file.write_text(text, encoding="utf-8")
            print(f"{file.name}: {'as it was' if same else 'changed'}")
    if not names:
        for stray in set(HERE.glob("*.txt")) - {golden_file(name) for name in wanted}:
            stray.unlink()
            print(f"{stray.name}: taken away, no such job")
    print("Read what changed: git diff tests/golden")


if __name__ == "__main__":
    main(sys.argv[1:])
