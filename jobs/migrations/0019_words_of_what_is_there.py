from django.db import migrations

from studio.finding.filling import fill
from studio.finding.words import Words


def of_client(row):
    return Words(
        own=(row.email,),
        phone=row.phone,
        whose=(row.name, row.contact_name),
        whose_id=row.pk,
        at=row.created_at,
    )


def of_contact(row):
    return Words(
        own=(row.name, row.email),
        phone=row.phone,
        whose=(row.client.name, row.client.contact_name),
        whose_id=row.client_id,
        at=row.client.created_at,
        leads_to=row.client_id,
    )


def of_job(row):
    return Words(
        own=(row.number, row.title),
        whose=(row.client.name, row.client.contact_name),
        whose_id=row.client_id,
        at=row.enquired_at,
    )


def of_place(row):
    return Words(own=(row.name, row.address))


def of_item(row):
    return Words(own=(row.name, row.serial, row.bag))


def write_words(apps, _editor):
    kept = apps.get_model("studio", "FindableWords")
    kept.objects.filter(source__startswith="jobs.").delete()

    def rows(name):
        return apps.get_model("jobs", name).objects.order_by("pk")

    fill(kept, rows("Client"), of_client)
    contacts = rows("Contact").select_related("client")
    fill(kept, contacts, of_contact, kind="jobs.client")
    fill(kept, rows("Job").select_related("client"), of_job)
    fill(kept, rows("Place"), of_place)
    fill(kept, rows("KitItem"), of_item)


class Migration(migrations.Migration):
    dependencies = [
        ("jobs", "0018_kit_alternatives"),
        ("studio", "0013_findable_words"),
    ]
    operations = [migrations.RunPython(write_words, migrations.RunPython.noop)]
