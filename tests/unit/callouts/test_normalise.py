"""Folding glyphs and spellings, and the way back to the text as written."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from holesched.callouts.normalise import GLYPHS, fold
from holesched.features.build import build_callout


@pytest.mark.parametrize(
    ("raw", "folded"),
    [
        ("ø8 φ8 ⌀8 Φ8 ∅8 %%c8 %%C8", "Ø8 Ø8 Ø8 Ø8 Ø8 Ø8 Ø8"),
        ("8%%d ±0.1 %%p0.1 +/-0.1 8º", "8° ±0.1 ±0.1 ±0.1 8°"),
        ("4× 4Х 4Χ 4х M8X1 MAX HEX", "4x 4x 4x 4x M8x1 MAX HEX"),
        ("M8–1 — −5", "M8-1 - -5"),
        (".25” ½” 1½", '.25" 1/2" 1 1/2'),
        ("Ｍ８　深さ１２", "M8 深さ12"),
        ("ｷﾘ ﾀｯﾌﾟ ﾘｰﾏ ｻﾞｸﾞﾘ", "キリ タップ リーマ ザグリ"),
        ("10キリ M8タップ", "10 キリ M8 タップ"),
        ("Ã˜8 Â±0.1 90Â° â†§12 âŒ´11", "Ø8 ±0.1 90° ↧12 ⌴11"),
        ("TARAUDÉ° É±", "TARAUDÉ° É±"),
        ("Ø10,2x20 6,6,Ø11 4,2", "Ø10.2x20 6.6,Ø11 4.2"),
        ("1.000,5 1,2,3 M8,M10", "1.000,5 1,2,3 M8,M10"),
        ("\\A1;{\\H0.7x;\\S+0.018^ 0;} Ø8", "+0.018/0 Ø8"),
        ("M6\\PØ8\nM5\r\nM4<br>M3", "M6\nØ8\nM5\nM4\nM3"),
        ("\\U+22058 &#8960;8 &Oslash;8 90&deg;", "Ø8 Ø8 Ø8 90°"),
        ("М6 МХ6", "M6 MX6".replace("MX", "Mx")),
        ("M6\u200b x\u00a01\u00ad", "M6 x 1"),
        ("6g 6H 6G", "6g 6H 6G"),
        ("٤x Ø٨", "4x Ø8"),
        ("TARAUDE\u0301", "TARAUDÉ"),
    ],
)
def test_fold(raw: str, folded: str) -> None:
    assert fold(raw).text == folded


@pytest.mark.parametrize("glyph", [glyph for glyph in GLYPHS if glyph.strip()])
def test_our_own_alphabet_is_folded_to_itself(glyph: str) -> None:
    assert fold(glyph).text == glyph


@given(st.text(max_size=60))
def test_every_place_leads_back_into_the_raw_text(raw: str) -> None:
    folded = fold(raw)
    places = [folded.place(position) for position in range(len(folded.text) + 1)]
    assert places == sorted(places)
    assert all(0 <= place <= len(raw) for place in places)


@given(st.text(alphabet="Øø×%cCdp \\P½&deg;MX1.,Â°Ã˜ｷﾞ８深\u0301", max_size=40))
def test_folding_twice_changes_nothing_more(raw: str) -> None:
    """Except what folding itself has spelled out: control codes are read once."""
    once = fold(raw).text
    if not any(code in once for code in ("%%", "\\", "&", "Â", "Ã")):
        assert fold(once).text.replace(" ", "") == once.replace(" ", "")


@given(st.text(alphabet="0123456789.,xX ØM-", max_size=30))
def test_plain_characters_keep_their_places(raw: str) -> None:
    folded = fold(raw)
    if "  " not in raw:
        assert len(folded.text) == len(raw)
        assert [folded.place(i) for i in range(len(raw))] == list(range(len(raw)))


def test_raised_figures_are_no_digits_of_the_number_before_them() -> None:
    assert fold("Ø8² THRU").text == "Ø8² THRU"
    assert fold("1¹⁄₄-7 UNC").text == "1 1/4-7 UNC"
    assert fold("Ø³⁄₈").text == "Ø3/8"
    for text, size in (("Ø8²", 8.0), ("M8¹", 8.0)):
        hole, notes, _ = build_callout(text, "mm")
        assert hole is not None
        assert hole.features[0].diameter.mm == size
        assert [note.code for note in notes if note.is_question] == ["CALLOUT-WORD-UNKNOWN"]
