"""Turns the name of a rule into the article that it stands in, by the edition of the code."""

from __future__ import annotations

import re
from functools import cache

from templates_engine.trade.not_in_tables import NotInTables, listed, nearest
from templates_engine.trade.tables import DamagedTable, read_table

DEFAULT_EDITION = "NEC 2023"
_NAMED = re.compile(r"\{([^{}]+)\}")


@cache
def editions() -> tuple[str, ...]:
    """The editions a job may name, newest first."""
    return read_table("articles").columns[:0:-1]


def find_edition(text: str) -> str:
    """The edition's name for "NEC 2023", "nec2020" or "2017". Raises NotInTables."""
    year = text.strip().lower().removeprefix("nec").strip()
    found = next((edition for edition in editions() if edition.endswith(f" {year}")), None)
    if found is None:
        like = nearest(text, editions())
        hint = f"Did you mean {like}? " if like else ""
        raise NotInTables(
            f"'{text}' is no edition of the code in the tables.", f"{hint}Write {listed(editions())}."
        )
    return found


def article(rule: str, edition: str) -> str:
    """The article or table of a rule that the table of articles names, such as "counting neutrals"."""
    name = find_edition(edition)
    for row in read_table("articles").rows:
        if row.text("rule") == rule:
            return row.text(name)
    raise DamagedTable(f"articles.yaml has no rule '{rule}'")


def in_edition(words: str, edition: str) -> str:
    """Words with every rule in braces replaced by its article: "NEC {counting neutrals}"."""
    return _NAMED.sub(lambda found: article(found.group(1), edition), words)
