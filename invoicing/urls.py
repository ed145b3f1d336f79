"""The addresses of this app's pages."""

from django.urls import URLPattern, URLResolver

from invoicing.bank import urls as bank
from invoicing.books import urls as books
from invoicing.drawings import urls as drawings
from invoicing.einvoices import urls as einvoices
from invoicing.invoices import urls as invoices
from invoicing.lists import urls as lists
from invoicing.owed import urls as owed
from invoicing.payments import urls as payments
from invoicing.prices import urls as prices
from invoicing.purchases import urls as purchases
from invoicing.questions import urls as questions
from invoicing.quotes import urls as quotes
from invoicing.sharing import urls as sharing
from invoicing.trials import urls as trials
from invoicing.vouchers import urls as vouchers
from invoicing.years import urls as years

app_name = "invoicing"

urlpatterns: list[URLPattern | URLResolver] = [
    *trials.urlpatterns,
    *prices.urlpatterns,
    *quotes.urlpatterns,
    *lists.urlpatterns,
    *invoices.urlpatterns,
    *einvoices.urlpatterns,
    *payments.urlpatterns,
    *vouchers.urlpatterns,
    *purchases.urlpatterns,
    *books.urlpatterns,
    *bank.urlpatterns,
    *drawings.urlpatterns,
    *owed.urlpatterns,
    *years.urlpatterns,
    *questions.urlpatterns,
    *sharing.urlpatterns,
]
