"""Make this app's tables on an empty database, in one step."""

import django.db.models.deletion
from django.conf import settings
from django.db import migrations, models

from planning.callsheets.models import KEPT_SHEET_GUARD
from studio.creating import CreateModels
from studio.guards import InstallGuard


class Migration(migrations.Migration):
    replaces = [
        ("planning", "0001_initial"),
        ("planning", "0002_guards"),
        ("planning", "0003_saved_set_ups"),
        ("planning", "0004_places_that_shape_light"),
        ("planning", "0005_flash_and_board"),
        ("planning", "0006_rooms_and_windows"),
        ("planning", "0007_weather_seen"),
        ("planning", "0008_readings_and_ticks"),
        ("planning", "0009_light_shifts"),
        ("planning", "0010_sheets_in_words_and_receivers"),
        ("planning", "0011_walls_outdoors"),
    ]

    initial = True

    dependencies = [
        ("jobs", "0001_squashed_0015_kit_worth_and_returns"),
        ("studio", "0001_squashed_0007_travel_speed"),
    ]

    operations = [
        CreateModels(
            models=[
                migrations.CreateModel(
                    name="CallSheet",
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
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="call_sheets",
                                to="jobs.booking",
                            ),
                        ),
                        ("version", models.PositiveIntegerField()),
                        ("made_at", models.DateTimeField()),
                        (
                            "made_by",
                            models.ForeignKey(
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="+",
                                to=settings.AUTH_USER_MODEL,
                            ),
                        ),
                        ("content_hash", models.CharField(max_length=64)),
                        ("content", models.JSONField(default=dict, editable=False)),
                        (
                            "sheet",
                            models.ForeignKey(
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="+",
                                to="studio.storedfile",
                            ),
                        ),
                        (
                            "session_page",
                            models.ForeignKey(
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="+",
                                to="studio.storedfile",
                            ),
                        ),
                        ("sent_at", models.DateTimeField(blank=True, null=True)),
                    ],
                    options={
                        "ordering": ["-version"],
                        "constraints": [
                            models.UniqueConstraint(
                                fields=("booking", "version"),
                                name="call_sheet_version_once",
                            )
                        ],
                        "indexes": [],
                    },
                ),
                migrations.CreateModel(
                    name="ChecklistItem",
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
                                related_name="checklist",
                                to="jobs.booking",
                            ),
                        ),
                        ("key", models.CharField(max_length=80)),
                        (
                            "section",
                            models.CharField(
                                choices=[
                                    ("CAMERA", "Cameras and lenses"),
                                    ("LIGHT", "Light"),
                                    ("GRIP", "Grip and place"),
                                    ("BEFORE", "Before the day"),
                                ],
                                max_length=8,
                            ),
                        ),
                        ("words", models.CharField(max_length=200)),
                        ("reason", models.CharField(blank=True, max_length=300)),
                        ("by_hand", models.BooleanField(default=False)),
                        (
                            "kit_item",
                            models.ForeignKey(
                                blank=True,
                                null=True,
                                on_delete=django.db.models.deletion.SET_NULL,
                                related_name="+",
                                to="jobs.kititem",
                            ),
                        ),
                        ("ticked_at", models.DateTimeField(blank=True, null=True)),
                        (
                            "ticked_by",
                            models.ForeignKey(
                                blank=True,
                                null=True,
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="+",
                                to=settings.AUTH_USER_MODEL,
                            ),
                        ),
                    ],
                    options={
                        "ordering": ["section", "pk"],
                        "constraints": [
                            models.UniqueConstraint(
                                fields=("booking", "key"),
                                name="checklist_item_once_a_booking",
                            )
                        ],
                        "indexes": [],
                    },
                ),
                migrations.CreateModel(
                    name="Room",
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
                            "place",
                            models.ForeignKey(
                                on_delete=django.db.models.deletion.CASCADE,
                                related_name="rooms",
                                to="jobs.place",
                            ),
                        ),
                        ("name", models.CharField(max_length=120)),
                        ("length_m", models.FloatField()),
                        ("width_m", models.FloatField()),
                        ("height_m", models.FloatField(default=2.4)),
                        (
                            "walls",
                            models.CharField(
                                choices=[
                                    ("white", "White, light floor"),
                                    ("normal", "Light walls, ordinary floor"),
                                    ("dark", "Dark walls or much dark furniture"),
                                ],
                                default="normal",
                                max_length=8,
                            ),
                        ),
                    ],
                    options={
                        "ordering": ["name", "pk"],
                        "constraints": [
                            models.CheckConstraint(
                                condition=models.Q(
                                    ("length_m__gt", 0),
                                    ("width_m__gt", 0),
                                    ("height_m__gt", 0),
                                ),
                                name="room_has_a_size",
                            )
                        ],
                        "indexes": [],
                    },
                ),
                migrations.CreateModel(
                    name="SavedSetUp",
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
                            "anchor",
                            models.CharField(
                                choices=[
                                    ("sunset", "Sunset"),
                                    ("start", "The start of the session"),
                                ],
                                default="start",
                                max_length=8,
                            ),
                        ),
                        ("offset_minutes", models.IntegerField(default=0)),
                        ("details", models.JSONField()),
                        ("sun_turn_deg", models.FloatField(blank=True, null=True)),
                        ("kept_from", models.CharField(blank=True, max_length=200)),
                        ("kept_at", models.DateTimeField()),
                    ],
                    options={
                        "ordering": ["name", "pk"],
                        "indexes": [],
                        "constraints": [],
                    },
                ),
                migrations.CreateModel(
                    name="SessionTick",
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
                                related_name="session_ticks",
                                to="jobs.booking",
                            ),
                        ),
                        ("key", models.CharField(max_length=40)),
                        ("is_done", models.BooleanField()),
                        ("changed_at", models.DateTimeField()),
                        (
                            "changed_by",
                            models.ForeignKey(
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="+",
                                to=settings.AUTH_USER_MODEL,
                            ),
                        ),
                    ],
                    options={
                        "constraints": [
                            models.UniqueConstraint(
                                fields=("booking", "key"),
                                name="session_tick_once_a_key",
                            )
                        ],
                        "indexes": [],
                    },
                ),
                migrations.CreateModel(
                    name="SheetReceiver",
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
                                related_name="sheet_receivers",
                                to="jobs.booking",
                            ),
                        ),
                        ("address", models.EmailField(max_length=254)),
                        ("name", models.CharField(max_length=200)),
                    ],
                    options={
                        "constraints": [
                            models.UniqueConstraint(
                                fields=("booking", "address"),
                                name="sheet_receiver_once",
                            )
                        ],
                        "indexes": [],
                    },
                ),
                migrations.CreateModel(
                    name="ShootPlan",
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
                            models.OneToOneField(
                                on_delete=django.db.models.deletion.CASCADE,
                                related_name="shoot_plan",
                                to="jobs.booking",
                            ),
                        ),
                        (
                            "sky",
                            models.CharField(
                                choices=[
                                    ("clear", "clear"),
                                    ("broken", "broken cloud"),
                                    ("overcast", "overcast"),
                                    ("dark", "dark overcast"),
                                ],
                                default="clear",
                                max_length=16,
                            ),
                        ),
                        ("notes", models.TextField(blank=True, max_length=2000)),
                        ("version", models.PositiveIntegerField(default=1)),
                    ],
                    options={
                        "indexes": [],
                        "constraints": [],
                    },
                ),
                migrations.CreateModel(
                    name="Site",
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
                            "place",
                            models.OneToOneField(
                                on_delete=django.db.models.deletion.CASCADE,
                                related_name="site",
                                to="jobs.place",
                            ),
                        ),
                        ("skyline", models.JSONField(blank=True, default=list)),
                        ("profile", models.JSONField(blank=True, default=list)),
                        ("seen", models.JSONField(blank=True, default=list)),
                        ("estimated", models.BooleanField(default=True)),
                        (
                            "ground",
                            models.CharField(
                                choices=[
                                    ("grass", "Grass, earth: 20%"),
                                    ("asphalt", "Asphalt, dark paving: 10%"),
                                    ("concrete", "Light concrete, pale stone: 35%"),
                                    ("sand", "Dry sand: 40%"),
                                    ("wet_sand", "Wet sand: 20%"),
                                    ("water", "Water, sun above 30°: 7%"),
                                    ("snow", "Fresh snow: 80%"),
                                    ("typed", "Another share, typed below"),
                                ],
                                default="grass",
                                max_length=12,
                            ),
                        ),
                        ("ground_reflectance", models.FloatField(default=0.2)),
                        ("declination_deg", models.FloatField(blank=True, null=True)),
                        ("declination_on", models.DateField(blank=True, null=True)),
                    ],
                    options={
                        "constraints": [
                            models.CheckConstraint(
                                condition=models.Q(
                                    ("ground_reflectance__gte", 0),
                                    ("ground_reflectance__lte", 1),
                                ),
                                name="site_ground_reflects_a_share",
                            ),
                            models.CheckConstraint(
                                condition=models.Q(
                                    ("declination_deg__isnull", True),
                                    models.Q(
                                        ("declination_deg__gte", -180),
                                        ("declination_deg__lte", 180),
                                    ),
                                    _connector="OR",
                                ),
                                name="site_declination_is_an_angle",
                            ),
                        ],
                        "indexes": [],
                    },
                ),
                migrations.CreateModel(
                    name="SunMark",
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
                            "place",
                            models.ForeignKey(
                                on_delete=django.db.models.deletion.CASCADE,
                                related_name="sun_marks",
                                to="jobs.place",
                            ),
                        ),
                        ("seen_at", models.DateTimeField()),
                        ("azimuth_deg", models.FloatField()),
                        ("altitude_deg", models.FloatField()),
                        (
                            "seen_by",
                            models.ForeignKey(
                                null=True,
                                on_delete=django.db.models.deletion.SET_NULL,
                                related_name="+",
                                to=settings.AUTH_USER_MODEL,
                            ),
                        ),
                        ("client_key", models.CharField(blank=True, max_length=40)),
                    ],
                    options={
                        "ordering": ["azimuth_deg", "pk"],
                        "constraints": [
                            models.UniqueConstraint(
                                condition=models.Q(("client_key", ""), _negated=True),
                                fields=("place", "client_key"),
                                name="sun_mark_once_a_key",
                            ),
                            models.CheckConstraint(
                                condition=models.Q(
                                    ("azimuth_deg__gte", 0),
                                    ("azimuth_deg__lte", 360),
                                    ("altitude_deg__gte", -1),
                                    ("altitude_deg__lte", 90),
                                ),
                                name="sun_mark_is_in_the_sky",
                            ),
                        ],
                        "indexes": [],
                    },
                ),
                migrations.CreateModel(
                    name="WeatherSeen",
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
                                related_name="weather_seen",
                                to="jobs.booking",
                            ),
                        ),
                        ("read_at", models.DateTimeField()),
                        (
                            "read_by",
                            models.ForeignKey(
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="+",
                                to=settings.AUTH_USER_MODEL,
                            ),
                        ),
                        ("read_in", models.CharField(max_length=160)),
                        ("for_at", models.DateTimeField()),
                        (
                            "cloud_oktas",
                            models.PositiveSmallIntegerField(blank=True, null=True),
                        ),
                        ("wind_ms", models.FloatField(blank=True, null=True)),
                        ("gust_ms", models.FloatField(blank=True, null=True)),
                        ("rain_mm_h", models.FloatField(blank=True, null=True)),
                        ("temperature_c", models.FloatField(blank=True, null=True)),
                        ("uv_index", models.FloatField(blank=True, null=True)),
                    ],
                    options={
                        "ordering": ["-read_at", "-pk"],
                        "constraints": [
                            models.CheckConstraint(
                                condition=models.Q(
                                    ("cloud_oktas__isnull", True),
                                    ("cloud_oktas__lte", 8),
                                    _connector="OR",
                                ),
                                name="weather_seen_cloud_in_eighths",
                            )
                        ],
                        "indexes": [],
                    },
                ),
                migrations.CreateModel(
                    name="SheetCopy",
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
                            "sheet",
                            models.ForeignKey(
                                on_delete=django.db.models.deletion.CASCADE,
                                related_name="copies",
                                to="planning.callsheet",
                            ),
                        ),
                        (
                            "receiver",
                            models.ForeignKey(
                                on_delete=django.db.models.deletion.CASCADE,
                                related_name="copies",
                                to="planning.sheetreceiver",
                            ),
                        ),
                        ("sent_at", models.DateTimeField()),
                        ("read_at", models.DateTimeField(blank=True, null=True)),
                    ],
                    options={
                        "constraints": [
                            models.UniqueConstraint(
                                fields=("sheet", "receiver"), name="sheet_copy_once"
                            )
                        ],
                        "indexes": [],
                    },
                ),
                migrations.CreateModel(
                    name="Window",
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
                            "room",
                            models.ForeignKey(
                                on_delete=django.db.models.deletion.CASCADE,
                                related_name="windows",
                                to="planning.room",
                            ),
                        ),
                        ("name", models.CharField(max_length=120)),
                        ("width_m", models.FloatField()),
                        ("height_m", models.FloatField()),
                        ("sill_m", models.FloatField(default=0.9)),
                        ("facing_deg", models.FloatField()),
                        (
                            "glazing",
                            models.CharField(
                                choices=[
                                    ("single", "Single glass"),
                                    ("double", "Double glass"),
                                    ("triple", "Triple glass"),
                                    ("dirty", "Double, dirty"),
                                ],
                                default="double",
                                max_length=8,
                            ),
                        ),
                        ("obstruction_deg", models.FloatField(default=0.0)),
                        ("has_curtain", models.BooleanField(default=False)),
                    ],
                    options={
                        "ordering": ["name", "pk"],
                        "constraints": [
                            models.CheckConstraint(
                                condition=models.Q(
                                    ("width_m__gt", 0),
                                    ("height_m__gt", 0),
                                    ("sill_m__gte", 0),
                                    ("obstruction_deg__gte", 0),
                                    ("obstruction_deg__lt", 90),
                                ),
                                name="window_has_a_size",
                            )
                        ],
                        "indexes": [],
                    },
                ),
                migrations.CreateModel(
                    name="SetUp",
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
                            "plan",
                            models.ForeignKey(
                                on_delete=django.db.models.deletion.CASCADE,
                                related_name="set_ups",
                                to="planning.shootplan",
                            ),
                        ),
                        ("position", models.PositiveSmallIntegerField()),
                        ("name", models.CharField(max_length=120)),
                        ("note", models.CharField(blank=True, max_length=400)),
                        ("starts_at", models.DateTimeField()),
                        ("minutes", models.PositiveSmallIntegerField(default=30)),
                        ("frames", models.PositiveIntegerField(default=120)),
                        (
                            "light",
                            models.CharField(
                                choices=[
                                    ("open_sky", "Open sky"),
                                    ("open_shade", "Open shade"),
                                    ("window", "Window"),
                                    ("flash", "Flash"),
                                ],
                                default="open_sky",
                                max_length=12,
                            ),
                        ),
                        ("window_share_pct", models.FloatField(default=3.0)),
                        (
                            "window",
                            models.ForeignKey(
                                blank=True,
                                null=True,
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="+",
                                to="planning.window",
                            ),
                        ),
                        ("window_distance_m", models.FloatField(default=1.5)),
                        ("window_offset_m", models.FloatField(default=0.0)),
                        (
                            "shade",
                            models.CharField(
                                choices=[
                                    ("nothing", "Nothing"),
                                    ("wall", "Wall"),
                                    ("tree", "Tree"),
                                    ("roof", "Roof"),
                                ],
                                default="nothing",
                                max_length=8,
                            ),
                        ),
                        ("shaded_from_at", models.DateTimeField(blank=True, null=True)),
                        (
                            "shaded_until_at",
                            models.DateTimeField(blank=True, null=True),
                        ),
                        ("camera_heading_deg", models.FloatField(default=0.0)),
                        ("facing_deg", models.FloatField(blank=True, null=True)),
                        ("people", models.PositiveSmallIntegerField(default=1)),
                        ("depth_m", models.FloatField(default=0.3)),
                        ("distance_m", models.FloatField(default=3.0)),
                        (
                            "movement",
                            models.CharField(
                                choices=[
                                    ("still", "Sitting still"),
                                    ("standing", "Standing"),
                                    ("gesturing", "Talking with their hands"),
                                    ("walking", "Walking"),
                                    ("running", "Running"),
                                    ("jumping", "Jumping"),
                                ],
                                default="standing",
                                max_length=12,
                            ),
                        ),
                        (
                            "camera",
                            models.ForeignKey(
                                blank=True,
                                null=True,
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="+",
                                to="jobs.kititem",
                            ),
                        ),
                        (
                            "lens",
                            models.ForeignKey(
                                blank=True,
                                null=True,
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="+",
                                to="jobs.kititem",
                            ),
                        ),
                        ("focal_length_mm", models.FloatField(default=85.0)),
                        (
                            "support",
                            models.CharField(
                                choices=[
                                    ("handheld", "Hand-held"),
                                    ("tripod", "Tripod"),
                                ],
                                default="handheld",
                                max_length=8,
                            ),
                        ),
                        ("camera_upright", models.BooleanField(default=False)),
                        (
                            "aim",
                            models.CharField(
                                choices=[
                                    ("balanced", "A balance"),
                                    ("freeze", "Freeze what moves"),
                                    ("blur", "Blur what moves"),
                                    ("thin_focus", "Thin focus"),
                                    ("all_sharp", "All sharp"),
                                    ("low_noise", "Least noise"),
                                ],
                                default="balanced",
                                max_length=12,
                            ),
                        ),
                        (
                            "flash",
                            models.ForeignKey(
                                blank=True,
                                null=True,
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="+",
                                to="jobs.kititem",
                            ),
                        ),
                        (
                            "flash_purpose",
                            models.CharField(
                                choices=[
                                    ("key", "Key light"),
                                    ("fill", "Fill"),
                                    ("rim", "Rim light"),
                                ],
                                default="key",
                                max_length=8,
                            ),
                        ),
                        (
                            "flash_mode",
                            models.CharField(
                                choices=[
                                    ("direct", "Direct"),
                                    ("bounce", "Bounced"),
                                    ("slave", "Fired by a slave"),
                                ],
                                default="direct",
                                max_length=8,
                            ),
                        ),
                        ("flash_distance_m", models.FloatField(default=2.0)),
                        ("flash_bearing_deg", models.FloatField(default=45.0)),
                        ("modifier_loss_stops", models.FloatField(default=0.0)),
                        (
                            "modifier",
                            models.ForeignKey(
                                blank=True,
                                null=True,
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="+",
                                to="jobs.kititem",
                            ),
                        ),
                        (
                            "bounce_surface",
                            models.CharField(
                                choices=[
                                    ("ceiling", "Ceiling"),
                                    ("wall", "Wall"),
                                    ("board", "Board"),
                                    ("hand", "Hand"),
                                ],
                                default="ceiling",
                                max_length=8,
                            ),
                        ),
                        ("bounce_to_m", models.FloatField(default=1.5)),
                        ("bounce_on_m", models.FloatField(default=2.0)),
                        (
                            "bounce_reflectance",
                            models.FloatField(blank=True, null=True),
                        ),
                        ("flash_from_lens_m", models.FloatField(blank=True, null=True)),
                        (
                            "metering",
                            models.CharField(
                                choices=[
                                    ("manual", "Manual power"),
                                    ("dedicated", "Dedicated, by the camera"),
                                ],
                                default="manual",
                                max_length=10,
                            ),
                        ),
                        ("key_to_fill", models.FloatField(blank=True, null=True)),
                        ("frames_a_minute", models.FloatField(blank=True, null=True)),
                        (
                            "second_flash",
                            models.ForeignKey(
                                blank=True,
                                null=True,
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="+",
                                to="jobs.kititem",
                            ),
                        ),
                        (
                            "second_purpose",
                            models.CharField(
                                choices=[("fill", "Fill"), ("rim", "Rim light")],
                                default="rim",
                                max_length=8,
                            ),
                        ),
                        ("second_distance_m", models.FloatField(default=2.5)),
                        ("second_bearing_deg", models.FloatField(default=-135.0)),
                        (
                            "second_modifier",
                            models.ForeignKey(
                                blank=True,
                                null=True,
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="+",
                                to="jobs.kititem",
                            ),
                        ),
                        (
                            "second_trigger",
                            models.CharField(
                                choices=[
                                    ("radio", "Radio"),
                                    ("cable", "Cable"),
                                    ("slave", "Optical slave"),
                                ],
                                default="radio",
                                max_length=8,
                            ),
                        ),
                        (
                            "board",
                            models.ForeignKey(
                                blank=True,
                                null=True,
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="+",
                                to="jobs.kititem",
                            ),
                        ),
                        ("board_distance_m", models.FloatField(default=1.0)),
                        ("board_bearing_deg", models.FloatField(default=-60.0)),
                        (
                            "wall_tone",
                            models.CharField(
                                blank=True,
                                choices=[
                                    ("white", "White, whitewashed"),
                                    ("light", "Light render, pale stone"),
                                    ("brick", "Brick, weathered stone"),
                                    ("dark", "Dark stone or wood, hedge"),
                                ],
                                max_length=8,
                            ),
                        ),
                        ("wall_distance_m", models.FloatField(default=2.0)),
                        ("wall_width_m", models.FloatField(default=5.0)),
                        ("wall_height_m", models.FloatField(default=3.0)),
                        ("wall_bearing_deg", models.FloatField(default=-90.0)),
                        ("wall_in_sun", models.BooleanField(default=False)),
                    ],
                    options={
                        "ordering": ["position", "pk"],
                        "constraints": [
                            models.CheckConstraint(
                                condition=models.Q(
                                    ("minutes__gte", 1),
                                    ("minutes__lte", 1440),
                                    ("people__gte", 0),
                                    ("distance_m__gt", 0),
                                    ("depth_m__gte", 0),
                                    ("focal_length_mm__gt", 0),
                                ),
                                name="set_up_lasts_and_has_people",
                            )
                        ],
                        "indexes": [],
                    },
                ),
                migrations.CreateModel(
                    name="Reading",
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
                                related_name="readings",
                                to="jobs.booking",
                            ),
                        ),
                        (
                            "set_up",
                            models.ForeignKey(
                                blank=True,
                                null=True,
                                on_delete=django.db.models.deletion.SET_NULL,
                                related_name="readings",
                                to="planning.setup",
                            ),
                        ),
                        ("read_at", models.DateTimeField()),
                        (
                            "read_by",
                            models.ForeignKey(
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="+",
                                to=settings.AUTH_USER_MODEL,
                            ),
                        ),
                        ("f_number", models.FloatField()),
                        ("shutter_s", models.FloatField()),
                        ("iso", models.FloatField()),
                        ("note", models.CharField(blank=True, max_length=200)),
                        ("exposure_value", models.FloatField()),
                        (
                            "planned_exposure_value",
                            models.FloatField(blank=True, null=True),
                        ),
                        ("planned_shift_stops", models.FloatField(default=0.0)),
                        ("sun_altitude_deg", models.FloatField()),
                        ("sky", models.CharField(max_length=40)),
                        ("client_key", models.CharField(max_length=40)),
                    ],
                    options={
                        "ordering": ["-read_at", "-pk"],
                        "constraints": [
                            models.UniqueConstraint(
                                fields=("booking", "client_key"),
                                name="reading_once_a_key",
                            ),
                            models.CheckConstraint(
                                condition=models.Q(
                                    ("f_number__gt", 0),
                                    ("shutter_s__gt", 0),
                                    ("iso__gt", 0),
                                ),
                                name="reading_settings_above_zero",
                            ),
                        ],
                        "indexes": [],
                    },
                ),
                migrations.CreateModel(
                    name="LightShift",
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
                                related_name="light_shifts",
                                to="jobs.booking",
                            ),
                        ),
                        (
                            "reading",
                            models.ForeignKey(
                                on_delete=django.db.models.deletion.CASCADE,
                                related_name="shifts",
                                to="planning.reading",
                            ),
                        ),
                        (
                            "set_up",
                            models.ForeignKey(
                                null=True,
                                on_delete=django.db.models.deletion.SET_NULL,
                                related_name="+",
                                to="planning.setup",
                            ),
                        ),
                        (
                            "kind",
                            models.CharField(
                                choices=[
                                    ("outdoors", "outdoors"),
                                    ("window", "by the window"),
                                ],
                                max_length=8,
                            ),
                        ),
                        (
                            "sky",
                            models.CharField(
                                choices=[
                                    ("clear", "clear"),
                                    ("broken", "broken cloud"),
                                    ("overcast", "overcast"),
                                    ("dark", "dark overcast"),
                                ],
                                max_length=16,
                            ),
                        ),
                        ("stops", models.FloatField()),
                        ("frame_at", models.DateTimeField()),
                        ("made_at", models.DateTimeField()),
                        (
                            "made_by",
                            models.ForeignKey(
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="+",
                                to=settings.AUTH_USER_MODEL,
                            ),
                        ),
                        ("taken_back_at", models.DateTimeField(blank=True, null=True)),
                        (
                            "taken_back_by",
                            models.ForeignKey(
                                null=True,
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="+",
                                to=settings.AUTH_USER_MODEL,
                            ),
                        ),
                    ],
                    options={
                        "ordering": ["-frame_at", "-pk"],
                        "constraints": [
                            models.UniqueConstraint(
                                condition=models.Q(("taken_back_at__isnull", True)),
                                fields=("reading",),
                                name="light_shift_once_a_frame",
                            ),
                            models.CheckConstraint(
                                condition=models.Q(
                                    models.Q(
                                        ("taken_back_at__isnull", True),
                                        ("taken_back_by__isnull", True),
                                    ),
                                    models.Q(
                                        ("taken_back_at__isnull", False),
                                        ("taken_back_by__isnull", False),
                                    ),
                                    _connector="OR",
                                ),
                                name="light_shift_taken_back_by_somebody",
                            ),
                        ],
                        "indexes": [],
                    },
                ),
            ],
        ),
        InstallGuard(KEPT_SHEET_GUARD),
    ]
