"""QR codes as drawings for the templates."""

import io
from typing import Any, Final

# A phone's camera tells modules of half a millimetre apart at arm's length (common practice, no source).
MODULE: Final = 0.5  # mm
QUIET: Final = 4  # modules of empty border, as ISO/IEC 18004 asks


def qr_code(link: str) -> dict[str, Any]:
    """A link as a drawing: SVG text, width on paper in mm, and its version; about 15 % of it may be soiled.

    The digits at the end of a link are packed as digits, which takes the least room.
    """
    import segno  # only issued sheets have a code, and it takes a while to load

    head, mark, rest = link.partition("#")
    pieces: Any = [head + mark, rest] if rest else [link]
    code = segno.make(pieces, error="m", micro=False)
    drawn = io.BytesIO()
    code.save(drawn, kind="svg", border=QUIET, xmldecl=False, nl=False, dark="#000", light="#fff")
    modules = code.symbol_size(border=QUIET)[0]
    return {"svg": drawn.getvalue().decode("ascii"), "width": f"{modules * MODULE:.1f}mm", "version": code.designator}
