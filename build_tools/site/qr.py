"""A web address to a QR code that is printed on a checklist, as inline SVG."""

from __future__ import annotations

import segno

_MODULE_MM = 0.6
"""Read from creased and wet paper; half a millimetre is the least."""
_QUIET_MODULES = 4
"""The quiet zone of ISO/IEC 18004."""


def code(address: str) -> str:
    """Draw the code in its size on paper; empty for no address.

    Level Q of ISO/IEC 18004 mends a quarter of the code, for rain and dirt.
    """
    if not address:
        return ""
    made = segno.make(address, error="q", boost_error=False, micro=False)
    svg: str = made.svg_inline(
        scale=_MODULE_MM,
        unit="mm",
        border=_QUIET_MODULES,
        dark="#000000",
        light="#ffffff",
        title="QR code with the address of this walk",
        svgclass="qr",
        lineclass=None,
    )
    return svg.replace("<svg ", '<svg role="img" ', 1)
