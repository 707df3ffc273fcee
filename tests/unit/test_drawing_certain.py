"""What a layout lacks is told as an error of ours, not as a traceback of an assertion."""

from __future__ import annotations

import pytest

from generator.drawing.base import new_document
from generator.drawing.boxes import Box
from generator.drawing.callout_drawing import draw_callout
from generator.drawing.callouts import PlacedCallout
from generator.drawing.certain import certain
from generator.drawing.labels import words_label
from generator.drawing.wanted import Callout
from generator.errors import OutputError


def test_what_is_there_comes_back_itself() -> None:
    words = ["a"]
    assert certain(words, list, "words") is words


@pytest.mark.parametrize("kind", ["words", "letter", "size"])
def test_a_callout_without_its_line_is_named(kind: str) -> None:
    document = new_document()
    callout = Callout("body/seat/finish", kind, words_label("seat"), ((0.0, 5.0),))
    placed = PlacedCallout(callout, ((0.0, 5.0), (3.0, 12.0)), Box(3.0, 12.0, 20.0, 16.0), None)
    with pytest.raises(OutputError, match="the reference line of body/seat/finish is missing"):
        draw_callout(document, document.modelspace(), placed, 1.0)
