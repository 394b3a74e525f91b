"""How hard a text is to read, and which of its words no dictionary has."""

import functools
import re
from pathlib import Path
from typing import Any, Final

_SENTENCE_END: Final = re.compile(r"[.!?:]+(?:\s|$)")
_WORD: Final = re.compile(r"[A-Za-zÀ-ÿ]+(?:['’][A-Za-z]+)?")
_VOWELS: Final = re.compile(r"[aeiouyà-ÿ]+")


def reading_grade(text: str) -> float:
    """Flesch-Kincaid grade level of a text: 0.39 words a sentence + 11.8 syllables a word - 15.59.

    Kincaid, Fishburne, Rogers and Chissom (1975), Derivation of new readability formulas, from memory. Syllables are
    counted as groups of vowels, so a grade is good to about half a year.
    """
    words = _WORD.findall(text)
    if not words:
        return 0.0
    sentences = max(1, len(_SENTENCE_END.findall(text)))
    syllables = sum(count_syllables(word) for word in words)
    return 0.39 * len(words) / sentences + 11.8 * syllables / len(words) - 15.59


def count_syllables(word: str) -> int:
    """Groups of vowels in a word, without a silent e at its end."""
    word = word.lower()
    groups = len(_VOWELS.findall(word))
    silent = (word.endswith("e") and not word.endswith(("le", "ee", "ye"))) or (
        word.endswith(("ed", "es")) and not re.search(r"([td]ed|[csxz]es|[cs]hes|ges)$", word)
    )
    return max(1, groups - bool(silent))


def misspelt(text: str, also_right: frozenset[str] = frozenset()) -> list[str]:
    """Words in lower case that neither an English dictionary nor the trade's word list knows."""
    words = {word.lower().removesuffix("'s").removesuffix("’s") for word in _WORD.findall(text) if not _named(word)}
    known = also_right | trade_words()
    return sorted(word for word in words if word not in known and len(word) > 2 and _dictionary().unknown([word]))


def _named(word: str) -> bool:
    """Names and abbreviations are not the dictionary's business."""
    return not word.islower()


@functools.cache
def trade_words() -> frozenset[str]:
    """Words of the trade and of British spelling that the dictionary lacks."""
    path = Path(__file__).parent / "trade_words.txt"
    return frozenset(line.strip() for line in path.read_text(encoding="utf-8").splitlines() if line and line[0] != "#")


@functools.cache
def _dictionary() -> Any:
    from spellchecker import SpellChecker

    return SpellChecker(language="en")
