"""Addresses of the pages of the light plan."""

from django.urls import path, register_converter

from planning.shoots import editor_views, views


class ActConverter:
    """What may be done to a set-up in one press."""

    regex = "up|down|copy|remove"

    def to_python(self, value: str) -> str:
        """Return the act."""
        return value

    def to_url(self, value: str) -> str:
        """Return the act as it stands in the address."""
        return value


register_converter(ActConverter, "act")

urlpatterns = [
    path("plan/<int:booking_id>/", views.plan, name="plan"),
    path("plan/<int:booking_id>/table/", views.plan_table, name="plan_table"),
    path("plan/<int:booking_id>/sky/", views.sky_choose, name="sky_choose"),
    path("plan/<int:booking_id>/new/", editor_views.set_up_new, name="set_up_new"),
    path(
        "plan/<int:booking_id>/new/preview/",
        editor_views.set_up_new_preview,
        name="set_up_new_preview",
    ),
    path("plan/set-up/<int:set_up_id>/", editor_views.set_up_edit, name="set_up_edit"),
    path(
        "plan/set-up/<int:set_up_id>/preview/",
        editor_views.set_up_preview,
        name="set_up_preview",
    ),
    path("plan/set-up/<int:set_up_id>/<act:act>/", views.set_up_act, name="set_up_act"),
]
