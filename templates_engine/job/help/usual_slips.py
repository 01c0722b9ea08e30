"""Turns usual slips in the values of a job file into what to write instead; reads no value itself."""

from __future__ import annotations

import re

from templates_engine.trade.not_in_tables import listed
from templates_engine.trade.strut import depths
from templates_engine.units import LengthError, LengthFormat, Unit, read_length

# --- quotes a word processor makes --------------------------------------------------------------------------

_CURLY = "“”„‟‘’‚‛«»"
_QUOTES = f"{_CURLY}\"'"


def within_curly_quotes(text: str) -> str:
    """What stands between curly quotes that go round the whole text; empty where none do."""
    plain = text.strip()
    if len(plain) < 3 or plain[0] not in _CURLY or plain[-1] not in _QUOTES:
        return ""
    return plain[1:-1].strip()


# --- lengths with words -------------------------------------------------------------------------------------

_ON_CENTRES = re.compile(
    r"(.*[0-9][^a-z]*(?:in|inch|inches|mm|cm|m|ft|feet|foot)?\.?)[ ,(]*"
    r"(?:o\.? ?c\.?|on cent(?:re|er)s?|c\.?(?: ?[-/]? ?| to )c\.?"
    r"|cent(?:re|er)s?(?:[ -]to[ -]cent(?:re|er)s?)?)\)?",
    re.IGNORECASE,
)


def without_centres(text: str) -> str:
    """The length in a text that says after it that it runs from centre to centre; empty for any other."""
    match = _ON_CENTRES.fullmatch(text.strip())
    return match[1].strip() if match else ""


def length_remedy(text: str, unit: Unit, *, may_be_zero: bool) -> str:
    """What to write for a length with words behind it, or for a word that means none; empty for others."""
    words = " ".join(text.split())
    if may_be_zero and words.lower() in ("none", "no", "nil", "zero", "flat", "n/a", "-"):
        return "Write 0 where there is none."
    bare = re.sub(r"(?<=[0-9])ths?$", "", _ABOUT.sub("", _HARMLESS.sub("", words)))
    return f"Write `{bare}` alone." if bare != words and _as_length(bare, unit) else ""


_ABOUT = re.compile(r"^(?:[~≈]|about |approx\.? |min\.? |max\.? )", re.IGNORECASE)
_HARMLESS = re.compile(
    r"[ ,(]+(?:clear|minimum|min\.?|maximum|max\.?|wide|high|tall|deep|long|apart|between|or more|or less|"
    r"typical|typ\.?|nominal|approx\.?|roughly|each|edge to edge"
    r"|from (?:the )?(?:left|right|top|bottom|back))\)?$",
    re.IGNORECASE,
)
"""Words that change nothing of the length before them; never a unit, however it is spelled."""
_TWICE = r"(?:double|doubled|twice|back[ -]to[ -]back)"
_USUAL_STRUT = "1-5/8"


def strut_remedy(text: str, unit: Unit) -> str:
    """What to write for strut that is named in words or as several depths; empty where it is plain a length
    or nothing is known of it.
    """
    words = " ".join(text.lower().replace("×", "x").split())
    if re.fullmatch(r"(none|no|no strut|n/a)", words):
        return (
            "Leave `strut` out, and write `centre line:` with the distance from the enclosure's back to the "
            "centres, or `back line:` with that to the raceways' backs."
        )
    if re.fullmatch(_TWICE, words):
        return _list_of([_USUAL_STRUT] * 2) + " with the depth of yours."
    twice = re.fullmatch(rf"(?:{_TWICE} (.+)|(.+?),? {_TWICE}|(.+?) ?x ?2|2 ?x ?(.+))", words)
    if twice and (depth := _as_length(next(part for part in twice.groups() if part), unit)):
        return _list_of([depth] * 2) + "."
    parts = [_as_length(part, unit) for part in re.split(r" ?\+ ?| and | plus ", words)]
    if len(parts) > 1 and all(parts):
        return _list_of(parts) + "."
    section = re.fullmatch(r"(.+?) ?x ?(.+)", words)
    if section and (depth := _as_length(section[2], unit)) and _as_length(section[1], unit):
        return (
            f"Write its depth from the wall alone, such as `strut: {depth}`; two struts one on the other are "
            f"written as a list, `strut: [{section[1].strip()}, {depth}]`."
        )
    if not re.search("[0-9]", words):
        usual = listed(LengthFormat(unit, 16).say(one.depth_in) for one in depths())
        return f"Write how deep it is, from the wall to its face: usual depths are {usual}."
    return ""


def _list_of(depths: list[str]) -> str:
    return f"Write struts one on the other as a list, `strut: [{', '.join(depths)}]`"


def _as_length(text: str, unit: Unit) -> str:
    """The text where it is a length, empty where not."""
    try:
        read_length(text, unit)
    except LengthError:
        return ""
    return text.strip()


# --- kinds of enclosure -------------------------------------------------------------------------------------

_OTHER_KINDS = {
    "wireway": "gutter; auxiliary gutter; wiring gutter; trough; wiring trough; wire trough; wire way",
    "pull box": "junction box; j-box; j box; jbox; jb; junction; splice box; pullbox; pull can; terminal box",
    "panelboard": "panel; panel board; load center; load centre; loadcenter; loadcentre; breaker panel; "
    "breaker box; lighting panel; power panel; distribution panel; distribution board; subpanel; sub panel; "
    "main panel; service panel; fuse box",
    "cabinet": "mcc; motor control center; motor control centre; switchboard; switchgear; disconnect; "
    "disconnect switch; safety switch; fused disconnect; transformer; meter; meter can; meter socket; "
    "meter base; ct cabinet; ct can; vfd; drive; starter; motor starter; control panel; contactor; "
    "transfer switch; ats; ups; generator; enclosure; can; cutout box; terminal cabinet; equipment",
}
_KIND_OF = {word: kind for kind, words in _OTHER_KINDS.items() for word in words.split("; ")}


def kind_remedy(text: str) -> str:
    """Which kind to write for an enclosure that goes by another name; empty where nothing is known of it."""
    kind = _KIND_OF.get(" ".join(text.lower().replace(".", "").split()))
    if kind == "cabinet":
        return "Write `kind: cabinet`, which is every enclosure but a panelboard, a wireway or a pull box."
    return f"Write `kind: {kind}`." if kind else ""
