"""The QR code on paper: it reads back, at level Q, with its quiet zone, large enough for creased paper."""

from __future__ import annotations

import xml.etree.ElementTree as ET

import pytest
from qr_reader import level_and_mask, modules, text

from build_tools.site import qr

ADDRESSES = (
    "https://a.test/w/x.html",
    "https://guide.example/walk/start-here.html?v=1.0.0",
    "https://guide.example/leaks/walk/wet-in-cold-weather.html?v=12.34.56",
)


@pytest.mark.parametrize("address", ADDRESSES)
def test_it_reads_back_as_the_address(address: str) -> None:
    code, _ = modules(qr.code(address))
    assert text(code) == address


@pytest.mark.parametrize("address", ADDRESSES)
def test_it_is_level_q_with_a_quiet_zone_of_four_modules(address: str) -> None:
    # ISO/IEC 18004: level Q mends a quarter; the quiet zone is 4 modules wide (reported by a reader maker's guide).
    code, margin = modules(qr.code(address))
    assert level_and_mask(code)[0] == "Q"
    assert margin == 4
    assert float(ET.fromstring(qr.code(address)).get("viewBox", "").split()[2]) == pytest.approx(
        (len(code) + 2 * margin) * 0.6
    )


def test_a_module_is_at_least_half_a_millimetre() -> None:
    svg = qr.code(ADDRESSES[1])
    code, margin = modules(svg)
    width = ET.fromstring(svg).get("width", "")
    assert width.endswith("mm")
    assert float(width.removesuffix("mm")) / (len(code) + 2 * margin) >= 0.5


def test_it_has_a_name_and_no_inline_style() -> None:
    svg = qr.code(ADDRESSES[0])
    assert 'role="img"' in svg and "<title>QR code with the address of this walk</title>" in svg
    assert "style=" not in svg


def test_no_address_no_code() -> None:
    assert qr.code("") == ""
