"""What the form pack asks about a field to choose how it is drawn."""

from django import forms, template
from django.forms import BoundField

register = template.Library()


@register.filter
def is_tick(field: BoundField) -> bool:
    """Say whether the field is one tick box."""
    return isinstance(field.field.widget, forms.CheckboxInput)


@register.filter
def is_tick_group(field: BoundField) -> bool:
    """Say whether the field is several tick boxes, of which none is a fair answer."""
    return isinstance(field.field.widget, forms.CheckboxSelectMultiple)


@register.filter
def has_choices(field: BoundField) -> bool:
    """Say whether the field is drawn as separate choices: radio buttons, tick boxes."""
    return isinstance(field.field.widget, forms.RadioSelect)


@register.filter
def column_class(field: BoundField) -> str:
    """Return the classes of the field's column: its width, and the side it keeps to."""
    widget = field.field.widget
    if field.name == "DELETE":
        return "remove width-2"
    classes = str(widget.attrs.get("class", "")).split()
    if widget.attrs.get("inputmode") in {"decimal", "numeric"}:
        classes.append("number")
    return " ".join(classes)
