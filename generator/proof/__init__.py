"""The proof of a finished drawing: a DXF file read with fresh eyes, against the rules of the drawing office.

Nothing of the program's memory is used. `rules` tells what is tested, by which source, and what a reader of one file
cannot test.
"""

from __future__ import annotations

from generator.proof.read import Proof, document_of, proof_document, proof_file, proof_sheet
from generator.proof.rules import NOT_TESTED, RULES, Fault, Rule

__all__ = [
    "NOT_TESTED", "RULES", "Fault", "Proof", "Rule", "document_of", "proof_document", "proof_file", "proof_sheet",
]
