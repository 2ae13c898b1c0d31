"""Capitals and digits, in; the square code that carries them, out: a line a row, "1" is black.

One form only, so that it is a few shifts and one permutation: version 3 of ISO/IEC 18004 (29
modules a side), alphanumeric mode, mask 2, level M and for longer words level L. The layout is
written from memory of that standard; the tests compare every module with an independent encoder
and read printed pages with an independent reader.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import cache
from itertools import product
from operator import itemgetter

from generator.findings import Refusal

SIDE = 29
"""Modules a side."""

_SIGNS = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:"
_WORDS = 70  # codewords: those of the data and those of the correction
_LEVELS = ((44, 0b00), (55, 0b01))  # M corrects 15 %, L 7 %: data codewords, their name in the code
_MASK = 2
_ALPHANUMERIC, _COUNT_BITS = 0b0010, 9
_HEAD = 4 + _COUNT_BITS
_FILLING = (0xEC, 0x11)
_TIMING, _BESIDE = 6, 22  # the row and column of the dotted lines; the centre of the small square

Cell = tuple[int, int]
"""Row and column, from the top left."""


def modules_of(text: str) -> str:
    """The modules of the code of a text, 29 lines of 29; refuses signs that it cannot hold, and
    more than 77 of them."""
    length, value = _value(text)
    for data, level in _LEVELS:
        if length <= 8 * data:
            words = _filled(value, length, data)
            whole = (words << 8 * (_WORDS - data)) | _correction(words, data)
            return "".join(_order(level)(f"{whole ^ _masked_words():0{8 * _WORDS}b}01\n"))
    raise Refusal("layout", f"{text!r} is too long for the codes of a page", "a shorter number")


def _value(text: str) -> tuple[int, int]:
    """The bits of mode, count and text: how many, and as one number."""
    pairs = _pairs()
    value = _ALPHANUMERIC << _COUNT_BITS | len(text)
    try:
        for at in range(0, len(text) - 1, 2):
            value = value << 11 | pairs[text[at : at + 2]]
        if len(text) % 2:
            value = value << 6 | pairs["0" + text[-1]]
    except KeyError:
        sign = next(each for each in text if each not in _SIGNS)
        wrong = f"{sign!r} in {text!r} cannot stand in the codes of a page"
        raise Refusal("layout", wrong, "capitals, digits and - . / only") from None
    return _HEAD + 11 * (len(text) // 2) + 6 * (len(text) % 2), value


@cache
def _pairs() -> dict[str, int]:
    return {a + b: at for at, (a, b) in enumerate(product(_SIGNS, _SIGNS))}


def _filled(value: int, length: int, data: int) -> int:
    """The data codewords: the bits, an end of four noughts or fewer, and the filling."""
    room = 8 * data - length
    end = min(4, room)
    end += (room - end) % 8
    value <<= end
    for n in range((room - end) // 8):
        value = value << 8 | _FILLING[n % 2]
    return value


def _correction(words: int, data: int) -> int:
    """The correction codewords: what is left of the data when divided by the generator."""
    count = _WORDS - data
    steps, kept, top = _steps(count), (1 << 8 * (count - 1)) - 1, 8 * (count - 1)
    left = 0
    for word in words.to_bytes(data, "big"):
        left = (left & kept) << 8 ^ steps[left >> top ^ word]
    return left


@cache
def _steps(count: int) -> tuple[int, ...]:
    """Each byte times the generator without its first term, as one number."""
    generator = [1]
    root = 1
    for _ in range(count):
        shifted = [*generator, 0]
        times_root = [0, *(_times(each, root) for each in generator)]
        generator = [a ^ b for a, b in zip(shifted, times_root, strict=True)]
        root = _times(root, 2)
    return tuple(
        int.from_bytes(bytes(_times(each, byte) for each in generator[1:]), "big")
        for byte in range(256)
    )


def _times(a: int, b: int) -> int:
    """The product in the field of 256 elements whose polynomial is 0x11D."""
    made = 0
    while b:
        made ^= a * (b & 1)
        a = a << 1 ^ (0x11D if a & 0x80 else 0)
        b >>= 1
    return made


def _is_masked(cell: Cell) -> bool:
    return cell[1] % 3 == 0


@cache
def _masked_words() -> int:
    bits = (str(int(_is_masked(cell))) for cell in _free_cells()[: 8 * _WORDS])
    return int("".join(bits), 2)


@cache
def _free_cells() -> tuple[Cell, ...]:
    """The cells of the data: two columns at a time from the right, up and down in turn."""
    taken = _fixed(0)
    rights = [c if c > _TIMING else c - 1 for c in range(SIDE - 1, 0, -2)]
    return tuple(
        (row, column)
        for n, right in enumerate(rights)
        for row in (range(SIDE) if n % 2 else range(SIDE - 1, -1, -1))
        for column in (right, right - 1)
        if (row, column) not in taken
    )


@cache
def _order(level: int) -> Callable[[str], tuple[str, ...]]:
    """Puts the bits of the codewords, with a nought, a one and a line's end behind them, where
    they stand in the code."""
    white = 8 * _WORDS
    at = {cell: white + black for cell, black in _fixed(level).items()}
    for number, cell in enumerate(_free_cells()):
        # Seven cells hold no codeword: they show the mask alone.
        at[cell] = number if number < white else white + _is_masked(cell)
    line_end = white + 2
    rows = ([at[row, column] for column in range(SIDE)] for row in range(SIDE))
    return itemgetter(*(index for row in rows for index in (*row, line_end)))


def _fixed(level: int) -> dict[Cell, bool]:
    """The modules that hold no data: black or not."""
    made = dict(_dotted_lines())
    for row, column in ((3, 3), (3, SIDE - 4), (SIDE - 4, 3)):
        made |= dict(_square(row, column, 4, (0, 1, 3)))
    made |= dict(_square(_BESIDE, _BESIDE, 2, (0, 2)))
    return made | dict(_format(level))


def _dotted_lines() -> Iterator[tuple[Cell, bool]]:
    for at in range(SIDE):
        yield (at, _TIMING), at % 2 == 0
        yield (_TIMING, at), at % 2 == 0


def _square(
    row: int, column: int, reach: int, rings: tuple[int, ...]
) -> Iterator[tuple[Cell, bool]]:
    """Rings round a centre, those named black, as far as they stand in the code."""
    for down, across in product(range(-reach, reach + 1), repeat=2):
        cell = row + down, column + across
        if all(0 <= at < SIDE for at in cell):
            yield cell, max(abs(down), abs(across)) in rings


def _format(level: int) -> Iterator[tuple[Cell, bool]]:
    """Level and mask with their own correction, twice, and the module that is always black."""
    said = level << 3 | _MASK
    left = said << 10
    for at in range(14, 9, -1):
        left ^= 0x537 << at - 10 if left >> at & 1 else 0
    bits = (said << 10 | left) ^ 0x5412
    far = [SIDE - 1 - n for n in range(8)]
    upright = [0, 1, 2, 3, 4, 5, 7, 8, *far[6::-1]]
    across = [*far, 7, 5, 4, 3, 2, 1, 0]
    for n in range(15):
        black = bool(bits >> n & 1)
        yield (upright[n], 8), black
        yield (8, across[n]), black
    yield (SIDE - 8, 8), True
