"""Nothing in; the YAML of a forty-operation traveller of the demo workshop, out."""

from __future__ import annotations

HEAD = """\
process: T6-P-0999
title: Forty operations for the stop watch
trade: forming
part: {number: T6-999-1P, name: Bracket for measuring time, hand: PORT, serials: 4 digits,
  drawing: none survives, position: bow}
airframe: 6-03
author: LQ1
checker: LQ14
revisions:
  - {letter: A, date: 2026-10-05, author: LQ1, approved by: INS2, changed: First issue.,
     why: Something to measure.}
safety: [sheet metal]
kit:
  - {item: bolt 1/4-28, sort: hardware, quantity: 12, spares: 1, batch: yes}
instruments:
  - {kind: micrometer, reads to: 0.001 mm}
given:
  thickness: {is: 0.914 mm, range: 0.874 to 0.954 mm, from: measured from an original part}
  radius: {is: 3.2 mm, from: original drawing}
work out:
  flat:
    use: developed_length
    thickness: thickness
    legs: [25 mm, 60 mm, 25 mm]
    bends:
      - {radius: radius, bend_angle: 90°, turns: up}
      - {radius: radius, bend_angle: 90°, turns: up}
  order: {use: tightening_order_circle, fasteners: 12}
maps:
  ring: {shape: circle, fasteners: 12, item: bolt 1/4-28, pitch circle: 300 mm, first: top,
    numbering: clockwise, looking: aft, order: order}
operations:
"""


def yaml_text(edition: int = 0, operations: int = 40) -> str:
    """The process: most operations are small, some have readings, a strip, a map, a figure.

    No two editions have the same texts, so that nothing kept from one helps the next.
    """
    return HEAD + "".join(_operation(n, edition) for n in range(1, operations + 1))


def _operation(n: int, edition: int) -> str:
    lines = [f"  - number: {n * 10}"]
    if n == operations_hold(n):
        return "\n".join(
            [*lines, "    kind: hold", "    do: All marks seen.", "    released by: inspector", ""]
        )
    lines += ["    kind: measure" if n % 8 == 0 else "    kind: work"]
    lines += [
        f"    do: Mark line {n} of bracket {edition} at {{{{ flat.length }}}} with a soft pencil."
    ]
    if n % 10 == 5:
        lines += [
            f"    warning: Sheet edges cut to the bone at line {n}. Wear gloves, pair {edition}."
        ]
    if n % 8 == 0:
        limits = "wanted: 0.914 ± 0.040 mm, to: 0.001 mm, with: micrometer"
        name = f"thickness at mark {n}.{edition}"
        readings = [f"      - {{name: {each}, {limits}}}" for each in (name, f"{name} again")]
        lines += ["    readings:", *readings]
    if n == 7:
        strip = "{of: flat.length, over: thickness, from: 0.874 mm, to: 0.954 mm, step: 0.02 mm}"
        lines += [f"    strip: {strip}", "    figure: flat"]
    if n == 13:
        lines += ["    map: ring"]
    return "\n".join([*lines, ""])


def operations_hold(n: int) -> int:
    """Every twentieth operation is a hold."""
    return n if n % 20 == 0 else 0
