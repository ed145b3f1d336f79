"""Make this app's tables on an empty database, in one step."""

import uuid

import django.db.models.deletion
from django.conf import settings
from django.db import migrations, models

from jobs.bookings.guards import RESERVATION_GUARD
from studio.creating import CreateModels
from studio.guards import InstallGuard


class Migration(migrations.Migration):
    replaces = [
        ("jobs", "0001_initial"),
        ("jobs", "0002_guards"),
        ("jobs", "0003_session_uids"),
        ("jobs", "0004_session_uids_stand"),
        ("jobs", "0005_calendars"),
        ("jobs", "0006_client_keys"),
        ("jobs", "0007_client_merges"),
        ("jobs", "0008_enquiries"),
        ("jobs", "0009_people_and_releases"),
        ("jobs", "0010_flash_and_board_figures"),
        ("jobs", "0011_who_is_coming"),
        ("jobs", "0012_measured_light_and_access_from"),
        ("jobs", "0013_letters"),
        ("jobs", "0014_diary"),
        ("jobs", "0015_kit_worth_and_returns"),
    ]

    initial = True

    dependencies = [
        ("studio", "0001_squashed_0007_travel_speed"),
    ]

    operations = [
        CreateModels(
            models=[
                migrations.CreateModel(
                    name="BlockedTime",
                    fields=[
                        (
                            "id",
                            models.BigAutoField(
                                auto_created=True,
                                primary_key=True,
                                serialize=False,
                                verbose_name="ID",
                            ),
                        ),
                        (
                            "person",
                            models.ForeignKey(
                                blank=True,
                                null=True,
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="blocked_times",
                                to=settings.AUTH_USER_MODEL,
                            ),
                        ),
                        ("starts_at", models.DateTimeField()),
                        ("ends_at", models.DateTimeField()),
                        ("why", models.CharField(max_length=120)),
                    ],
                    options={
                        "ordering": ["starts_at", "pk"],
                        "indexes": [
                            models.Index(
                                fields=["starts_at", "ends_at"],
                                name="jobs_blocke_starts__face20_idx",
                            )
                        ],
                        "constraints": [
                            models.CheckConstraint(
                                condition=models.Q(
                                    ("ends_at__gt", models.F("starts_at"))
                                ),
                                name="blocked_time_ends_after_it_starts",
                            )
                        ],
                    },
                ),
                migrations.CreateModel(
                    name="BusyCalendar",
                    fields=[
                        (
                            "id",
                            models.BigAutoField(
                                auto_created=True,
                                primary_key=True,
                                serialize=False,
                                verbose_name="ID",
                            ),
                        ),
                        (
                            "person",
                            models.ForeignKey(
                                on_delete=django.db.models.deletion.CASCADE,
                                related_name="busy_calendars",
                                to=settings.AUTH_USER_MODEL,
                            ),
                        ),
                        ("name", models.CharField(max_length=80)),
                        ("address", models.CharField(blank=True, max_length=1000)),
                        ("read_at", models.DateTimeField(blank=True, null=True)),
                        ("read_next_at", models.DateTimeField()),
                        ("fault", models.CharField(blank=True, max_length=300)),
                        ("failing_since", models.DateTimeField(blank=True, null=True)),
                    ],
                    options={
                        "ordering": ["name", "pk"],
                        "indexes": [],
                        "constraints": [],
                    },
                ),
                migrations.CreateModel(
                    name="CalendarFeed",
                    fields=[
                        (
                            "id",
                            models.BigAutoField(
                                auto_created=True,
                                primary_key=True,
                                serialize=False,
                                verbose_name="ID",
                            ),
                        ),
                        (
                            "person",
                            models.OneToOneField(
                                on_delete=django.db.models.deletion.CASCADE,
                                related_name="calendar_feed",
                                to=settings.AUTH_USER_MODEL,
                            ),
                        ),
                        (
                            "detail",
                            models.CharField(
                                choices=[
                                    ("TIMES", "Times and first names"),
                                    ("PLACES", "Also the job and the place"),
                                ],
                                default="TIMES",
                                max_length=8,
                            ),
                        ),
                        (
                            "alarm_minutes",
                            models.PositiveIntegerField(
                                blank=True, default=60, null=True
                            ),
                        ),
                        ("opened_at", models.DateTimeField()),
                    ],
                    options={
                        "indexes": [],
                        "constraints": [],
                    },
                ),
                migrations.CreateModel(
                    name="Client",
                    fields=[
                        (
                            "id",
                            models.BigAutoField(
                                auto_created=True,
                                primary_key=True,
                                serialize=False,
                                verbose_name="ID",
                            ),
                        ),
                        (
                            "kind",
                            models.CharField(
                                choices=[
                                    ("PERSON", "Person or family"),
                                    ("ORGANISATION", "Organisation"),
                                ],
                                default="PERSON",
                                max_length=12,
                            ),
                        ),
                        ("name", models.CharField(max_length=200)),
                        ("contact_name", models.CharField(blank=True, max_length=200)),
                        ("email", models.EmailField(blank=True, max_length=254)),
                        ("phone", models.CharField(blank=True, max_length=40)),
                        ("address", models.TextField(blank=True, max_length=400)),
                        ("tax_number", models.CharField(blank=True, max_length=40)),
                        ("notes", models.TextField(blank=True, max_length=4000)),
                        ("created_at", models.DateTimeField()),
                        (
                            "name_key",
                            models.CharField(
                                db_index=True, editable=False, max_length=400
                            ),
                        ),
                        (
                            "phone_key",
                            models.CharField(
                                db_index=True, editable=False, max_length=40
                            ),
                        ),
                        (
                            "mail_key",
                            models.CharField(
                                db_index=True, editable=False, max_length=254
                            ),
                        ),
                        (
                            "merged_into",
                            models.ForeignKey(
                                blank=True,
                                null=True,
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="merged",
                                to="jobs.client",
                            ),
                        ),
                    ],
                    options={
                        "ordering": ["name", "pk"],
                        "constraints": [
                            models.CheckConstraint(
                                condition=models.Q(
                                    ("merged_into__isnull", True),
                                    models.Q(
                                        ("merged_into", models.F("pk")), _negated=True
                                    ),
                                    _connector="OR",
                                ),
                                name="client_is_not_merged_into_itself",
                            )
                        ],
                        "indexes": [],
                    },
                ),
                migrations.CreateModel(
                    name="KitItem",
                    fields=[
                        (
                            "id",
                            models.BigAutoField(
                                auto_created=True,
                                primary_key=True,
                                serialize=False,
                                verbose_name="ID",
                            ),
                        ),
                        ("name", models.CharField(max_length=120)),
                        (
                            "category",
                            models.CharField(
                                choices=[
                                    ("CAMERA", "Camera"),
                                    ("LENS", "Lens"),
                                    ("FLASH", "Flash"),
                                    ("MODIFIER", "Light modifier"),
                                    ("BOARD", "Board or reflector"),
                                    ("SUPPORT", "Tripod or stand"),
                                    ("FILTER", "Filter or gel"),
                                    ("POWER", "Battery or card"),
                                    ("OTHER", "Other"),
                                ],
                                max_length=10,
                            ),
                        ),
                        ("serial", models.CharField(blank=True, max_length=80)),
                        ("bag", models.CharField(blank=True, max_length=80)),
                        ("shelf", models.CharField(blank=True, max_length=80)),
                        ("retired", models.BooleanField(default=False)),
                        ("notes", models.CharField(blank=True, max_length=400)),
                        (
                            "value_minor",
                            models.PositiveBigIntegerField(blank=True, null=True),
                        ),
                        ("currency", models.CharField(blank=True, max_length=3)),
                        ("bought_on", models.DateField(blank=True, null=True)),
                        ("service_due_on", models.DateField(blank=True, null=True)),
                        (
                            "trouble",
                            models.CharField(
                                blank=True,
                                choices=[
                                    ("MISSING", "Missing"),
                                    ("DAMAGED", "Damaged"),
                                ],
                                max_length=8,
                            ),
                        ),
                        ("trouble_note", models.CharField(blank=True, max_length=200)),
                        ("sensor_width_mm", models.FloatField(blank=True, null=True)),
                        ("sensor_height_mm", models.FloatField(blank=True, null=True)),
                        (
                            "base_iso",
                            models.PositiveIntegerField(blank=True, null=True),
                        ),
                        (
                            "highest_iso",
                            models.PositiveIntegerField(blank=True, null=True),
                        ),
                        (
                            "sync_denominator",
                            models.PositiveIntegerField(
                                blank=True, null=True, verbose_name="sync speed, 1/"
                            ),
                        ),
                        (
                            "fastest_denominator",
                            models.PositiveIntegerField(
                                blank=True,
                                null=True,
                                verbose_name="fastest shutter, 1/",
                            ),
                        ),
                        (
                            "frames_per_battery",
                            models.PositiveIntegerField(blank=True, null=True),
                        ),
                        (
                            "megabytes_per_frame",
                            models.PositiveIntegerField(blank=True, null=True),
                        ),
                        ("focal_length_mm", models.FloatField(blank=True, null=True)),
                        (
                            "longest_focal_length_mm",
                            models.FloatField(blank=True, null=True),
                        ),
                        ("widest_f_number", models.FloatField(blank=True, null=True)),
                        (
                            "narrowest_f_number",
                            models.FloatField(blank=True, null=True),
                        ),
                        ("close_focus_m", models.FloatField(blank=True, null=True)),
                        (
                            "stabilisation_stops",
                            models.FloatField(blank=True, null=True),
                        ),
                        ("guide_number_m", models.FloatField(blank=True, null=True)),
                        ("loss_stops", models.FloatField(blank=True, null=True)),
                        ("recycle_s", models.FloatField(blank=True, null=True)),
                        (
                            "least_power_denominator",
                            models.PositiveIntegerField(
                                blank=True, null=True, verbose_name="least power, 1/"
                            ),
                        ),
                        (
                            "power_steps_a_stop",
                            models.PositiveIntegerField(blank=True, null=True),
                        ),
                        (
                            "high_speed_entry_stops",
                            models.FloatField(blank=True, null=True),
                        ),
                        (
                            "measured_guide_number_m",
                            models.FloatField(blank=True, null=True),
                        ),
                        (
                            "measured_loss_stops",
                            models.FloatField(blank=True, null=True),
                        ),
                        ("width_m", models.FloatField(blank=True, null=True)),
                        ("height_m", models.FloatField(blank=True, null=True)),
                        ("reflectance", models.FloatField(blank=True, null=True)),
                    ],
                    options={
                        "ordering": ["category", "name", "pk"],
                        "constraints": [
                            models.CheckConstraint(
                                condition=models.Q(
                                    ("value_minor__isnull", True),
                                    models.Q(("currency", ""), _negated=True),
                                    _connector="OR",
                                ),
                                name="kit_item_value_has_its_currency",
                            )
                        ],
                        "indexes": [],
                    },
                ),
                migrations.CreateModel(
                    name="LetterWording",
                    fields=[
                        (
                            "id",
                            models.BigAutoField(
                                auto_created=True,
                                primary_key=True,
                                serialize=False,
                                verbose_name="ID",
                            ),
                        ),
                        (
                            "kind",
                            models.CharField(
                                choices=[
                                    ("CONFIRMED", "Confirmed"),
                                    ("WEEK_BEFORE", "A week before"),
                                    ("DAY_BEFORE", "The day before"),
                                    ("THANKS", "Thank you"),
                                    ("CHOOSING", "How to choose"),
                                ],
                                max_length=12,
                                unique=True,
                            ),
                        ),
                        ("subject", models.CharField(max_length=200)),
                        ("body", models.TextField(max_length=6000)),
                        ("by_itself", models.BooleanField(default=False)),
                        ("is_off", models.BooleanField(default=False)),
                    ],
                    options={
                        "indexes": [],
                        "constraints": [],
                    },
                ),
                migrations.CreateModel(
                    name="Place",
                    fields=[
                        (
                            "id",
                            models.BigAutoField(
                                auto_created=True,
                                primary_key=True,
                                serialize=False,
                                verbose_name="ID",
                            ),
                        ),
                        ("name", models.CharField(max_length=300)),
                        ("address", models.TextField(blank=True, max_length=400)),
                        ("latitude_deg", models.FloatField()),
                        ("longitude_deg", models.FloatField()),
                        ("time_zone", models.CharField(max_length=60)),
                        (
                            "is_room",
                            models.BooleanField(
                                default=False,
                                help_text="A room or studio that only one booking can use at once.",
                                verbose_name="one session at a time",
                            ),
                        ),
                        ("meeting_point", models.CharField(blank=True, max_length=300)),
                        ("access", models.TextField(blank=True, max_length=1000)),
                        ("access_from", models.TimeField(blank=True, null=True)),
                        ("access_until", models.TimeField(blank=True, null=True)),
                        ("parking", models.TextField(blank=True, max_length=600)),
                        ("rain_plan", models.TextField(blank=True, max_length=600)),
                        ("power", models.CharField(blank=True, max_length=300)),
                        ("contact_name", models.CharField(blank=True, max_length=160)),
                        ("contact_phone", models.CharField(blank=True, max_length=40)),
                        ("notes", models.TextField(blank=True, max_length=2000)),
                    ],
                    options={
                        "ordering": ["name", "pk"],
                        "constraints": [
                            models.CheckConstraint(
                                condition=models.Q(
                                    ("latitude_deg__gte", -90),
                                    ("latitude_deg__lte", 90),
                                    ("longitude_deg__gte", -180),
                                    ("longitude_deg__lte", 180),
                                ),
                                name="place_is_on_the_earth",
                            )
                        ],
                        "indexes": [],
                    },
                ),
                migrations.CreateModel(
                    name="BusyTime",
                    fields=[
                        (
                            "id",
                            models.BigAutoField(
                                auto_created=True,
                                primary_key=True,
                                serialize=False,
                                verbose_name="ID",
                            ),
                        ),
                        (
                            "calendar",
                            models.ForeignKey(
                                on_delete=django.db.models.deletion.CASCADE,
                                related_name="times",
                                to="jobs.busycalendar",
                            ),
                        ),
                        (
                            "person",
                            models.ForeignKey(
                                on_delete=django.db.models.deletion.CASCADE,
                                related_name="busy_times",
                                to=settings.AUTH_USER_MODEL,
                            ),
                        ),
                        ("starts_at", models.DateTimeField()),
                        ("ends_at", models.DateTimeField()),
                    ],
                    options={
                        "ordering": ["starts_at", "pk"],
                        "indexes": [
                            models.Index(
                                fields=["person", "starts_at"],
                                name="jobs_busyti_person__45ebd4_idx",
                            )
                        ],
                        "constraints": [
                            models.CheckConstraint(
                                condition=models.Q(
                                    ("ends_at__gt", models.F("starts_at"))
                                ),
                                name="busy_time_ends_after_it_starts",
                            )
                        ],
                    },
                ),
                migrations.CreateModel(
                    name="ClientMerge",
                    fields=[
                        (
                            "id",
                            models.BigAutoField(
                                auto_created=True,
                                primary_key=True,
                                serialize=False,
                                verbose_name="ID",
                            ),
                        ),
                        (
                            "kept",
                            models.ForeignKey(
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="merges",
                                to="jobs.client",
                            ),
                        ),
                        (
                            "gone",
                            models.ForeignKey(
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="+",
                                to="jobs.client",
                            ),
                        ),
                        ("merged_at", models.DateTimeField()),
                        (
                            "by",
                            models.ForeignKey(
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="+",
                                to=settings.AUTH_USER_MODEL,
                            ),
                        ),
                        ("before", models.JSONField(default=dict)),
                        ("filled", models.JSONField(default=dict)),
                        ("moved", models.JSONField(default=dict)),
                        ("journal_sequence", models.BigIntegerField()),
                        ("undone_at", models.DateTimeField(blank=True, null=True)),
                    ],
                    options={
                        "ordering": ["-merged_at", "-pk"],
                        "indexes": [],
                        "constraints": [],
                    },
                ),
                migrations.CreateModel(
                    name="Contact",
                    fields=[
                        (
                            "id",
                            models.BigAutoField(
                                auto_created=True,
                                primary_key=True,
                                serialize=False,
                                verbose_name="ID",
                            ),
                        ),
                        (
                            "client",
                            models.ForeignKey(
                                on_delete=django.db.models.deletion.CASCADE,
                                related_name="contacts",
                                to="jobs.client",
                            ),
                        ),
                        ("name", models.CharField(max_length=200)),
                        ("role", models.CharField(blank=True, max_length=120)),
                        ("phone", models.CharField(blank=True, max_length=40)),
                        ("email", models.EmailField(blank=True, max_length=254)),
                    ],
                    options={
                        "ordering": ["pk"],
                        "indexes": [],
                        "constraints": [],
                    },
                ),
                migrations.CreateModel(
                    name="Job",
                    fields=[
                        (
                            "id",
                            models.BigAutoField(
                                auto_created=True,
                                primary_key=True,
                                serialize=False,
                                verbose_name="ID",
                            ),
                        ),
                        ("number", models.CharField(max_length=40, unique=True)),
                        (
                            "client",
                            models.ForeignKey(
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="jobs",
                                to="jobs.client",
                            ),
                        ),
                        ("title", models.CharField(max_length=200)),
                        (
                            "stage",
                            models.CharField(
                                choices=[
                                    ("ENQUIRY", "Enquiry"),
                                    ("QUOTED", "Quoted"),
                                    ("BOOKED", "Booked"),
                                    ("SHOT", "Shot"),
                                    ("DELIVERED", "Delivered"),
                                    ("PAID", "Closed, paid"),
                                    ("LOST", "Closed, not taken"),
                                    ("CANCELLED", "Cancelled"),
                                ],
                                default="ENQUIRY",
                                max_length=12,
                            ),
                        ),
                        ("wish", models.TextField(blank=True, max_length=4000)),
                        ("wished_on", models.DateField(blank=True, null=True)),
                        (
                            "came_in",
                            models.CharField(
                                choices=[
                                    ("PHONE", "By phone"),
                                    ("MAIL", "By e-mail"),
                                    ("POST", "By post"),
                                    ("PERSON", "In person"),
                                    ("FORM", "By the form"),
                                ],
                                default="PHONE",
                                max_length=8,
                            ),
                        ),
                        (
                            "source",
                            models.CharField(
                                blank=True,
                                choices=[
                                    ("RECOMMENDED", "Recommended"),
                                    ("AGAIN", "Came before"),
                                    ("WEB_PAGE", "The studio’s web page"),
                                    ("SEARCH", "A search on the web"),
                                    ("SOCIAL", "Social media"),
                                    ("SEEN", "Saw pictures or a sign"),
                                    ("EVENT", "A fair or other event"),
                                    ("OTHER", "Something else"),
                                ],
                                max_length=12,
                            ),
                        ),
                        ("came_by", models.CharField(blank=True, max_length=80)),
                        (
                            "owner",
                            models.ForeignKey(
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="+",
                                to=settings.AUTH_USER_MODEL,
                            ),
                        ),
                        ("enquired_at", models.DateTimeField()),
                        ("reply_by_on", models.DateField()),
                        ("answered_at", models.DateTimeField(blank=True, null=True)),
                        ("nudge_on", models.DateField(blank=True, null=True)),
                        ("pictures_by_on", models.DateField(blank=True, null=True)),
                        ("delivered_at", models.DateTimeField(blank=True, null=True)),
                        ("closed_at", models.DateTimeField(blank=True, null=True)),
                        (
                            "closed_because",
                            models.CharField(blank=True, max_length=200),
                        ),
                        (
                            "lost_reason",
                            models.CharField(
                                blank=True,
                                choices=[
                                    ("PRICE", "The price"),
                                    ("DATE", "The date was not free"),
                                    ("ELSEWHERE", "They chose somebody else"),
                                    ("PUT_OFF", "They put it off"),
                                    ("SILENT", "No answer came"),
                                    ("UNFIT", "It is not what the studio does"),
                                    ("OTHER", "Something else"),
                                ],
                                max_length=12,
                            ),
                        ),
                        (
                            "may_show_pictures",
                            models.BooleanField(blank=True, null=True),
                        ),
                    ],
                    options={
                        "ordering": ["-enquired_at", "-pk"],
                        "constraints": [
                            models.CheckConstraint(
                                condition=models.Q(
                                    (
                                        "stage__in",
                                        (
                                            "ENQUIRY",
                                            "QUOTED",
                                            "BOOKED",
                                            "SHOT",
                                            "DELIVERED",
                                        ),
                                    ),
                                    ("closed_at__isnull", False),
                                    _connector="OR",
                                ),
                                name="job_closed_has_its_time",
                            )
                        ],
                        "indexes": [],
                    },
                ),
                migrations.CreateModel(
                    name="Kit",
                    fields=[
                        (
                            "id",
                            models.BigAutoField(
                                auto_created=True,
                                primary_key=True,
                                serialize=False,
                                verbose_name="ID",
                            ),
                        ),
                        ("name", models.CharField(max_length=120, unique=True)),
                        (
                            "items",
                            models.ManyToManyField(
                                blank=True, related_name="kits", to="jobs.kititem"
                            ),
                        ),
                    ],
                    options={
                        "ordering": ["name"],
                        "indexes": [],
                        "constraints": [],
                    },
                ),
                migrations.CreateModel(
                    name="KnownWay",
                    fields=[
                        (
                            "id",
                            models.BigAutoField(
                                auto_created=True,
                                primary_key=True,
                                serialize=False,
                                verbose_name="ID",
                            ),
                        ),
                        (
                            "first",
                            models.ForeignKey(
                                on_delete=django.db.models.deletion.CASCADE,
                                related_name="+",
                                to="jobs.place",
                            ),
                        ),
                        (
                            "second",
                            models.ForeignKey(
                                on_delete=django.db.models.deletion.CASCADE,
                                related_name="+",
                                to="jobs.place",
                            ),
                        ),
                        ("minutes", models.PositiveSmallIntegerField()),
                    ],
                    options={
                        "constraints": [
                            models.UniqueConstraint(
                                fields=("first", "second"), name="way_once"
                            ),
                            models.CheckConstraint(
                                condition=models.Q(("first__lt", models.F("second"))),
                                name="way_from_the_lower_key",
                            ),
                            models.CheckConstraint(
                                condition=models.Q(("minutes__lte", 1440)),
                                name="way_within_a_day",
                            ),
                        ],
                        "indexes": [],
                    },
                ),
                migrations.CreateModel(
                    name="Sitter",
                    fields=[
                        (
                            "id",
                            models.BigAutoField(
                                auto_created=True,
                                primary_key=True,
                                serialize=False,
                                verbose_name="ID",
                            ),
                        ),
                        (
                            "client",
                            models.ForeignKey(
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="sitters",
                                to="jobs.client",
                            ),
                        ),
                        ("name", models.CharField(max_length=200)),
                        ("is_child", models.BooleanField(default=False)),
                        ("guardian_name", models.CharField(blank=True, max_length=200)),
                        ("email", models.EmailField(blank=True, max_length=254)),
                        ("phone", models.CharField(blank=True, max_length=40)),
                        ("notes", models.TextField(blank=True, max_length=1000)),
                        ("added_at", models.DateTimeField()),
                    ],
                    options={
                        "ordering": ["name", "pk"],
                        "constraints": [
                            models.CheckConstraint(
                                condition=models.Q(
                                    ("is_child", False),
                                    models.Q(("guardian_name", ""), _negated=True),
                                    _connector="OR",
                                ),
                                name="sitter_child_has_a_guardian",
                            )
                        ],
                        "indexes": [],
                    },
                ),
                migrations.CreateModel(
                    name="Booking",
                    fields=[
                        (
                            "id",
                            models.BigAutoField(
                                auto_created=True,
                                primary_key=True,
                                serialize=False,
                                verbose_name="ID",
                            ),
                        ),
                        (
                            "job",
                            models.ForeignKey(
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="bookings",
                                to="jobs.job",
                            ),
                        ),
                        (
                            "place",
                            models.ForeignKey(
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="bookings",
                                to="jobs.place",
                            ),
                        ),
                        (
                            "status",
                            models.CharField(
                                choices=[
                                    ("PROPOSED", "Proposed"),
                                    ("PENCILLED", "Pencilled"),
                                    ("CONFIRMED", "Confirmed"),
                                    ("COMPLETED", "Completed"),
                                    ("CANCELLED", "Cancelled"),
                                ],
                                default="PROPOSED",
                                max_length=10,
                            ),
                        ),
                        ("starts_at", models.DateTimeField()),
                        ("ends_at", models.DateTimeField()),
                        (
                            "setting_up_minutes",
                            models.PositiveSmallIntegerField(default=30),
                        ),
                        (
                            "packing_minutes",
                            models.PositiveSmallIntegerField(default=0),
                        ),
                        ("held_until", models.DateTimeField(blank=True, null=True)),
                        ("confirmed_at", models.DateTimeField(blank=True, null=True)),
                        (
                            "weather_decision",
                            models.CharField(blank=True, max_length=300),
                        ),
                        ("decide_by", models.DateTimeField(blank=True, null=True)),
                        (
                            "spare_of",
                            models.OneToOneField(
                                blank=True,
                                null=True,
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="spare",
                                to="jobs.booking",
                            ),
                        ),
                        ("version", models.PositiveIntegerField(default=1)),
                        (
                            "uid",
                            models.UUIDField(
                                default=uuid.uuid4, editable=False, unique=True
                            ),
                        ),
                    ],
                    options={
                        "ordering": ["starts_at", "pk"],
                        "indexes": [
                            models.Index(
                                fields=["starts_at", "ends_at"],
                                name="jobs_bookin_starts__99fba1_idx",
                            )
                        ],
                        "constraints": [
                            models.CheckConstraint(
                                condition=models.Q(
                                    ("ends_at__gt", models.F("starts_at"))
                                ),
                                name="booking_ends_after_it_starts",
                            ),
                            models.CheckConstraint(
                                condition=models.Q(("setting_up_minutes__lte", 1440)),
                                name="booking_sets_up_within_a_day",
                            ),
                            models.CheckConstraint(
                                condition=models.Q(("packing_minutes__lte", 1440)),
                                name="booking_packs_within_a_day",
                            ),
                            models.CheckConstraint(
                                condition=models.Q(
                                    models.Q(("status", "CONFIRMED"), _negated=True),
                                    ("confirmed_at__isnull", False),
                                    _connector="OR",
                                ),
                                name="booking_confirmed_has_its_time",
                            ),
                        ],
                    },
                ),
                migrations.CreateModel(
                    name="Release",
                    fields=[
                        (
                            "id",
                            models.BigAutoField(
                                auto_created=True,
                                primary_key=True,
                                serialize=False,
                                verbose_name="ID",
                            ),
                        ),
                        (
                            "sitter",
                            models.ForeignKey(
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="releases",
                                to="jobs.sitter",
                            ),
                        ),
                        ("words", models.TextField(max_length=6000)),
                        ("made_at", models.DateTimeField()),
                        (
                            "made_by",
                            models.ForeignKey(
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="+",
                                to=settings.AUTH_USER_MODEL,
                            ),
                        ),
                        (
                            "how",
                            models.CharField(
                                blank=True,
                                choices=[
                                    ("PAPER", "On paper"),
                                    ("PAGE", "On the private page"),
                                ],
                                max_length=5,
                            ),
                        ),
                        ("signed_at", models.DateTimeField(blank=True, null=True)),
                        ("signed_by", models.CharField(blank=True, max_length=200)),
                        (
                            "scan",
                            models.ForeignKey(
                                blank=True,
                                null=True,
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="+",
                                to="studio.storedfile",
                            ),
                        ),
                        (
                            "network_address",
                            models.CharField(blank=True, max_length=60),
                        ),
                        ("browser", models.CharField(blank=True, max_length=200)),
                    ],
                    options={
                        "ordering": ["-made_at", "-pk"],
                        "constraints": [
                            models.CheckConstraint(
                                condition=models.Q(
                                    ("signed_at__isnull", True),
                                    models.Q(
                                        models.Q(("how", ""), _negated=True),
                                        models.Q(("signed_by", ""), _negated=True),
                                    ),
                                    _connector="OR",
                                ),
                                name="release_signed_says_how_and_by_whom",
                            )
                        ],
                        "indexes": [],
                    },
                ),
                migrations.CreateModel(
                    name="WorkedTime",
                    fields=[
                        (
                            "id",
                            models.BigAutoField(
                                auto_created=True,
                                primary_key=True,
                                serialize=False,
                                verbose_name="ID",
                            ),
                        ),
                        (
                            "job",
                            models.ForeignKey(
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="worked_times",
                                to="jobs.job",
                            ),
                        ),
                        (
                            "stage",
                            models.CharField(
                                choices=[
                                    ("ENQUIRY", "Enquiry"),
                                    ("QUOTED", "Quoted"),
                                    ("BOOKED", "Booked"),
                                    ("SHOT", "Shot"),
                                    ("DELIVERED", "Delivered"),
                                    ("PAID", "Closed, paid"),
                                    ("LOST", "Closed, not taken"),
                                    ("CANCELLED", "Cancelled"),
                                ],
                                max_length=12,
                            ),
                        ),
                        (
                            "person",
                            models.ForeignKey(
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="worked_times",
                                to=settings.AUTH_USER_MODEL,
                            ),
                        ),
                        ("began_at", models.DateTimeField()),
                        (
                            "minutes",
                            models.PositiveSmallIntegerField(blank=True, null=True),
                        ),
                        ("words", models.CharField(blank=True, max_length=120)),
                    ],
                    options={
                        "ordering": ["-began_at", "-pk"],
                        "constraints": [
                            models.UniqueConstraint(
                                condition=models.Q(("minutes__isnull", True)),
                                fields=("person",),
                                name="one_clock_runs_a_person",
                            )
                        ],
                        "indexes": [],
                    },
                ),
                migrations.CreateModel(
                    name="AllowedUse",
                    fields=[
                        (
                            "id",
                            models.BigAutoField(
                                auto_created=True,
                                primary_key=True,
                                serialize=False,
                                verbose_name="ID",
                            ),
                        ),
                        (
                            "release",
                            models.ForeignKey(
                                on_delete=django.db.models.deletion.CASCADE,
                                related_name="uses",
                                to="jobs.release",
                            ),
                        ),
                        (
                            "use",
                            models.CharField(
                                choices=[
                                    (
                                        "PORTFOLIO",
                                        "The studio’s own pages and portfolio",
                                    ),
                                    ("SOCIAL", "The studio’s social media"),
                                    (
                                        "PRINT",
                                        "Prints on show, fairs and the studio’s walls",
                                    ),
                                    (
                                        "CLIENT",
                                        "The client’s pages, papers and advertising",
                                    ),
                                    ("PRESS", "Newspapers and magazines"),
                                    ("CONTEST", "Competitions and exhibitions"),
                                ],
                                max_length=10,
                            ),
                        ),
                        ("until_on", models.DateField(blank=True, null=True)),
                        ("withdrawn_at", models.DateTimeField(blank=True, null=True)),
                        (
                            "withdrawn_words",
                            models.CharField(blank=True, max_length=300),
                        ),
                    ],
                    options={
                        "ordering": ["pk"],
                        "constraints": [
                            models.UniqueConstraint(
                                fields=("release", "use"),
                                name="allowed_use_once_a_release",
                            )
                        ],
                        "indexes": [],
                    },
                ),
                migrations.CreateModel(
                    name="Attendee",
                    fields=[
                        (
                            "id",
                            models.BigAutoField(
                                auto_created=True,
                                primary_key=True,
                                serialize=False,
                                verbose_name="ID",
                            ),
                        ),
                        (
                            "booking",
                            models.ForeignKey(
                                on_delete=django.db.models.deletion.CASCADE,
                                related_name="attendees",
                                to="jobs.booking",
                            ),
                        ),
                        ("name", models.CharField(max_length=200)),
                        (
                            "part",
                            models.CharField(
                                choices=[
                                    ("CLIENT", "Client"),
                                    ("SITTER", "Sitter"),
                                    ("CREW", "Crew"),
                                    ("PLACE", "Place contact"),
                                ],
                                default="SITTER",
                                max_length=8,
                            ),
                        ),
                        ("role", models.CharField(blank=True, max_length=120)),
                        ("phone", models.CharField(blank=True, max_length=40)),
                        ("email", models.EmailField(blank=True, max_length=254)),
                    ],
                    options={
                        "ordering": ["pk"],
                        "indexes": [],
                        "constraints": [],
                    },
                ),
                migrations.CreateModel(
                    name="FeedEntry",
                    fields=[
                        (
                            "id",
                            models.BigAutoField(
                                auto_created=True,
                                primary_key=True,
                                serialize=False,
                                verbose_name="ID",
                            ),
                        ),
                        (
                            "person",
                            models.ForeignKey(
                                on_delete=django.db.models.deletion.CASCADE,
                                related_name="feed_entries",
                                to=settings.AUTH_USER_MODEL,
                            ),
                        ),
                        (
                            "booking",
                            models.ForeignKey(
                                on_delete=django.db.models.deletion.CASCADE,
                                related_name="feed_entries",
                                to="jobs.booking",
                            ),
                        ),
                        ("told", models.JSONField()),
                        ("sequence", models.PositiveIntegerField(default=0)),
                        ("changed_at", models.DateTimeField()),
                        ("ends_at", models.DateTimeField(db_index=True)),
                        ("cancelled_at", models.DateTimeField(blank=True, null=True)),
                    ],
                    options={
                        "constraints": [
                            models.UniqueConstraint(
                                fields=("person", "booking"),
                                name="feed_entry_once_a_session",
                            )
                        ],
                        "indexes": [],
                    },
                ),
                migrations.CreateModel(
                    name="Invitation",
                    fields=[
                        (
                            "id",
                            models.BigAutoField(
                                auto_created=True,
                                primary_key=True,
                                serialize=False,
                                verbose_name="ID",
                            ),
                        ),
                        (
                            "booking",
                            models.ForeignKey(
                                on_delete=django.db.models.deletion.CASCADE,
                                related_name="invitations",
                                to="jobs.booking",
                            ),
                        ),
                        ("address", models.EmailField(max_length=254)),
                        ("name", models.CharField(blank=True, max_length=160)),
                        ("told", models.JSONField()),
                        ("sequence", models.PositiveIntegerField(default=0)),
                        ("sent_at", models.DateTimeField()),
                        ("withdrawn_at", models.DateTimeField(blank=True, null=True)),
                    ],
                    options={
                        "ordering": ["name", "address", "pk"],
                        "constraints": [
                            models.UniqueConstraint(
                                fields=("booking", "address"),
                                name="invitation_once_an_address",
                            )
                        ],
                        "indexes": [],
                    },
                ),
                migrations.CreateModel(
                    name="KitReturn",
                    fields=[
                        (
                            "id",
                            models.BigAutoField(
                                auto_created=True,
                                primary_key=True,
                                serialize=False,
                                verbose_name="ID",
                            ),
                        ),
                        (
                            "booking",
                            models.ForeignKey(
                                on_delete=django.db.models.deletion.CASCADE,
                                related_name="kit_returns",
                                to="jobs.booking",
                            ),
                        ),
                        (
                            "item",
                            models.ForeignKey(
                                on_delete=django.db.models.deletion.CASCADE,
                                related_name="returns",
                                to="jobs.kititem",
                            ),
                        ),
                        (
                            "state",
                            models.CharField(
                                choices=[
                                    ("RETURNED", "Back"),
                                    ("MISSING", "Missing"),
                                    ("DAMAGED", "Damaged"),
                                ],
                                max_length=8,
                            ),
                        ),
                        ("note", models.CharField(blank=True, max_length=200)),
                        (
                            "ticked_by",
                            models.ForeignKey(
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="+",
                                to=settings.AUTH_USER_MODEL,
                            ),
                        ),
                        ("ticked_at", models.DateTimeField()),
                    ],
                    options={
                        "ordering": ["pk"],
                        "constraints": [
                            models.UniqueConstraint(
                                fields=("booking", "item"),
                                name="kit_return_once_a_booking",
                            )
                        ],
                        "indexes": [],
                    },
                ),
                migrations.CreateModel(
                    name="Reservation",
                    fields=[
                        (
                            "id",
                            models.BigAutoField(
                                auto_created=True,
                                primary_key=True,
                                serialize=False,
                                verbose_name="ID",
                            ),
                        ),
                        (
                            "booking",
                            models.ForeignKey(
                                blank=True,
                                null=True,
                                on_delete=django.db.models.deletion.CASCADE,
                                related_name="reservations",
                                to="jobs.booking",
                            ),
                        ),
                        (
                            "blocked",
                            models.ForeignKey(
                                blank=True,
                                null=True,
                                on_delete=django.db.models.deletion.CASCADE,
                                related_name="reservations",
                                to="jobs.blockedtime",
                            ),
                        ),
                        ("resource", models.CharField(max_length=40)),
                        (
                            "person",
                            models.ForeignKey(
                                blank=True,
                                null=True,
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="reservations",
                                to=settings.AUTH_USER_MODEL,
                            ),
                        ),
                        (
                            "kit_item",
                            models.ForeignKey(
                                blank=True,
                                null=True,
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="reservations",
                                to="jobs.kititem",
                            ),
                        ),
                        (
                            "room",
                            models.ForeignKey(
                                blank=True,
                                null=True,
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="reservations",
                                to="jobs.place",
                            ),
                        ),
                        ("starts_at", models.DateTimeField()),
                        ("ends_at", models.DateTimeField()),
                        ("holds", models.BooleanField(default=False)),
                    ],
                    options={
                        "indexes": [
                            models.Index(
                                fields=["resource", "starts_at"],
                                name="jobs_reserv_resourc_8b0182_idx",
                            )
                        ],
                        "constraints": [
                            models.UniqueConstraint(
                                fields=("booking", "resource"),
                                name="reservation_once_a_booking",
                            ),
                            models.UniqueConstraint(
                                fields=("blocked", "resource", "starts_at"),
                                name="reservation_once_a_block",
                            ),
                            models.CheckConstraint(
                                condition=models.Q(
                                    models.Q(
                                        ("blocked__isnull", True),
                                        ("booking__isnull", False),
                                    ),
                                    models.Q(
                                        ("blocked__isnull", False),
                                        ("booking__isnull", True),
                                        ("holds", True),
                                    ),
                                    _connector="OR",
                                ),
                                name="reservation_for_one_reason",
                            ),
                            models.CheckConstraint(
                                condition=models.Q(
                                    models.Q(
                                        ("blocked__isnull", False),
                                        ("kit_item__isnull", True),
                                        ("person__isnull", True),
                                        ("resource", "studio"),
                                        ("room__isnull", True),
                                    ),
                                    models.Q(
                                        ("kit_item__isnull", True),
                                        ("person__isnull", False),
                                        ("room__isnull", True),
                                    ),
                                    models.Q(
                                        ("kit_item__isnull", False),
                                        ("person__isnull", True),
                                        ("room__isnull", True),
                                    ),
                                    models.Q(
                                        ("kit_item__isnull", True),
                                        ("person__isnull", True),
                                        ("room__isnull", False),
                                    ),
                                    _connector="OR",
                                ),
                                name="reservation_of_one_thing",
                            ),
                            models.CheckConstraint(
                                condition=models.Q(
                                    ("ends_at__gt", models.F("starts_at"))
                                ),
                                name="reservation_ends_after_it_starts",
                            ),
                        ],
                    },
                ),
                migrations.CreateModel(
                    name="SentLetter",
                    fields=[
                        (
                            "id",
                            models.BigAutoField(
                                auto_created=True,
                                primary_key=True,
                                serialize=False,
                                verbose_name="ID",
                            ),
                        ),
                        (
                            "booking",
                            models.ForeignKey(
                                on_delete=django.db.models.deletion.CASCADE,
                                related_name="letters",
                                to="jobs.booking",
                            ),
                        ),
                        (
                            "kind",
                            models.CharField(
                                choices=[
                                    ("CONFIRMED", "Confirmed"),
                                    ("WEEK_BEFORE", "A week before"),
                                    ("DAY_BEFORE", "The day before"),
                                    ("THANKS", "Thank you"),
                                    ("CHOOSING", "How to choose"),
                                ],
                                max_length=12,
                            ),
                        ),
                        (
                            "message",
                            models.OneToOneField(
                                null=True,
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="+",
                                to="studio.message",
                            ),
                        ),
                        ("sent_at", models.DateTimeField()),
                        (
                            "sent_by",
                            models.ForeignKey(
                                null=True,
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="+",
                                to=settings.AUTH_USER_MODEL,
                            ),
                        ),
                    ],
                    options={
                        "ordering": ["sent_at", "pk"],
                        "constraints": [
                            models.UniqueConstraint(
                                fields=("booking", "kind"), name="letter_once_a_session"
                            )
                        ],
                        "indexes": [],
                    },
                ),
                migrations.CreateModel(
                    name="SessionAnswers",
                    fields=[
                        (
                            "booking",
                            models.OneToOneField(
                                on_delete=django.db.models.deletion.CASCADE,
                                primary_key=True,
                                related_name="answers",
                                serialize=False,
                                to="jobs.booking",
                            ),
                        ),
                        ("dog_comes", models.BooleanField(default=False)),
                        ("guardian_name", models.CharField(blank=True, max_length=200)),
                    ],
                    options={
                        "indexes": [],
                        "constraints": [],
                    },
                ),
                migrations.CreateModel(
                    name="SessionChange",
                    fields=[
                        (
                            "id",
                            models.BigAutoField(
                                auto_created=True,
                                primary_key=True,
                                serialize=False,
                                verbose_name="ID",
                            ),
                        ),
                        (
                            "booking",
                            models.ForeignKey(
                                on_delete=django.db.models.deletion.CASCADE,
                                related_name="changes",
                                to="jobs.booking",
                            ),
                        ),
                        (
                            "kind",
                            models.CharField(
                                choices=[
                                    ("MOVED", "Moved"),
                                    ("CANCELLED", "Called off"),
                                    ("TAKEN_UP", "Taken up again"),
                                ],
                                max_length=10,
                            ),
                        ),
                        ("at", models.DateTimeField()),
                        (
                            "by",
                            models.ForeignKey(
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="+",
                                to=settings.AUTH_USER_MODEL,
                            ),
                        ),
                        ("because", models.CharField(blank=True, max_length=200)),
                        ("was_starts_at", models.DateTimeField()),
                        ("was_ends_at", models.DateTimeField()),
                        (
                            "was_status",
                            models.CharField(
                                choices=[
                                    ("PROPOSED", "Proposed"),
                                    ("PENCILLED", "Pencilled"),
                                    ("CONFIRMED", "Confirmed"),
                                    ("COMPLETED", "Completed"),
                                    ("CANCELLED", "Cancelled"),
                                ],
                                max_length=10,
                            ),
                        ),
                        ("was_held_until", models.DateTimeField(blank=True, null=True)),
                    ],
                    options={
                        "ordering": ["-at", "-pk"],
                        "indexes": [],
                        "constraints": [],
                    },
                ),
                migrations.CreateModel(
                    name="GroupShot",
                    fields=[
                        (
                            "id",
                            models.BigAutoField(
                                auto_created=True,
                                primary_key=True,
                                serialize=False,
                                verbose_name="ID",
                            ),
                        ),
                        (
                            "booking",
                            models.ForeignKey(
                                on_delete=django.db.models.deletion.CASCADE,
                                related_name="group_shots",
                                to="jobs.booking",
                            ),
                        ),
                        ("position", models.PositiveSmallIntegerField()),
                        ("name", models.CharField(max_length=120)),
                        (
                            "members",
                            models.ManyToManyField(
                                blank=True,
                                related_name="group_shots",
                                to="jobs.attendee",
                            ),
                        ),
                    ],
                    options={
                        "ordering": ["position", "pk"],
                        "indexes": [],
                        "constraints": [],
                    },
                ),
                migrations.CreateModel(
                    name="Need",
                    fields=[
                        (
                            "attendee",
                            models.OneToOneField(
                                on_delete=django.db.models.deletion.CASCADE,
                                primary_key=True,
                                related_name="need",
                                serialize=False,
                                to="jobs.attendee",
                            ),
                        ),
                        ("household", models.CharField(blank=True, max_length=80)),
                        (
                            "age",
                            models.PositiveSmallIntegerField(blank=True, null=True),
                        ),
                        (
                            "age_unit",
                            models.CharField(
                                choices=[("YEARS", "years"), ("MONTHS", "months")],
                                default="YEARS",
                                max_length=6,
                            ),
                        ),
                        ("naps", models.CharField(blank=True, max_length=80)),
                        ("wears_glasses", models.BooleanField(default=False)),
                        ("uses_wheelchair", models.BooleanField(default=False)),
                        ("flash_sensitive", models.BooleanField(default=False)),
                        ("not_shown", models.BooleanField(default=False)),
                    ],
                    options={
                        "constraints": [
                            models.CheckConstraint(
                                condition=models.Q(
                                    ("age__isnull", True),
                                    ("age__lte", 120),
                                    _connector="OR",
                                ),
                                name="need_age_is_of_a_person",
                            )
                        ],
                        "indexes": [],
                    },
                ),
                migrations.CreateModel(
                    name="PictureUse",
                    fields=[
                        (
                            "id",
                            models.BigAutoField(
                                auto_created=True,
                                primary_key=True,
                                serialize=False,
                                verbose_name="ID",
                            ),
                        ),
                        (
                            "allowed",
                            models.ForeignKey(
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="pictures",
                                to="jobs.alloweduse",
                            ),
                        ),
                        ("where", models.CharField(max_length=300)),
                        ("used_on", models.DateField()),
                        (
                            "noted_by",
                            models.ForeignKey(
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="+",
                                to=settings.AUTH_USER_MODEL,
                            ),
                        ),
                        ("noted_at", models.DateTimeField()),
                        ("removed_at", models.DateTimeField(blank=True, null=True)),
                    ],
                    options={
                        "ordering": ["-used_on", "-pk"],
                        "indexes": [],
                        "constraints": [],
                    },
                ),
            ],
        ),
        InstallGuard(RESERVATION_GUARD),
    ]
