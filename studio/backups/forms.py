"""Where nightly copies go."""

from django import forms

from studio.forms import StudioForm


class BackupFolderForm(StudioForm):
    """A folder on the machine that the studio runs on."""

    folder = forms.CharField(
        label="Folder for nightly copies",
        required=False,
        max_length=300,
        help_text=(
            "The whole path on the machine that Northsill runs on, best on another "
            "disk. Leave it empty for no nightly copies."
        ),
    )
