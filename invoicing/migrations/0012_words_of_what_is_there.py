from django.db import migrations

from studio.finding.filling import fill
from studio.finding.words import Words


def of_quote(row):
    return Words(own=(row.number,), at=row.drafted_at)


def of_invoice(row):
    return Words(
        own=(row.number,),
        whose=(row.client.name, row.client.contact_name),
        whose_id=row.client_id,
        at=row.issued_at,
    )


def write_words(apps, _editor):
    kept = apps.get_model("studio", "FindableWords")
    kept.objects.filter(source__startswith="invoicing.").delete()

    def rows(name):
        return apps.get_model("invoicing", name).objects.order_by("pk")

    fill(kept, rows("Quote").defer("snapshot"), of_quote)
    invoices = rows("Invoice").defer("snapshot").select_related("client")
    fill(kept, invoices, of_invoice)


class Migration(migrations.Migration):
    dependencies = [
        ("invoicing", "0011_debts_written_off"),
        ("studio", "0013_findable_words"),
    ]
    operations = [migrations.RunPython(write_words, migrations.RunPython.noop)]
