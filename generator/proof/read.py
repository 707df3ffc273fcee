"""A DXF file read and proofed: from the disk, from the bytes about to be written, or from a document at hand."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from io import StringIO
from pathlib import Path
from typing import Any

from generator.errors import Fault as InputFault
from generator.errors import InputError, OutputError
from generator.ink import Ink, read_ink
from generator.proof.block import block_faults
from generator.proof.faces import completeness_faults
from generator.proof.figures import figure_faults
from generator.proof.form import form_faults
from generator.proof.gaps import gap_faults
from generator.proof.graph import Reading, doubled_faults
from generator.proof.hatches import hatch_faults
from generator.proof.items import item_faults
from generator.proof.lines import line_faults
from generator.proof.marks import mark_faults
from generator.proof.old_version import is_old, made_current
from generator.proof.profile import is_profile, profile_faults
from generator.proof.rules import Fault, fault
from generator.proof.sheet import BLOCK_NAME, Sheet
from generator.proof.sizes import dimensions_of
from generator.proof.symbols import symbol_faults

__all__ = ["Proof", "document_of", "proof_document", "proof_file", "proof_sheet"]

_BINARY = b"AutoCAD Binary DXF"
_MOST_BYTES = 64_000_000


@dataclass(frozen=True, slots=True)
class Proof:
    """What a proof found: faults first, then remarks, and the sheets that were read."""

    faults: tuple[Fault, ...]
    sheets: tuple[str, ...]

    @property
    def is_clean(self) -> bool:
        """True without faults; remarks do not count."""
        return not any(found.severity == "fault" for found in self.faults)


def proof_file(path: Path) -> Proof:
    """The proof of a DXF file. Raises InputError where it is no DXF file that can be read."""
    document, repaired = _read_file(path)
    found = proof_document(document)
    return replace(found, faults=(*repaired, *found.faults)) if repaired else found


def document_of(text: str) -> Any:
    """The document that a DXF text holds, as another program would read it."""
    from generator.drawing.font import prepare_fonts

    prepare_fonts()
    import ezdxf

    return made_current(ezdxf.read(StringIO(text)), text)


def _refuse(path: Path, rule: str, cure: str) -> InputError:
    return InputError([InputFault("FILE", rule, str(path), cure)])


def _read_file(path: Path) -> tuple[Any, list[Fault]]:
    if path.is_dir():
        raise _refuse(path, "this is a folder", "give the name of a DXF file")
    if not path.is_file():
        raise _refuse(path, "there is no such file", "give the name of a DXF file")
    size = path.stat().st_size
    if size == 0:
        raise _refuse(path, "the file is empty", "write the drawing again")
    if size > _MOST_BYTES:
        raise _refuse(path, f"the file is larger than {_MOST_BYTES // 1_000_000} MB", "give one sheet's drawing")
    head = path.read_bytes()[:4096]
    if not (head.startswith(_BINARY) or _looks_like_text(head)):
        raise _refuse(path, "this is not a DXF file", "give a drawing in the DXF format")
    return _parse(path)


def _looks_like_text(head: bytes) -> bool:
    """True where the first group codes of a DXF text stand: a number, then a word, in turns."""
    lines = head.lstrip(b"\xef\xbb\xbf").splitlines()
    return len(lines) > 1 and b"\0" not in head and lines[0].strip().isdigit()


def _parse(path: Path) -> tuple[Any, list[Fault]]:
    from generator.drawing.font import prepare_fonts

    prepare_fonts()
    import ezdxf
    from ezdxf import recover

    try:
        return _current(ezdxf.readfile(path), path), []
    except OSError as problem:
        if problem.errno is None:
            raise _refuse(path, "this is not a DXF file", "give a drawing in the DXF format") from problem
        raise _refuse(path, f"the file cannot be read: {problem.strerror}", "write it again") from problem
    except Exception:
        # A damaged file can fail anywhere in the library; what it can repair is still worth reading.
        pass
    try:
        document, auditor = recover.readfile(path)
        _current(document, path)
        count = len(auditor.errors) + len(auditor.fixes)
        what = "the file is damaged" if _has_end(path) else "the file breaks off, its end mark EOF is missing"
        return document, [fault("file-damaged", f"{what}; it was read as far as it goes, {count} repairs")]
    except Exception as problem:
        cure = "write the drawing again"
        if not _has_end(path):
            raise _refuse(path, "this DXF file breaks off: its end mark EOF is missing", cure) from problem
        # What a library says of its own tables means nothing to whoever drew the sheet.
        words = "" if isinstance(problem, LookupError | AttributeError | TypeError) else " ".join(str(problem).split())
        shown = f" ({words[:120]})" if words else ""
        raise _refuse(path, f"this DXF file is damaged beyond reading{shown}", cure) from problem


def _has_end(path: Path) -> bool:
    """True where the last words of the file are its end mark. Source: DXF reference, end of file."""
    content = path.read_bytes()
    return content.startswith(_BINARY) or content[-200:].split()[-1:] == [b"EOF"]


def _current(document: Any, path: Path) -> Any:
    """The document with what an old version writes in its own way made current."""
    return made_current(document, path.read_text(document.encoding, errors="replace")) if is_old(document) else document


def proof_document(document: Any) -> Proof:
    """The proof of every sheet in a document."""
    found = list(_audit(document))
    if is_profile(document):
        return _sorted([*found, *profile_faults(document)], ("profile",))
    layouts = [layout for layout in document.layouts if layout.is_any_paperspace and _has_content(layout)]
    if not layouts:
        found.append(fault("no-sheet", "nothing stands on paper: the drawing has no framed sheet"))
        return _sorted(found, ())
    for layout in layouts:
        try:
            ink = read_ink(document, layout.name)
        except OutputError as problem:
            found.append(replace(fault("unprintable", str(problem)), sheet=layout.name))
            continue
        found += proof_sheet(document, layout.name, ink)
    return _sorted(found, tuple(layout.name for layout in layouts))


def _has_content(layout: Any) -> bool:
    return any(not (e.dxftype() == "VIEWPORT" and e.dxf.id == 1) for e in layout)


def _audit(document: Any) -> Iterator[Fault]:
    """What the library's own audit finds wrong with the structure of the file."""
    for error in document.audit().errors:
        handle = str(error.entity.dxf.handle or "") if error.entity is not None else ""
        yield fault("file-damaged", error.message, handle=handle)


