"""Making many tables in one step of a migration."""

from typing import Any

from django.db.backends.base.schema import BaseDatabaseSchemaEditor
from django.db.migrations.operations import CreateModel
from django.db.migrations.operations.base import Operation
from django.db.migrations.state import ProjectState


class CreateModels(Operation):
    """Make tables together: Django draws up its models once, not after each.

    On an empty database a list of `CreateModel` spends nearly all of its time on that.
    """

    reversible = True
    reduces_to_sql = True

    def __init__(self, models: list[CreateModel]) -> None:
        self.models = models

    def deconstruct(self) -> tuple[str, list[Any], dict[str, Any]]:
        """Return what writes the operation again."""
        return (self.__class__.__name__, [self.models], {})

    def state_forwards(self, app_label: str, state: ProjectState) -> None:
        """Add the models to the state, which draws itself up when next asked."""
        state.__dict__.pop("apps", None)
        for model in self.models:
            model.state_forwards(app_label, state)

    def database_forwards(
        self,
        app_label: str,
        schema_editor: BaseDatabaseSchemaEditor,
        from_state: ProjectState,
        to_state: ProjectState,
    ) -> None:
        """Make the tables in their order."""
        for model in self.models:
            model.database_forwards(app_label, schema_editor, from_state, to_state)

    def database_backwards(
        self,
        app_label: str,
        schema_editor: BaseDatabaseSchemaEditor,
        from_state: ProjectState,
        to_state: ProjectState,
    ) -> None:
        """Drop the tables, the last one first."""
        for model in reversed(self.models):
            model.database_backwards(app_label, schema_editor, from_state, to_state)

    def describe(self) -> str:
        """Return what the operation does, in words."""
        return f"Create {len(self.models)} tables"
