"""Chain: pitch by size, elongation, and where it is worn out."""

from fractions import Fraction

import pytest
from doors import as_printed, base, club_says, figure, inside, met

from trackprep import measure

TRADE = "trade convention, first figure in eighths of an inch; pitches of ISO 606 and ASME B29.1"
B29 = "ASME/ANSI B29.1, guidance on chain wear: 3 % on adjustable centres"
FIXED = "a chain maker's engineering note: 1.5 % on fixed centres"
LARGE = "chain makers' notes: 200 % over the teeth above 66 or 67"
COMPUTED = "length over pitch times pitches, less one; computed"


@pytest.mark.parametrize(
    ("size", "pitch", "source"),
    [
        ("415", "12.70", TRADE),
        ("420", "12.70", TRADE),
        ("428", "12.70", TRADE),
        ("520", "15.875", TRADE),
        ("525", "15.875", TRADE),
        ("530", "15.875", TRADE),
        ("630", "19.05", TRADE),
    ],
)
def test_a_size_tells_its_pitch(size: str, pitch: str, source: str) -> None:
    found = measure("chain", size)["pitch"]
    assert inside(found, "mm") == Fraction(pitch), source
    assert found.value == base(f"{size[0]}/8 in")


def worn(length: str, pitch: str, pitches: int) -> dict[str, object]:
    return {"final-drive": "chain", "chain.pitch": f"{pitch} mm", "chain.measured-links": pitches,
            "chain.measured-length": f"{length} mm"}  # fmt: skip


@pytest.mark.parametrize(
    ("size", "pitches", "length", "printed", "answer", "source"),
    [
        ("428", 20, "258.0", "1.5748", "met", COMPUTED),
        ("520", 16, "256.5", "0.9843", "met", COMPUTED),
        ("520", 20, "321.0", "1.1024", "met", COMPUTED),
        ("520", 20, "327.1", "3.0236", "not-met", f"{COMPUTED}; {B29}"),
    ],
)
def test_a_measured_piece_has_an_elongation(
    size: str, pitches: int, length: str, printed: str, answer: str, source: str
) -> None:
    found = measure("chain", size, length=f"{length} mm", links=pitches)
    assert as_printed(inside(found["elongation"], "%"), printed), source
    pitch = {"4": "12.7", "5": "15.875"}[size[0]]
    assert club_says("common-practice", "chain-wear", worn(length, pitch, pitches)) == answer


@pytest.mark.parametrize(
    ("pitch", "pitches", "new", "one_and_a_half", "three", "source"),
    [
        ("12.7", 20, "254.0", "257.810", "261.620", f"{FIXED}; {B29}"),
        ("15.875", 16, "254.0", "257.810", "261.620", f"{FIXED}; {B29}"),
        ("15.875", 20, "317.5", "322.2625", "327.025", f"{FIXED}; {B29}"),
        ("19.05", 20, "381.0", "386.715", "392.430", f"{FIXED}; {B29}"),
    ],
)
def test_a_chain_is_worn_out_at_a_length(
    pitch: str, pitches: int, new: str, one_and_a_half: str, three: str, source: str
) -> None:
    """Met at just that length, and not a hair beyond it."""
    assert figure(f"elongation({new} mm, {pitch} mm, {pitches})", "%") == 0, source
    beyond = f"{float(Fraction(three) + Fraction(1, 10_000)):.4f}"
    for length, answer in ((three, "met"), (beyond, "not-met")):
        declared = worn(length, pitch, pitches)
        assert club_says("common-practice", "chain-wear", declared) == answer
    beyond = f"{float(Fraction(one_and_a_half) + Fraction(1, 10_000)):.4f}"
    for length, answer in ((one_and_a_half, "met"), (beyond, "not-met")):
        demand = "chain.elongation is at most 1.5 %"
        assert met(demand, worn(length, pitch, pitches)) == answer


def test_pins_taken_for_pitches_make_the_chain_shorter_than_new() -> None:
    """21 pins are 20 pitches: with 21, +1.102 % becomes -3.712 % (computed)."""
    right = measure("chain", "520", length="321 mm", links=20)
    wrong = measure("chain", "520", length="321 mm", links=21)
    assert as_printed(inside(right["elongation"], "%"), "1.102")
    assert as_printed(inside(wrong["elongation"], "%"), "-3.712")
    assert right.says == () or "shorter than new" not in right.says[0]
    assert "shorter than new: count the links again" in wrong.says[0]


@pytest.mark.parametrize(
    ("teeth", "printed", "bare", "source"),
    [
        (45, "3", "4.44", f"{LARGE}: of fewer teeth 3 % stays ({B29})"),
        (66, "3", "3.03", f"{LARGE}: of fewer teeth 3 % stays ({B29})"),
        (67, "2.985", "2.985", LARGE),
        (70, "2.857", "2.857", LARGE),
    ],
)
def test_a_large_sprocket_wears_its_chain_out_sooner(
    teeth: int, printed: str, bare: str, source: str
) -> None:
    assert as_printed(Fraction(200, teeth), bare), source
    found = measure("chain", "520", length="321 mm", links=20, teeth=teeth)["worn out at"]
    assert as_printed(inside(found, "%"), printed)
    for beyond, answer in ((Fraction(-1, 1000), "met"), (Fraction(1, 1000), "not-met")):
        length = Fraction("317.5") * (1 + (Fraction(printed) + beyond) / 100)
        declared = worn(f"{float(length):.6f}", "15.875", 20) | {"sprocket.rear-count": teeth}
        assert club_says("tarn-hollow", "chain-wear", declared) == answer