def proof_sheet(document: Any, layout_name: str, ink: Ink) -> list[Fault]:
    """The faults of one sheet of a document, its ink already read."""
    layout = document.layouts.get(layout_name)
    sheet = Sheet(document, layout, ink)
    if sheet.frame is None and sheet.block is None:
        # Another program's drawing: what any drawing must keep is tested, our form is not asked of it.
        what = f"no frame on the layer FRAME and no title block of the name {BLOCK_NAME}: not a sheet of this program"
        tests = [[fault("no-sheet", what)], mark_faults(sheet), figure_faults(sheet, dimensions_of(sheet))]
    else:
        dimensions = dimensions_of(sheet)
        reading = Reading(sheet, dimensions)
        tests = [
            mark_faults(sheet),
            figure_faults(sheet, dimensions),
            gap_faults(sheet, dimensions),
            doubled_faults(reading),
            completeness_faults(reading),
            line_faults(sheet, dimensions),
            form_faults(sheet),
            block_faults(sheet),
            symbol_faults(sheet, dimensions),
            hatch_faults(sheet),
            item_faults(sheet),
        ]
    return [replace(found, sheet=layout_name) for test in tests for found in test]


def _sorted(found: list[Fault], sheets: tuple[str, ...]) -> Proof:
    return Proof(tuple(sorted(found, key=lambda one: one.severity != "fault")), sheets)
