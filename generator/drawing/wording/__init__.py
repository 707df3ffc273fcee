"""The fixed words of the sheets, one module for each language, chosen by its two letters (ISO 639-1)."""

from __future__ import annotations

from typing import Literal, get_args

from generator.drawing.wording.words import Words

__all__ = ["LANGUAGES", "Language", "Words", "words_of"]

Language = Literal["en", "de"]
LANGUAGES: tuple[Language, ...] = get_args(Language)


def words_of(language: Language) -> Words:
    """The words of a language; only that one is loaded."""
    if language == "de":
        from generator.drawing.wording.german import GERMAN

        return GERMAN
    from generator.drawing.wording.english import ENGLISH

    return ENGLISH
