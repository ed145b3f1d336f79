"""Copies: one now, and where the nightly ones go."""

from __future__ import annotations

import tempfile

from django.conf import settings
from django.contrib import messages
from django.http import FileResponse, HttpRequest, HttpResponse
from django.http.response import HttpResponseBase
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST

from studio.backups.forms import BackupFolderForm
from studio.backups.operations import choose_folder, write_backup
from studio.backups.queries import show_copies
from studio.errors import DomainError
from studio.http import staff
from studio.people.access import may
from studio.profile.models import StudioProfile


@may("studio.back_up")
@require_http_methods(["GET", "POST"])
def backup(request: HttpRequest) -> HttpResponse:
    """Show the copies, and take the folder for nightly ones."""
    profile = StudioProfile.load()
    form = BackupFolderForm(
        request.POST if request.method == "POST" else None,
        initial={"folder": profile.backup_dir},
    )
    if form.is_valid():
        try:
            choose_folder(
                folder=form.cleaned_data["folder"],
                by=staff(request).user,
                at=timezone.now(),
            )
        except DomainError as refusal:
            form.add_error("folder", str(refusal))
        else:
            messages.success(request, "The folder for nightly copies is set.")
            return redirect("studio:backup")
    context = {"form": form, "shown": show_copies(), "zone": profile.zone}
    return render(request, "studio/backups/backup.html", context)


@may("studio.back_up")
@require_POST
def backup_now(request: HttpRequest) -> HttpResponseBase:
    """Make a copy and hand it to the browser; nothing of it stays here."""
    at = timezone.now()
    copy = tempfile.TemporaryFile(dir=settings.DATA_DIR)  # noqa: SIM115 - the answer closes it
    try:
        write_backup(copy, by=staff(request).user, at=at)
    except (DomainError, OSError) as fault:
        copy.close()
        messages.error(request, f"The copy could not be made: {fault}")
        return redirect("studio:backup")
    copy.seek(0)
    local = at.astimezone(StudioProfile.load().zone)
    return FileResponse(
        copy,
        as_attachment=True,
        filename=f"northsill-{local:%Y-%m-%d-%H%M}.zip",
        content_type="application/zip",
    )
