"""The button that starts a quote to oneself."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils import timezone
from django.views.decorators.http import require_POST

from invoicing.trials.operations import start_trial
from studio.http import staff
from studio.people.access import may


@may("quote.send")
@require_POST
def trial_start(request: HttpRequest) -> HttpResponse:
    """Draft a quote to the studio itself and open it."""
    quote = start_trial(by=staff(request).user, at=timezone.now())
    messages.success(request, "A quote to yourself. Send it, then open the e-mail.")
    return redirect(quote)
