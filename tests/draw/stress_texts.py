"""A beginning and a length, in; a text of that length with accented names and signs, out."""

from __future__ import annotations

ACCENTS = (
    "Übergang an der Ångström-Naht, façade et œillet d’après la façon habituelle, čistě a přesně, "
    "Łukasz’ ręką, Gött æðelþing ñandú čištění, smørbrød på skøyten, ½ Umdrehung bei ≤ 20 °C, "
    "± 0.05 mm, Ø 8 mm, 3 × 120°, µm-genau, √2 → Δ, kőműves tűzőgép, žluťoučký kůň, İğneada; "
)
WORD = "Donaudampfschifffahrtselektrizitätenhauptbetriebswerkbauunterbeamtengesellschaft"


def filled(start: str, length: int) -> str:
    """A text of exactly so many signs that begins with these words."""
    words = f"{start} {ACCENTS}".rstrip()
    while len(words) < length:
        words += f" {ACCENTS}".rstrip()
    return words[: length - 1].rstrip().ljust(length - 1, "ø") + "."


def kinds() -> tuple[str, ...]:
    """Kinds of instrument, with the longest names there may be."""
    return tuple(filled(f"Bügelmeßschraube {n}", 40) for n in range(1, 9))
