"""A form and some of its operations, in; the form without what belongs to them, out."""

from __future__ import annotations

from collections.abc import Collection

from generator.results.form import Field, Form


def without(form: Form, operations: Collection[str]) -> Form:
    """The form without what belongs to some operations."""
    gone = {*operations}
    return Form(
        tuple(each for each in form.fields if not {each.operation, _inspected(each)} & gone),
        tuple(each for each in form.operations if each not in operations),
        tuple(each for each in form.stops if each.operation not in operations),
        form.answers,
    )


def _inspected(field: Field) -> str:
    """The operation of an inspected feature: what is found of a treatment stays with its sheet."""
    return field.of if field.row.startswith("feature ") else ""
