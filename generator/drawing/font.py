"""The one lettering of the drawings: where it is, how wide it runs, how the DXF library is told of it.

DejaVu Sans comes with the installed matplotlib package, which is looked up without being imported. It has the diameter
signs U+00D8 and U+2300, degree, plus-minus and arrows; geometrical tolerance signs are drawn as blocks instead.
Nothing here loads ezdxf until `prepare_fonts` or `use_font` is called, so the prints can use the font without it.
"""

from __future__ import annotations

import json
import os
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from functools import cache, lru_cache
from importlib.util import find_spec
from io import BytesIO
from pathlib import Path
from typing import Any

from generator.errors import OutputError

__all__ = [
    "CAP_HEIGHT",
    "FAMILY",
    "FONT_FILE",
    "STYLE_NAME",
    "WIDTH_FACTOR",
    "bold_font_path",
    "font_path",
    "missing_characters",
    "prepare_fonts",
    "text_reach_mm",
    "text_width_mm",
    "use_font",
]

STYLE_NAME = "TAILSTOCK"
FAMILY = "DejaVu Sans"
FONT_FILE = "DejaVuSans.ttf"
BOLD_FILE = "DejaVuSans-Bold.ttf"

# DejaVu Sans is wider than the lettering of ISO 3098; this brings it near. Shop choice.
WIDTH_FACTOR = 0.85

# Height of a capital over the em square, read from the outlines of E, H and Z (1493 of 2048 units).
# DXF text heights are cap heights, font sizes in a PDF or SVG are em squares.
CAP_HEIGHT = 1493 / 2048


@cache
def font_path() -> Path:
    """The file of the regular font.

    Raises OutputError where the package that carries it is missing or incomplete.
    """
    return _find_font(FONT_FILE)


@cache
def bold_font_path() -> Path:
    """The file of the bold font, for headings of the plan; errors as `font_path`."""
    return _find_font(BOLD_FILE)


def _find_font(name: str) -> Path:
    spec = find_spec("matplotlib")
    folders = spec.submodule_search_locations if spec is not None else None
    if not folders:
        message = f"font {name}: the package matplotlib that carries it is not installed; install matplotlib"
        raise OutputError(message)
    for folder in folders:
        path = Path(folder) / "mpl-data" / "fonts" / "ttf" / name
        if path.is_file():
            return path
    message = f"font {name}: not among the fonts of matplotlib in {folders[0]}; install matplotlib again"
    raise OutputError(message)


@cache
def _font() -> Any:
    # fontTools is what ezdxf and matplotlib read fonts with, so it is always there.
    from fontTools.ttLib import TTFont

    # From memory, not from the open file: nothing stays open behind the cache.
    return TTFont(BytesIO(font_path().read_bytes()), lazy=True)


@cache
def _advances() -> tuple[dict[int, float], float]:
    """Advance width of each character as a multiple of the cap height, and that of the missing-character box."""
    font = _font()
    metrics: dict[str, tuple[int, int]] = font["hmtx"].metrics
    cap_units = CAP_HEIGHT * font["head"].unitsPerEm
    widths = {code: metrics[name][0] / cap_units for code, name in font.getBestCmap().items()}
    return widths, metrics[".notdef"][0] / cap_units


@lru_cache(maxsize=8192)
def _relative_width(text: str) -> float:
    widths, missing = _advances()
    return sum(widths.get(ord(character), missing) for character in text)


def text_width_mm(text: str, height_mm: float, width_factor: float = WIDTH_FACTOR) -> float:
    """Advance width of one line of text at a given cap height, exactly as the DXF replay and the prints set it.

    The text is taken literally: write the sign itself, not a code such as `%%c`.
    """
    return _relative_width(text) * height_mm * width_factor


@cache
def _character_reach(character: str) -> tuple[float, float]:
    font = _font()
    glyph = font["glyf"][font.getBestCmap().get(ord(character), ".notdef")]
    cap_units = CAP_HEIGHT * font["head"].unitsPerEm
    return getattr(glyph, "yMin", 0) / cap_units, getattr(glyph, "yMax", 0) / cap_units


@lru_cache(maxsize=8192)
def _relative_reach(text: str) -> tuple[float, float]:
    reaches = [_character_reach(character) for character in text]
    return min((low for low, _ in reaches), default=0.0), max((high for _, high in reaches), default=0.0)


def text_reach_mm(text: str, height_mm: float) -> tuple[float, float]:
    """Lowest and highest point of the ink of one line of text, measured from its base line (up is positive)."""
    low, high = _relative_reach(text)
    return low * height_mm, high * height_mm


def missing_characters(text: str) -> str:
    """The characters of a text that the font has no glyph for, each once, in order; empty when all is well."""
    widths, _ = _advances()
    return "".join(dict.fromkeys(character for character in text if ord(character) not in widths))


def _font_list() -> str:
    """The DXF library's own list of fonts (version 2), holding just ours, so that no folder is searched."""
    return json.dumps({"version": 2, "font-faces": [(str(font_path()), FAMILY, "Regular", 400, 5)]})


@contextmanager
def _borrowed_cache() -> Iterator[None]:
    """Lets the first import of ezdxf find our list; else it searches all fonts and writes to the user's folder."""
    earlier = os.environ.get("XDG_CACHE_HOME")
    with tempfile.TemporaryDirectory() as folder:
        target = Path(folder) / "ezdxf" / "font_manager_cache.json"
        target.parent.mkdir()
        target.write_text(_font_list(), encoding="utf-8")
        os.environ["XDG_CACHE_HOME"] = folder
        try:
            yield
        finally:
            if earlier is None:
                del os.environ["XDG_CACHE_HOME"]
            else:
                os.environ["XDG_CACHE_HOME"] = earlier


def prepare_fonts() -> None:
    """Makes the DXF library know our font and no other, so that widths do not depend on the machine.

    Call it before the first import of ezdxf where possible; later calls cost next to nothing.
    """
    if "ezdxf" not in sys.modules:
        with _borrowed_cache():
            import ezdxf  # noqa: F401  (imported for its start-up, under the borrowed cache)
    from ezdxf.fonts import fonts

    manager = fonts.font_manager
    if _knows_only_ours(manager):
        return
    manager.clear()
    manager.loads(_font_list())


def _knows_only_ours(manager: Any) -> bool:
    return {face[0] for face in json.loads(manager.dumps())["font-faces"]} == {str(font_path())}


def use_font(doc: Any) -> str:
    """The name of the text style that carries the font, made in the DXF document if it is not there."""
    prepare_fonts()
    if doc.styles.has_entry(STYLE_NAME):
        style = doc.styles.get(STYLE_NAME)
    else:
        style = doc.styles.new(STYLE_NAME)
    style.dxf.font = FONT_FILE
    style.dxf.width = WIDTH_FACTOR
    return STYLE_NAME
